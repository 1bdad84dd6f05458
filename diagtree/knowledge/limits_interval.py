"""The range of an expression over ranges of its readings: for finding outcomes that cannot happen.

Arithmetic is bounded exactly; a name that is used twice is taken as two, so the range may be wider than the truth but
never narrower. A published quantity is computed on a grid over its inputs (cut to the range in which it holds): where
its values rise or fall throughout, their ends are the range; where they turn, the largest step is added on both sides.
Source: interval arithmetic as in IEEE Std 1788-2015, without outward rounding (IEEE 754 operations are monotone).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import pairwise, product
from math import inf, isfinite, isnan
from typing import TypeAlias

from diagtree.knowledge.limits_compute import Compute, Values, compile_node, rounded
from diagtree.knowledge.limits_expression import Expression
from diagtree.knowledge.limits_nodes import (
    Builtin,
    Call,
    LimitError,
    MissingName,
    Name,
    Negative,
    Node,
    Number,
    Operation,
    Scaled,
    UnknownFact,
    Word,
)
from diagtree.physics.quantity import Facts, Input, quantity

Interval: TypeAlias = tuple[float, float]
"""Lowest and highest value; either may be infinite."""

Ranges: TypeAlias = Mapping[str, Interval | float | Facts]
"""Range of each reading and of `expected` (a number where it is fixed), and `vehicle` with the profile's facts."""

EVERYTHING: Interval = (-inf, inf)

_GRID = {1: 65, 2: 13, 3: 7, 4: 5}
"""Points along each input by the number of inputs that have a range: a few thousand computations at most."""


def interval(expr: Expression, ranges: Ranges, expected: Expression | None = None) -> Interval:
    """Return the lowest and highest value that `expr` can have over `ranges`, in its own unit.

    expected : what `expected` stands for, where it is not in `ranges`.
    Raises MissingName and UnknownFact as `evaluate` does, and LimitError where a formula holds nowhere in the ranges.
    """
    if expected is not None and "expected" in expr.names:
        ranges = {**ranges, "expected": interval(expected, ranges)}
    return _bound(expr.node, ranges)


def _bound(node: Node, ranges: Ranges) -> Interval:
    match node:
        case Number(value=value):
            return value, value
        case Name():
            return _of_name(node, ranges)
        case Negative(operand=operand):
            low, high = _bound(operand, ranges)
            return -high, -low
        case Scaled(operand=operand, factor=factor):
            return _hull(_times(end, factor) for end in _bound(operand, ranges))
        case Operation(symbol=symbol, left=left, right=right):
            return _operation(symbol, _bound(left, ranges), _bound(right, ranges))
        case Builtin():
            return _builtin(node, ranges)
        case Call():
            return _call(node, ranges)
        case Word(text=text):
            raise LimitError(f"the word `{text}` is not a number")


def _of_name(node: Name, ranges: Ranges) -> Interval:
    found = ranges.get(node.path[0])
    if isinstance(found, tuple):
        low, high = found
        if not low <= high:
            raise LimitError(f"the range of `{node.text}` is empty: {low} to {high}")
        return float(low), float(high)
    value = compile_node(node)(_points(ranges))
    return value, value


def _points(ranges: Ranges) -> Values:
    return {name: found for name, found in ranges.items() if not isinstance(found, tuple)}


def _times(one: float, two: float) -> float:
    # At the ends of a range, 0 * infinity stands for 0 * a number as large as you like.
    return 0.0 if one == 0 or two == 0 else one * two


def _hull(values: Iterable[float]) -> Interval:
    found = list(values)
    return (-inf, inf) if any(isnan(value) for value in found) else (min(found), max(found))


def _operation(symbol: str, left: Interval, right: Interval) -> Interval:
    if symbol == "-":
        right = -right[1], -right[0]
    if symbol in "+-":
        low, high = left[0] + right[0], left[1] + right[1]
        return -inf if isnan(low) else low, inf if isnan(high) else high
    if symbol == "*":
        return _hull(_times(one, two) for one in left for two in right)
    if right[0] <= 0 <= right[1]:
        if right == (0, 0):
            raise LimitError("division by zero: what is divided by is always 0")
        if right[0] < 0 < right[1]:
            return EVERYTHING
        # Division by 0 itself gives no number; near it the quotient grows without end on one side.
        end, side = (right[1], inf) if right[0] == 0 else (right[0], -inf)
        return _hull(value for one in left for value in (*_quotients(one, end), 0.0 if one == 0 else one * side))
    # A range that ends at infinity over one that does: the quotient is anything from 0 on.
    return _hull(value for one in left for two in right for value in _quotients(one, two))


