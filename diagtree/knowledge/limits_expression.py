"""An expression: parsed once, computed many times, with the uncertainty that its readings bring along."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import field
from functools import lru_cache
from math import hypot, isfinite

from diagtree.knowledge.limits_compute import Compute, Values, compile_node
from diagtree.knowledge.limits_nodes import Call, LimitError, Name, Node, Operation, children
from diagtree.knowledge.limits_parse import parse_nodes
from diagtree.records import dataclass


@dataclass(frozen=True, slots=True)
class Expression:
    """Arithmetic from a knowledge file.

    text : as written. node : its parts. names : the dotted names it uses, in order.
    functions : the quantities it calls.
    """

    text: str
    node: Node
    names: tuple[str, ...]
    functions: tuple[str, ...]
    compute: Compute = field(repr=False, compare=False)


def expression(text: str, node: Node) -> Expression:
    """Return the expression of a part, ready to compute."""
    parts = tuple(_walk(node))
    names = dict.fromkeys(part.text for part in parts if isinstance(part, Name))
    functions = dict.fromkeys(part.function for part in parts if isinstance(part, Call))
    return Expression(text, node, tuple(names), tuple(functions), compile_node(node))


def _walk(node: Node) -> Iterable[Node]:
    yield node
    for child in children(node):
        yield from _walk(child)


@lru_cache(maxsize=4096)
def _parsed(text: str) -> Expression:
    return expression(text, parse_nodes(text))


def parse_expression(text: str | float) -> Expression:
    """Return the expression that `text` spells; a number is one too. Raises ExpressionError with column and advice."""
    return _parsed(text if isinstance(text, str) else repr(text))


def difference(expr: Expression, other: Expression) -> Expression:
    """Return `expr` - `other`, conversions kept: for the uncertainty of a number against a limit that moves too.

    Both must come out in the same unit. The result may be longer and deeper than what an author may write.
    """
    return expression(f"({expr.text}) - ({other.text})", Operation("-", expr.node, other.node))


def evaluate(expr: Expression, values: Values) -> float:
    """Return the value of `expr`; readings above the range come in, and may come out, as infinity.

    values : readings by name, `expected`, and `vehicle` with the profile's facts.
    Raises MissingName, UnknownFact, or LimitError for division by zero, a formula outside its range and OL against OL.
    """
    result = expr.compute(values)
    if result != result:
        raise LimitError(f"`{expr.text}` gives no number: readings above the range (OL) stand against each other")
    return result


def propagate(
    expr: Expression,
    values: Values,
    uncertainty: Mapping[str, float],
    expected: Expression | None = None,
) -> tuple[float, float]:
    """Return the value of `expr` and its standard uncertainty, both in the unit of `expr`.

    uncertainty : standard uncertainty of the readings that have one, in their own units; the readings are taken as
                  independent of each other.
    expected : what `expected` stands for; computed anew for every reading that is moved, so that the ratio of a
               measured resistance to the one expected at a measured temperature carries both meters' errors.

    First order: the root of the sum of squares of slope * u, the slope by central differences over a small part of u
    (one-sided at the edge of a formula's range). A reading above the range moves nothing.
    Source: JCGM 100:2008, 5.1.2. Raises what `evaluate` raises.
    """
    value = _with_expected(expr, values, expected)
    used = {*expr.names, *(expected.names if expected is not None else ())}
    if not isfinite(value):
        return value, 0.0
    parts = [
        _slope(expr, values, expected, name, deviation, value) * deviation
        for name, deviation in uncertainty.items()
        if name in used and deviation > 0
    ]
    return value, hypot(*parts)


def _with_expected(expr: Expression, values: Values, expected: Expression | None) -> float:
    if expected is None:
        return evaluate(expr, values)
    return evaluate(expr, {**values, "expected": evaluate(expected, values)})


def _slope(
    expr: Expression, values: Values, expected: Expression | None, name: str, deviation: float, middle: float
) -> float:
    """Return the slope of `expr` over one reading."""
    centre = values[name]
    if not isinstance(centre, int | float) or not isfinite(centre):
        return 0.0
    step = max(deviation / 100, abs(centre) * 1e-6, 1e-300)
    ends: list[tuple[float, float]] = []
    for moved in (centre - step, centre + step):
        try:
            height = _with_expected(expr, {**values, name: moved}, expected)
        except LimitError:
            continue
        if isfinite(height):
            ends.append((moved, height))
    if not ends:
        raise LimitError(f"`{expr.text}` cannot be computed on either side of `{name}` = {centre}")
    (low, below), (high, above) = ends if len(ends) == 2 else (ends[0], (centre, middle))
    return (above - below) / (high - low)
