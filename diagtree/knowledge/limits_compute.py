"""Parts of an expression to a function that computes it; made once, called often."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from math import isfinite
from typing import TypeAlias, TypeGuard

from diagtree.errors import DiagtreeError, OutOfRange
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
from diagtree.physics.nearest import did_you_mean
from diagtree.physics.quantity import Facts, Value, quantity

Values: TypeAlias = Mapping[str, Value]
"""Readings by name, `expected`, and `vehicle` with the facts of the profile."""

Compute: TypeAlias = Callable[[Values], float]
_Argument: TypeAlias = Callable[[Values], Value]

UNKNOWN = "unknown"


class FactsInUse(Mapping[str, "Facts | float | str"]):
    """A part of a vehicle profile as a formula sees it: an `unknown` fact tells its dotted name when it is used."""

    __slots__ = ("_facts", "_path")

    def __init__(self, facts: Facts, path: str) -> None:
        self._facts = facts
        self._path = path

    def __getitem__(self, key: str) -> Facts | float | str:
        found = self._facts.get(key)
        if found is None:
            near = did_you_mean(str(key), self._facts)
            raise MissingName(f"{self._path}.{key}", f"`{self._path}` has no `{key}`{near}")
        if isinstance(found, str) and found == UNKNOWN:
            raise UnknownFact(f"{self._path}.{key}")
        return FactsInUse(found, f"{self._path}.{key}") if isinstance(found, Mapping) else found

    def __contains__(self, key: object) -> bool:
        return key in self._facts

    def __iter__(self) -> Iterator[str]:
        return iter(self._facts)

    def __len__(self) -> int:
        return len(self._facts)


def look_up(path: tuple[str, ...], values: Values) -> Value:
    """Return the value of a name. Raises MissingName where there is none, UnknownFact where the maker's value is."""
    name = path[0]
    found: Value | None = values.get(name)
    if found is None:
        if name == "vehicle":
            raise MissingName(".".join(path), f"`{'.'.join(path)}` needs a vehicle, and none is known here")
        raise MissingName(name, f"there is no reading `{name}` here{did_you_mean(name, values)}")
    for depth, key in enumerate(path[1:], start=1):
        if not _is_part(found) or key not in found:
            raise _missing(path, depth, found)
        found = found[key]
        if found == UNKNOWN:
            raise UnknownFact(".".join(path[: depth + 1]))
    return FactsInUse(found, ".".join(path)) if _is_part(found) and _holds_unknown(found) else found


def _quick(path: tuple[str, ...]) -> _Argument:
    """Return the function that looks a name up: at once where the facts are plain, by `look_up` for all else."""

    def quick(values: Values) -> Value:
        found: object = values
        for key in path:
            if type(found) is not dict:
                return look_up(path, values)
            found = found.get(key)
        if type(found) is float:
            return found
        if type(found) is dict:
            for part in found.values():
                kind = type(part)
                if kind is not float and (kind is not str or part == UNKNOWN):
                    return look_up(path, values)
            return found
        return look_up(path, values)

    return quick


def _is_part(found: Value) -> TypeGuard[Facts]:
    # The plain dictionary first: a limit is computed often, and asking for any mapping is slow.
    return type(found) is dict or isinstance(found, Mapping)


def _missing(path: tuple[str, ...], depth: int, found: Value) -> MissingName:
    before, key = ".".join(path[:depth]), path[depth]
    why = did_you_mean(key, found) if _is_part(found) else f": it is {found}"
    return MissingName(".".join(path), f"`{before}` has no `{key}`{why}")


def _holds_unknown(facts: Facts) -> bool:
    """Return whether a maker's value is missing in a part of the profile. Where none is, formulas get the part."""
    for found in facts.values():
        kind = type(found)
        if kind is float or kind is int:
            continue
        if found == UNKNOWN or (_is_part(found) and _holds_unknown(found)):
            return True
    return False


def compile_node(node: Node) -> Compute:
    """Return the function that computes a part from the values. It raises LimitError and its children only."""
    match node:
        case Number(value=value):
            return lambda _: value
        case Name():
            return _name(node)
        case Negative(operand=operand):
            inner = compile_node(operand)
            return lambda values: -inner(values)
        case Scaled(operand=operand, factor=factor):
            unscaled = compile_node(operand)
            return lambda values: unscaled(values) * factor
        case Operation(symbol=symbol, left=left, right=right):
            return _operation(symbol, compile_node(left), compile_node(right))
        case Builtin():
            return _builtin(node)
        case Call():
            return _call(node)
        case Word(text=text):
            raise LimitError(f"the word `{text}` is not a number")


def _name(node: Name) -> Compute:
    path, text, plain = node.path, node.text, node.path[0] if len(node.path) == 1 else None

    def name(values: Values) -> float:
        found = values.get(plain) if plain is not None else look_up(path, values)
        if type(found) is float:
            return found
        if found is None:
            found = look_up(path, values)
        if isinstance(found, bool) or not isinstance(found, int | float):
            kind = "a part of the profile" if isinstance(found, Mapping) else f"the word `{found}`"
            raise LimitError(f"`{text}` is {kind}, not a number")
        return float(found)

    return name


def _operation(symbol: str, left: Compute, right: Compute) -> Compute:
    if symbol == "+":
        return lambda values: left(values) + right(values)
    if symbol == "-":
        return lambda values: left(values) - right(values)
    if symbol == "*":
        return lambda values: left(values) * right(values)

    def divide(values: Values) -> float:
        divisor = right(values)
        if divisor == 0:
            raise LimitError("division by zero: a reading or a fact that is divided by is 0")
        return left(values) / divisor

    return divide


def _builtin(node: Builtin) -> Compute:
    arguments = [compile_node(argument) for argument in node.arguments]
    first = arguments[0]
    if node.function == "abs":
        return lambda values: abs(first(values))
    if node.function == "round":
        last = node.arguments[-1]
        digits = int(last.value) if len(arguments) == 2 and isinstance(last, Number) else 0
        return lambda values: rounded(first(values), digits)
    choose: Callable[[list[float]], float] = min if node.function == "min" else max

    def chosen(values: Values) -> float:
        numbers = [argument(values) for argument in arguments]
        # min and max would pass NaN over, or not, depending on the order.
        return next((number for number in numbers if number != number), choose(numbers))

    return chosen


def rounded(number: float, digits: int) -> float:
    """Return `number` rounded half to even; infinity and NaN stay what they are."""
    return float(round(number, digits)) if isfinite(number) else number


def _call(node: Call) -> Compute:
    compute = quantity(node.function).compute
    name, arguments = node.function, [_argument(argument) for argument in node.arguments]
    run: Callable[[Values], float]
    if len(arguments) == 2:
        # What the limits of a walk call: spelled out, because building a list costs as much as the formula.
        first, second = arguments
        run = lambda values: compute(first(values), second(values))  # noqa: E731
    else:
        run = lambda values: compute(*[argument(values) for argument in arguments])  # noqa: E731

    def call(values: Values) -> float:
        try:
            return float(run(values))
        except LimitError:
            raise
        except OutOfRange as error:
            raise LimitError(f"`{name}`: {error}") from error
        except (DiagtreeError, ArithmeticError, ValueError, TypeError, LookupError) as error:
            raise LimitError(f"`{name}` cannot be computed from these inputs: {error}") from error

    return call


def _argument(node: Node) -> _Argument:
    if isinstance(node, Word):
        word = node.text
        return lambda _: word
    if isinstance(node, Name):
        return _quick(node.path)
    return compile_node(node)
