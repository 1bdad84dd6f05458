"""What is watched at a proof charge: numbers with their unit where the name tells it, words otherwise.

A power above what the car can take is asked back once: a slip of the finger must not prove a fix.
"""

from __future__ import annotations

from collections.abc import Mapping

from diagtree.errors import AnswerError, ReadingError
from diagtree.knowledge.words import Proof
from diagtree.physics.data import SUPPLY_TOLERANCE
from diagtree.physics.quantity import Facts
from diagtree.physics.reading import Reading, parse_reading
from diagtree.walk.prompts import Field

NOT_SEEN = "not seen"
NONE = "none"  # typed for what was not seen
SURE = "sure"  # typed behind a number that was asked back
_MAINS = 230.0  # IEC 60038: nominal voltage of one phase. [V]
_MARGIN = 1 + SUPPLY_TOLERANCE.value / 100  # a supply in order is at most so much above its nominal voltage. [-]
_UNITS = {"level": "percent", "low_voltage": "V", "pilot_level": "V", "cell_spread": "V"}
_UNITS_BY_END = {
    "temperature": "degC", "voltage": "V", "current": "A", "power": "kW", "resistance": "ohm", "insulation": "ohm",
}  # fmt: skip


def unit_watched(name: str) -> str:
    """Return the unit in which something watched is read; "" where words tell it (`lock_state`)."""
    return _UNITS.get(name) or _UNITS_BY_END.get(name.rpartition("_")[2], "")


def power_field(proof: Proof, facts: Facts) -> Field:
    """Return the field for the power of the charge, with what this car takes at most where its profile says so."""
    text = "power seen, in kW"
    most = most_power(proof.charge, facts)
    if most is None:
        return Field("power", text, "kW", counts=True)
    too_much = f"more than this car takes ({most:.3g} kW)"
    return Field("power", text, "kW", counts=True, most=most * _MARGIN, most_says=too_much)


def watched_fields(proof: Proof) -> tuple[Field, ...]:
    """Return a field for each thing to be watched; the power of the charge is asked for by itself already."""
    found = []
    for name in proof.watch:
        if name == f"{proof.charge}_power":
            continue
        measured_in = unit_watched(name)
        text = f"{name.replace('_', ' ')} seen" + (f", in {measured_in}" if measured_in else "")
        found.append(Field(name, text, measured_in, number=bool(measured_in), optional=bool(measured_in)))
    return tuple(found)


def seen(fields: tuple[Field, ...], values: Mapping[str, str]) -> dict[str, str]:
    """Return what was seen, numbers with their unit. Raises AnswerError naming what is no number in its unit."""
    found = {}
    for field in fields:
        text = values.get(field.name, "").strip()
        if field.number and text.casefold() in ("", NONE):
            found[field.name] = NOT_SEEN
        else:
            found[field.name] = str(_number(field, text)) if field.number else text
    return found


def _number(field: Field, text: str) -> Reading:
    try:
        reading = parse_reading(text, field.unit)
    except ReadingError as error:
        raise AnswerError(f"{field.text}: {error}; `{NONE}` where it was not seen") from error
    if reading.over_range and field.unit != "ohm":  # only an insulation tester shows it, and there it is good
        raise AnswerError(f"{field.text}: `{text}` is no number; type it like 31, or `{NONE}` where it was not seen")
    return reading


def without_sure(field: Field, text: str) -> tuple[str, bool]:
    """Return a value without the word that says that it was typed right, and whether it was there."""
    number, _, word = text.strip().rpartition(" ")
    if field.most is not None and word.casefold() == SURE and number.strip():
        return number.strip(), True
    return text, False


def asked_back(field: Field, text: str, value: float) -> str:
    """Return the question that a number too high for this car is asked back with; "" where it fits."""
    if field.most is None or value <= field.most:
        return ""
    return (
        f"`{text}` is {field.most_says}: typed right? Type it anew, or `{text} {SURE}` where it was really shown"
    )


def most_power(charge: str, facts: Facts) -> float | None:
    """Return the power that the car takes at most by its profile; None where that does not say. [kW]"""
    if charge == "dc":
        return _fact(facts, "dc", "power")
    phases, current = _fact(facts, "charger", "phases"), _fact(facts, "charger", "current")
    return None if phases is None or current is None else phases * current * _MAINS / 1000


def _fact(facts: Facts, part: str, name: str) -> float | None:
    inside = facts.get(part)
    value = inside.get(name) if isinstance(inside, Mapping) else None
    return float(value) if isinstance(value, int | float) else None
