"""Units of arithmetic: kilo-ohms against ohms convert, volts against ohms are an error with its column.

A written number takes the unit of what it stands beside. A fact of the vehicle that bears one of the names in
`physics/fact_units.py` has the unit given there; any other has no unit of its own and is taken as right. Numbers stay
in the units in which they are read: a limit written for a reading in kohm is in kohm. Where two units of one dimension
meet (sum, ratio, min, max, an input of a formula) the second is brought to the first; a factor written beside them that
does the same once more (`power * 1000` against watts) is an error.

Temperatures: degC less degC is a difference in K; degC and K add to degC; else degC against K is an error, because
nothing tells whether a temperature or a difference is meant. Percent times or over a written number (`/ 100`) is a
plain number; percent against a plain number is an error.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from enum import Enum
from math import isclose, isfinite

from diagtree.errors import WrongUse
from diagtree.knowledge.limits_expression import Expression, expression
from diagtree.knowledge.limits_nodes import (
    Builtin,
    Call,
    ExpressionError,
    Name,
    Negative,
    Node,
    Number,
    Operation,
    Scaled,
    UnitMismatch,
    Word,
)
from diagtree.physics.fact_units import FACT_UNITS
from diagtree.physics.nearest import did_you_mean
from diagtree.physics.quantity import quantity
from diagtree.physics.units import NUMBER, PERCENT, PLAIN, Unit, unit
from diagtree.records import dataclass


class Loose(Enum):
    """A number without a unit of its own."""

    WRITTEN = "a number as written"  # plain in products, of its neighbour's unit in sums
    FACT = "a fact of the vehicle"  # nothing is known about its unit


@dataclass(frozen=True, slots=True)
class Measured:
    """A part and the unit it comes out in."""

    node: Node
    unit: Unit | Loose
    hand: float = 1.0  # what the author multiplied it by: a conversion by hand, perhaps


def with_units(
    expr: Expression, units: Mapping[str, Unit | str | None], wanted: Unit | None = None
) -> tuple[Expression, Unit | None]:
    """Return `expr` with its conversions built in, and the unit of its result; None where that is open.

    units : unit of each reading and of `expected`; None where it is open. Readings come in their own unit.
    wanted : unit in which the result is needed, such as that of the judged number for a limit.

    Raises UnitMismatch, with the column, for units that cannot meet, and ExpressionError for a name not in `units`.
    """
    result = _infer(expr.node, units)
    if wanted is not None and isinstance(result.unit, Unit):
        result = Measured(_convert(result, wanted, expr.node.column, f"`{expr.text.strip()}`"), wanted)
    converted = expr if result.node == expr.node else expression(expr.text, result.node)
    return converted, result.unit if isinstance(result.unit, Unit) else None


def dimension(expr: Expression, units: Mapping[str, Unit | str | None]) -> Unit | None:
    """Return the unit of the result of `expr`, None where it is open. Raises what `with_units` raises."""
    return with_units(expr, units)[1]


def _infer(node: Node, units: Mapping[str, Unit | str | None]) -> Measured:
    match node:
        case Number():
            return Measured(node, Loose.WRITTEN)
        case Word():
            return Measured(node, Loose.FACT)
        case Name():
            return Measured(node, _unit_of(node, units))
        case Negative(operand=operand):
            inner = _infer(operand, units)
            return Measured(Negative(inner.node, node.column), inner.unit, inner.hand)
        case Scaled(operand=operand, factor=factor):
            inner = _infer(operand, units)
            return Measured(Scaled(inner.node, factor, node.column), inner.unit)
        case Operation(symbol=symbol, left=left, right=right):
            return _OPERATIONS[symbol](node, _infer(left, units), _infer(right, units))
        case Builtin():
            return _builtin(node, [_infer(argument, units) for argument in node.arguments])
        case Call():
            return _call(node, [_infer(argument, units) for argument in node.arguments])


def _unit_of(node: Name, units: Mapping[str, Unit | str | None]) -> Unit | Loose:
    if node.path[0] == "vehicle":
        stated = FACT_UNITS.get(".".join(node.path[1:]))
        return Loose.FACT if stated is None else unit(stated)
    if node.text not in units:
        near = did_you_mean(node.text, units).removeprefix("; ")
        known = ", ".join(f"`{name}`" for name in units) or "none"
        raise ExpressionError(f"there is no reading `{node.text}` here", node.column, near or f"the readings: {known}")
    found = units[node.text]
    if found is None:
        return Loose.FACT
    try:
        return unit(found) if isinstance(found, str) else found
    except WrongUse as error:
        raise ExpressionError(f"`{node.text}`: {error}", node.column) from error


def _convert(part: Measured, to: Unit, column: int, what: str) -> Node:
    """Return the part in the unit `to`. Raises UnitMismatch where it cannot be."""
    if not isinstance(part.unit, Unit):
        return part.node
    if part.unit.dimension != to.dimension:
        percent = {part.unit.dimension, to.dimension} == {PERCENT, PLAIN}
        advice = "divide the percentage by 100" if percent else "compare like with like"
        raise UnitMismatch(f"{what} is in {_shown(part.unit)}, against {_shown(to)}", column, advice)
    if part.unit.offset != to.offset:
        advice = "subtract two temperatures for a difference, and read temperatures in degC"
        raise UnitMismatch(f"{what} is in {part.unit}, against {to}", column, advice)
    factor = float(part.unit.factor / to.factor)
    _refuse_twice(part.hand, factor, column)
    return part.node if factor == 1 else Scaled(part.node, factor, part.node.column)


def _refuse_twice(hand: float, factor: float, column: int) -> None:
    if factor != 1 and isclose(hand, factor):
        message = f"units convert by themselves here, and the factor {hand:.9g} does it a second time"
        raise UnitMismatch(message, column, "leave the factor out")


def _shown(found: Unit) -> str:
    return f"{found} ({found.dimension})" if found.name else str(found)


def _loose(*parts: Measured) -> Loose:
    return Loose.FACT if any(part.unit is Loose.FACT for part in parts) else Loose.WRITTEN


def _sum(node: Operation, left: Measured, right: Measured) -> Measured:
    result, converted = _alike(node.symbol, left, right)
    return Measured(Operation(node.symbol, left.node, converted, node.column), result)


def _alike(symbol: str, left: Measured, right: Measured) -> tuple[Unit | Loose, Node]:
    """Return the unit of a sum or a choice of two parts, and the second part brought to the unit of the first."""
    if not isinstance(left.unit, Unit) or not isinstance(right.unit, Unit):
        units = [part.unit for part in (left, right) if isinstance(part.unit, Unit)]
        return (units[0] if units else _loose(left, right)), right.node
    celsius, kelvin = unit("degC"), unit("K")
    match symbol, left.unit.name, right.unit.name:
        case "-", "degC", "degC":
            return kelvin, right.node
        case ("+", "degC", "K") | ("-", "degC", "K") | ("+", "K", "degC"):
            return celsius, right.node
        case _:
            back = Measured(right.node, right.unit, right.hand / left.hand)
            return left.unit, _convert(back, left.unit, right.node.column, f"the right side of `{symbol}`")


def _product(node: Operation, left: Measured, right: Measured) -> Measured:
    return _joined(node, left, right, lambda one, two: one * two)


def _ratio(node: Operation, left: Measured, right: Measured) -> Measured:
    if isinstance(left.unit, Unit) and isinstance(right.unit, Unit) and left.unit.offset != right.unit.offset:
        _convert(right, left.unit, right.node.column, "the right side of `/`")
    return _joined(node, left, right, lambda one, two: one / two)


def _joined(node: Operation, left: Measured, right: Measured, combine: Callable[[Unit, Unit], Unit]) -> Measured:
    """Return the product or ratio of two parts. Where all dimensions cancel, it is brought to a plain number."""
    joined: Node = Operation(node.symbol, left.node, right.node, node.column)
    if not isinstance(left.unit, Unit) or not isinstance(right.unit, Unit):
        units = [part.unit for part in (left, right) if isinstance(part.unit, Unit)]
        if not units or _loose(left, right) is Loose.FACT:
            return Measured(joined, _loose(left, right))
        inverse = node.symbol == "/" and isinstance(right.unit, Unit)
        return Measured(joined, _without_percent(NUMBER / units[0] if inverse else units[0]), _hand(node, left, right))
    result = combine(left.unit, right.unit)
    if result.dimension == PLAIN:
        factor = float(result.factor)
        _refuse_twice(left.hand / right.hand if node.symbol == "/" else left.hand * right.hand, factor, node.column)
        return Measured(joined if factor == 1 else Scaled(joined, factor, node.column), NUMBER)
    return Measured(joined, result)


def _hand(node: Operation, left: Measured, right: Measured) -> float:
    """Return the factor by which a part has been multiplied, all in all, with written numbers."""
    numbers = [part.node.value if isinstance(part.node, Number) else part.hand for part in (left, right)]
    if 0 in numbers:
        return 1.0
    factor = numbers[0] / numbers[1] if node.symbol == "/" else numbers[0] * numbers[1]
    return factor if factor and isfinite(factor) else 1.0


def _without_percent(found: Unit) -> Unit | Loose:
    """Return the unit of a part that was multiplied or divided by a written number: its percent is used up."""
    if not found.dimension.exponents[-1]:
        return found
    rest = found.dimension.without_percent()
    if rest == PLAIN:
        return Loose.WRITTEN
    return Unit(found.name.replace("*percent", "").replace("percent*", ""), rest, found.factor)


def _builtin(node: Builtin, parts: list[Measured]) -> Measured:
    first = next((part.unit for part in parts if isinstance(part.unit, Unit)), None)
    if first is None or node.function in ("abs", "round"):
        nodes = tuple(part.node for part in parts)
        return Measured(Builtin(node.function, nodes, node.column), parts[0].unit if first else _loose(*parts))
    what = f"one of the numbers of `{node.function}`"
    nodes = tuple(_convert(part, first, part.node.column, what) for part in parts)
    return Measured(Builtin(node.function, nodes, node.column), first)


def _call(node: Call, parts: list[Measured]) -> Measured:
    found = quantity(node.function)
    nodes = [
        part.node
        if wanted.unit in ("facts", "word")
        else _convert(part, unit(wanted.unit), part.node.column, f"`{wanted.name}` of `{node.function}`")
        for wanted, part in zip(found.inputs, parts, strict=True)
    ]
    return Measured(Call(node.function, tuple(nodes), node.column), unit(found.unit))


_OPERATIONS: Mapping[str, Callable[[Operation, Measured, Measured], Measured]] = {
    "+": _sum, "-": _sum, "*": _product, "/": _ratio,
}  # fmt: skip
