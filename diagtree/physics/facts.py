"""Numbers and words out of a vehicle profile, with a clear word where the profile lacks them."""

from __future__ import annotations

from collections.abc import Mapping

from diagtree.errors import OutOfRange
from diagtree.physics.quantity import Facts
from diagtree.physics.ranges import LARGEST, amount

SENSOR_KINDS = ("ntc", "platinum", "ptc")
"""Kinds of temperature sensor that a profile may name."""


def number(facts: Facts, name: str, *, low: float, high: float = LARGEST, unit: str = "") -> float:
    """Return the number `name` of a part of a profile, `low` to `high`.

    Raises OutOfRange, naming the fact and its range, where it is missing, `unknown`, no number or outside.
    """
    given = facts.get(name)
    # The plain case first: a walk computes its limits by this, once for every fact.
    if type(given) is float and low <= given <= high:
        return given
    spelled = _parsed(given)
    if spelled is not None and low <= spelled <= high:
        return spelled
    wanted = f"{amount(low, unit)} to {amount(high, unit)}" if high < LARGEST else f"{amount(low, unit)} or more"
    if given is None:
        raise OutOfRange(f"the vehicle profile gives no `{name}` here: add it, {wanted}, or write `{name}: unknown`")
    if given == "unknown":
        raise OutOfRange(f"`{name}` is unknown on this car: find the maker's value ({wanted}), or compare on the car")
    raise OutOfRange(f"`{name}` = {given!r} in the vehicle profile is out of range: it must be {wanted}")


def optional_number(facts: Facts, name: str, *, low: float, high: float = LARGEST, unit: str = "") -> float | None:
    """Return the number `name`, or None where the profile leaves it out. Raises as `number` does otherwise."""
    return None if name not in facts else number(facts, name, low=low, high=high, unit=unit)


def kind(facts: Facts) -> str:
    """Return the kind of a sensor: `ntc`, `platinum` or `ptc`. Raises OutOfRange where it is not one of these."""
    given = facts.get("kind")
    if isinstance(given, str) and given in SENSOR_KINDS:
        return given
    if given == "unknown":
        raise OutOfRange(f"the sensor's `kind` is unknown on this car: find it out; one of {', '.join(SENSOR_KINDS)}")
    raise OutOfRange(f"the sensor's `kind` must be one of {', '.join(SENSOR_KINDS)}; the vehicle profile has {given!r}")


def must_be(facts: Facts, wanted: str) -> None:
    """Pass a sensor of the wanted kind or of no stated kind. Raises OutOfRange for any other."""
    if facts.get("kind", wanted) != wanted and kind(facts) != wanted:
        raise OutOfRange(f"this formula is for a sensor of kind `{wanted}`; the vehicle profile has `{kind(facts)}`")


def table(facts: Facts, name: str) -> tuple[tuple[float, float], ...] | None:
    """Return a table of the profile as pairs in ascending order of its keys, or None where there is none.

    Raises OutOfRange where a key or value is not a number or there are fewer than two rows.
    """
    rows = facts.get(name)
    if rows is None:
        return None
    if rows == "unknown":
        raise OutOfRange(f"`{name}` is unknown on this car: find the maker's table, or compare on the car")
    if not isinstance(rows, Mapping) or len(rows) < 2:
        raise OutOfRange(f"`{name}` in the vehicle profile must be a table of two rows or more, temperature: ohms")
    pairs = [(_parsed(key), _parsed(given)) for key, given in rows.items()]
    if any(key is None or given is None for key, given in pairs):
        raise OutOfRange(f"`{name}` in the vehicle profile must hold numbers only, temperature in degC: ohms")
    return tuple(sorted((key, given) for key, given in pairs if key is not None and given is not None))


def _parsed(given: object) -> float | None:
    """Return a number or the number a word spells; None for anything else."""
    if not isinstance(given, (int, float, str)):
        return None
    try:
        return float(given)
    except ValueError:
        return None
