"""Inputs that may be readings: a number with its uncertainty, typed (`8.1 +/- 0.05`) or from a meter's accuracy.

What stands behind `+/-` is the expanded uncertainty U (k = 2), as every result of the bench calculator is printed, or a
share of the reading (`+/- 1 %`). It goes before the meter's; `+/- 0` makes a number exact.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from math import isfinite

from diagtree.errors import ReadingError, WrongUse
from diagtree.physics.meter import COVERAGE, Accuracy, accuracy_for, reading_uncertainty
from diagtree.physics.quantity import Facts, Input, Value
from diagtree.physics.ranges import KINDS
from diagtree.physics.reading import parse_reading
from diagtree.physics.typed_inputs import spelled, value
from diagtree.physics.units import unit
from diagtree.records import dataclass

_MARK = re.compile(r"\s*(?:\+\s*/\s*-|±|\+-)\s*")
_NUMBER = re.compile(r"[+-]?[0-9.,]+(?:[eE][+-]?[0-9]+)?\s*")

Meters = Mapping[str, Mapping[str, Accuracy]]
"""Accuracy by name of the meter and unit as the workshop's file writes it."""


@dataclass(frozen=True, slots=True)
class Typed:
    """An input as typed: its value in the input's unit, its uncertainty U, and the meter where U is a meter's."""

    value: Value
    expanded: float = 0.0
    meter: str = ""

    @property
    def standard(self) -> float:
        """Standard uncertainty u = U / k, in the input's unit."""
        return self.expanded / COVERAGE


def typed_reading(item: Input, text: str, facts: Facts, meters: Meters) -> Typed:
    """Return an input as typed. Raises WrongUse or OutOfRange naming the input, its range and what to type.

    meters : those that were named; the first that measures the input's unit gives the uncertainty.
    """
    if item.unit in KINDS:
        return Typed(value(item, text, facts))
    number, *spread = _MARK.split(text)
    if len(spread) > 1:
        raise WrongUse(f"`{spelled(item.name)}` = `{text}`: one `+/-` is enough; type {_example(item)}")
    if not spread:
        found = value(item, text, facts)
        return _by_meter(item, text, found, meters)
    number, amount = _same_prefix(item, text, number.strip(), spread[0].strip())
    found = value(item, number, facts)
    assert isinstance(found, float)
    return Typed(found, _expanded(item, text, found, amount))


def _by_meter(item: Input, text: str, found: Value, meters: Meters) -> Typed:
    if not isinstance(found, float) or not isfinite(found):
        return Typed(found)
    measured_in = unit(item.unit)
    for name, units in meters.items():
        accuracy = accuracy_for(units, measured_in)
        if accuracy is not None:
            return Typed(found, COVERAGE * reading_uncertainty(parse_reading(text, item.unit), accuracy), name)
    return Typed(found)


def _same_prefix(item: Input, text: str, number: str, amount: str) -> tuple[str, str]:
    """Return both parts with their unit: one behind the uncertainty counts for both, as in `10 +/- 0.1 k`."""
    behind, of_amount = _NUMBER.sub("", number, count=1), _NUMBER.sub("", amount, count=1)
    if not number or not amount:
        raise WrongUse(f"`{spelled(item.name)}` = `{text}` lacks a number beside `+/-`; type {_example(item)}")
    if item.unit == "degC":
        return number, amount  # `18 +/- 1 K`: the difference is in kelvins, the temperature is not
    if of_amount and not behind and not of_amount.startswith("%"):
        return f"{number} {of_amount}", amount
    if behind and not of_amount:
        return number, f"{amount} {behind}"
    return number, amount


def _expanded(item: Input, text: str, found: float, amount: str) -> float:
    share = amount.endswith("%") and item.unit != "percent"
    # A difference of temperatures: never the offset between degC and K.
    plain = re.sub(r"\s*(?:°C|degC|celsius|C|K)$", "", amount) if item.unit == "degC" else amount
    try:
        spread = parse_reading(plain.removesuffix("%").strip(), "" if share else item.unit).value
    except ReadingError as error:
        raise WrongUse(f"`{spelled(item.name)}` = `{text}`, behind `+/-`: {error}; {_example(item)}") from error
    if not (isfinite(spread) and spread >= 0):
        raise WrongUse(f"`{spelled(item.name)}` = `{text}`: an uncertainty is 0 or more; type {_example(item)}")
    return abs(found) * spread / 100 if share else spread


def _example(item: Input) -> str:
    return f"the reading and its uncertainty, like `{'18 +/- 1' if item.unit == 'degC' else '8.1 +/- 0.05'}`"
