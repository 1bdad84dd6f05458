"""A quantity with the uncertainty of what goes into it: the bench's side of `limits_expression.propagate`."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from diagtree.errors import DiagtreeError, OutOfRange
from diagtree.physics.quantity import Value

if TYPE_CHECKING:
    from diagtree.knowledge.limits_compute import Values


def spread(
    what: str, compute: Callable[..., float], inputs: Mapping[str, Value], standard: Mapping[str, float]
) -> tuple[float, float]:
    """Return what a formula gives and its standard uncertainty, to first order, both in the formula's unit.

    inputs : by name, for `compute`. standard : standard uncertainty of those that are readings, in their units; they
    are taken as independent. Raises what the formula raises, OutOfRange where it gives no number.
    Source: JCGM 100:2008, 5.1.2.
    """
    value = compute(**inputs)
    moved = {name: deviation for name, deviation in standard.items() if deviation > 0}
    if not moved:
        return _number(what, value), 0.0
    # Imported where a reading moves something: the bench starts quickly where nothing does.
    from diagtree.knowledge.limits_expression import Expression, propagate
    from diagtree.knowledge.limits_nodes import Call, LimitError, Name

    def at(values: Values) -> float:
        try:
            return compute(**{name: values[name] for name in inputs})
        except (DiagtreeError, ArithmeticError, ValueError) as error:
            # At the edge of a formula's range only one side can be computed; `propagate` knows how.
            raise LimitError(str(error)) from error

    names = tuple(inputs)
    node = Call(what, tuple(Name((name,)) for name in names))
    found = Expression(what, node, names, (), at)
    try:
        return propagate(found, inputs, moved)
    except LimitError as error:
        raise OutOfRange(f"the uncertainty of `{what}` cannot be computed here: {error}") from error


def _number(what: str, value: float) -> float:
    if value != value:
        raise OutOfRange(f"`{what}` gives no number for these inputs: infinity stands against infinity")
    return float(value)