def _quotients(one: float, two: float) -> tuple[float, ...]:
    if isfinite(one) or isfinite(two):
        return (one / two,)
    return (0.0, inf if (one > 0) == (two > 0) else -inf)


def _builtin(node: Builtin, ranges: Ranges) -> Interval:
    bounds = [_bound(argument, ranges) for argument in node.arguments]
    low, high = bounds[0]
    match node.function:
        case "abs":
            return (0.0 if low <= 0 <= high else min(abs(low), abs(high))), max(abs(low), abs(high))
        case "round":
            digits = int(bounds[1][0]) if len(bounds) == 2 else 0
            return rounded(low, digits), rounded(high, digits)
        case "min":
            return min(bound[0] for bound in bounds), min(bound[1] for bound in bounds)
        case _:
            return max(bound[0] for bound in bounds), max(bound[1] for bound in bounds)


def _call(node: Call, ranges: Ranges) -> Interval:
    """Return the range of a quantity, from a grid over those of its inputs that have a range."""
    arguments: list[Node] = []
    bounds: dict[str, Interval] = {}
    for wanted, argument in zip(quantity(node.function).inputs, node.arguments, strict=True):
        if isinstance(argument, Word) or wanted.unit in ("facts", "word"):
            arguments.append(argument)
            continue
        low, high = _cut(wanted, _bound(argument, ranges))
        name = f"#{wanted.name}"  # no name in an expression begins like this
        arguments.append(Number(low) if low == high else Name((name,)))
        if low != high:
            bounds[name] = (low, high)
    if len(bounds) > max(_GRID) or any(not isfinite(end) for bound in bounds.values() for end in bound):
        return EVERYTHING
    compute = compile_node(Call(node.function, tuple(arguments), node.column))
    if not bounds:
        value = compute(_points(ranges))
        return value, value
    return _range_of(list(_lines(compute, _points(ranges), bounds)), node.function)


def _cut(wanted: Input, bound: Interval) -> Interval:
    """Return the part of a range in which an input's formula holds; a single number is left to the formula itself."""
    low, high = bound
    if low == high:
        return bound
    low = low if wanted.low is None else max(low, wanted.low)
    high = high if wanted.high is None else min(high, wanted.high)
    if low > high:
        raise LimitError(f"`{wanted.name}` is outside {wanted.low} to {wanted.high} {wanted.unit} throughout its range")
    return low, high


def _lines(compute: Compute, points: Values, bounds: Mapping[str, Interval]) -> Iterator[list[float | None]]:
    """Yield the values along every line of the grid, in the direction of every input; None where there is no value."""
    count = _GRID[len(bounds)]
    axes = {name: _axis(bound, count) for name, bound in bounds.items()}
    values = {
        place: _value(compute, {**points, **dict(zip(axes, place, strict=True))}) for place in product(*axes.values())
    }
    for turn, axis in enumerate(axes.values()):
        others = [other for index, other in enumerate(axes.values()) if index != turn]
        for rest in product(*others):
            yield [values[(*rest[:turn], step, *rest[turn:])] for step in axis]


def _axis(bound: Interval, count: int) -> list[float]:
    low, high = bound
    return [low, *(low + (high - low) * index / (count - 1) for index in range(1, count - 1)), high]


def _value(compute: Compute, values: Values) -> float | None:
    try:
        value = compute(values)
    except (UnknownFact, MissingName):
        raise
    except LimitError:
        return None
    return None if isnan(value) else value


def _range_of(lines: list[list[float | None]], function: str) -> Interval:
    """Return the range of the values on a grid: widened by the largest step where they turn or break off."""
    known = [[value for value in line if value is not None] for line in lines]
    values = [value for line in known for value in line]
    if not values:
        raise LimitError(f"`{function}` holds nowhere in these ranges of its inputs")
    steps = [[after - before for before, after in pairwise(line) if isfinite(after - before)] for line in known]
    turns = any(min(line, default=0.0) < 0 < max(line, default=0.0) for line in steps)
    breaks = any(None in line for line in lines)
    largest = max((abs(step) for line in steps for step in line), default=0.0)
    # Towards where it breaks off a curve may be steeper than in any step that is known.
    spare = 2.0 * largest if breaks else largest if turns else 0.0
    return min(values) - spare, max(values) + spare
