"""The parts of an arithmetic expression, and what can be wrong with one.

LimitError
├── ExpressionError     the text is not arithmetic as allowed here; carries the column
│   └── UnitMismatch    volts against ohms
├── MissingName         a name that has no value
└── UnknownFact         the vehicle profile says `unknown`: ask for the maker's value
"""

from __future__ import annotations

from typing import TypeAlias

from diagtree.errors import DiagtreeError
from diagtree.records import dataclass


class LimitError(DiagtreeError):
    """Arithmetic in knowledge that gives no number: division by zero, a formula outside its range, a missing name."""


class ExpressionError(LimitError):
    """Text that is not arithmetic as allowed here. `column` counts characters from 0; `advice` says what to write."""

    def __init__(self, message: str, column: int, advice: str = "") -> None:
        super().__init__(f"{message}; {advice}" if advice else message)
        self.column = column
        self.advice = advice


class UnitMismatch(ExpressionError):
    """Two units that cannot be set against each other."""


class MissingName(LimitError, KeyError):
    """A name without a value. It is a KeyError too, so that a formula may ask a profile for a fact with a default."""

    def __init__(self, name: str, message: str) -> None:
        super().__init__(message)
        self.name = name

    def __str__(self) -> str:
        return str(self.args[0])


class UnknownFact(LimitError):
    """A fact for which the vehicle profile says `unknown`. `path` is its dotted name (`vehicle.inlet.dc_sensor`)."""

    def __init__(self, path: str) -> None:
        super().__init__(f"`{path}` is unknown in the vehicle profile: ask for the maker's value")
        self.path = path


@dataclass(frozen=True, slots=True)
class Number:
    """A number as written."""

    value: float
    column: int = 0


@dataclass(frozen=True, slots=True)
class Name:
    """A reading, `expected`, or a fact of the vehicle (`vehicle.inlet.ac_sensor`)."""

    path: tuple[str, ...]
    column: int = 0

    @property
    def text(self) -> str:
        """The name as written."""
        return ".".join(self.path)


@dataclass(frozen=True, slots=True)
class Word:
    """A word that a function knows, such as the name of a pilot state."""

    text: str
    column: int = 0


@dataclass(frozen=True, slots=True)
class Negative:
    """The negative of a number."""

    operand: Node
    column: int = 0


@dataclass(frozen=True, slots=True)
class Operation:
    """Two numbers joined by one of + - * /."""

    symbol: str
    left: Node
    right: Node
    column: int = 0


@dataclass(frozen=True, slots=True)
class Builtin:
    """One of abs, min, max, round."""

    function: str
    arguments: tuple[Node, ...]
    column: int = 0


@dataclass(frozen=True, slots=True)
class Call:
    """A published quantity; one argument for each of its inputs, defaults filled in."""

    function: str
    arguments: tuple[Node, ...]
    column: int = 0


@dataclass(frozen=True, slots=True)
class Scaled:
    """A number brought to another unit of the same dimension; only unit checking makes these."""

    operand: Node
    factor: float
    column: int = 0


Node: TypeAlias = Number | Name | Word | Negative | Operation | Builtin | Call | Scaled


def children(node: Node) -> tuple[Node, ...]:
    """Return the parts directly below a part."""
    match node:
        case Negative(operand=operand) | Scaled(operand=operand):
            return (operand,)
        case Operation(left=left, right=right):
            return (left, right)
        case Builtin(arguments=arguments) | Call(arguments=arguments):
            return arguments
        case _:
            return ()
