"""The record that describes one quantity, and how a quantity is found by its name.

The same record serves `expected:` and limits in trees, the bench calculator and the generated page.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import field
from functools import cache
from typing import TypeAlias

from diagtree.discover import names, single
from diagtree.errors import WrongUse
from diagtree.records import dataclass

Facts: TypeAlias = Mapping[str, "Facts | float | str"]
"""A part of a vehicle profile: names to numbers, words (`unknown` among them) or further facts."""

Value: TypeAlias = float | str | Facts
"""What arithmetic in knowledge may hand to a function: a number, a word or a part of a profile."""


@dataclass(frozen=True, slots=True)
class Input:
    """One input of a quantity.

    name : parameter name of `compute`, as typed in trees and at the bench.
    unit : unit the number must have ("" where it has none; "facts" for a part of a vehicle profile;
           "word" for one of `words`).
    low, high : closed range in which the formula holds; None where there is no bound.
    default : used where the input is left out; None means that it must be given.
    whole : it counts something: whoever types it types a whole number.
    """

    name: str
    unit: str
    meaning: str
    low: float | None = None
    high: float | None = None
    default: float | str | None = None
    words: tuple[str, ...] = ()
    whole: bool = False


@dataclass(frozen=True, slots=True)
class Worked:
    """One worked example: inputs, expected value, absolute tolerance, where it is printed or how it was got."""

    inputs: Mapping[str, Value]
    expected: float
    tolerance: float
    source: str


@dataclass(frozen=True, slots=True)
class Quantity:
    """One quantity of charging physics.

    id : kebab-case, equal to the module's name with hyphens; trees call it with underscores.
    compute : pure function of the inputs, by keyword or in order. Raises OutOfRange naming the input and its range.
    inverses : name of an input to the function that returns this input from `value` and the other inputs.
    hazard : "none", "live" (measured on a live circuit) or "high-voltage"; heads the output with the caution.
    """

    id: str
    meaning: str
    unit: str
    inputs: tuple[Input, ...]
    compute: Callable[..., float]
    formula: str
    source: str
    worked: tuple[Worked, ...]
    inverses: Mapping[str, Callable[..., float]] = field(default_factory=dict)
    hazard: str = "none"


@cache
def quantity_names() -> frozenset[str]:
    """Return the names trees may call (underscores), without importing any of them."""
    from diagtree.physics import quantities

    return names(quantities)


@cache
def quantity(name: str) -> Quantity:
    """Return the quantity called `name` (hyphens or underscores). Raises WrongUse where there is none."""
    module_name = name.replace("-", "_")
    if module_name not in quantity_names():
        raise WrongUse(f"there is no quantity `{name}`; `diagtree calc --list` names them all")
    from diagtree.physics import quantities

    return single(quantities, module_name, "QUANTITY", Quantity)


def quantities() -> tuple[Quantity, ...]:
    """Return every quantity, by name. Imports them all: for listings, never for a walk."""
    return tuple(quantity(name) for name in sorted(quantity_names()))
