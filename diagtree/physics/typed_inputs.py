"""Inputs of a quantity as a person types them (`--temperature 18`, `--sensor ntc r25=10k beta=3435`), as values."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from math import inf
from typing import TypeVar

from diagtree.errors import OutOfRange, ReadingError, WrongUse
from diagtree.physics.nearest import did_you_mean
from diagtree.physics.quantity import Facts, Input, Value
from diagtree.physics.ranges import check, range_words
from diagtree.physics.reading import parse_reading

Found = TypeVar("Found")

UNIT_WORDS = {
    "volt": "V", "volts": "V", "ohm": "ohm", "ohms": "ohm", "amp": "A", "amps": "A", "ampere": "A", "amperes": "A",
    "degrees": "degC", "celsius": "degC", "watt": "W", "watts": "W", "hertz": "Hz", "farad": "F", "metres": "m",
    "seconds": "s", "per_cent": "percent",
}  # fmt: skip
"""Words for a unit that stand for the one input that has it."""

INFINITE = ("inf", "infinity", "infinite", "none", "open")
FACT_UNITS = {"r25": "ohm", "r0": "ohm", "beta": "K", "hot_above": "ohm", "normal_low": "ohm", "normal_high": "ohm"}


def values(
    wanted: Iterable[Input], typed: Mapping[str, str], what: str, read: Callable[[Input, str], Found]
) -> dict[str, Found]:
    """Return the inputs of `what` by name, those with a default left out where nothing was typed.

    typed : text by the input's name, hyphens or underscores, or by the word for its unit (`volts`).
    read : gives what is typed for one input.
    Raises WrongUse or OutOfRange naming the input, its range and what to type.
    """
    by_name = {item.name: item for item in wanted}
    given: dict[str, str] = {}
    for name, text in typed.items():
        key = named(name, tuple(by_name.values()), what)
        if key in given:
            raise WrongUse(f"`{spelled(key)}` is given twice, once as `{spelled(name)}`; give each input once")
        given[key] = text
    found: dict[str, Found] = {}
    for name, item in by_name.items():
        if name in given:
            found[name] = read(item, given[name])
        elif item.default is None:
            raise WrongUse(f"`{what}` needs `{spelled(name)}` ({item.meaning}): type {_wanted(item)}")
    return found


def named(typed: str, wanted: Sequence[Input], what: str) -> str:
    """Return the name of the input that was meant: its own, or a word for the unit that only one input has.

    Raises WrongUse with the nearest name.
    """
    key, names = typed.strip().replace("-", "_").replace(" ", "_").lower(), [item.name for item in wanted]
    if key in names:
        return key
    in_unit = [item for item in wanted if item.unit == UNIT_WORDS.get(key, "none")]
    fit = [item.name for item in in_unit if item.default is None] or [item.name for item in in_unit]
    if len(fit) == 1:
        return fit[0]
    if fit:
        raise WrongUse(f"`{spelled(typed)}` could be {' or '.join(map(spelled, fit))} of `{what}`: say which")
    takes = ", ".join(map(spelled, names)) or "no inputs"
    raise WrongUse(f"`{what}` has no input `{spelled(typed)}`{did_you_mean(key, names)}; it takes {takes}")


def spelled(name: str) -> str:
    """Return an input's name as it is typed."""
    return "--" + name.replace("_", "-")


def value(item: Input, text: str, facts: Facts) -> Value:
    """Return one input as a number in its unit, a word or facts. Raises as `values` does."""
    cleaned = text.strip()
    found: Value
    if item.unit == "text":
        found = cleaned
    elif item.unit == "word":
        found = next((word for word in item.words if word.lower() == cleaned.lower()), cleaned)
    elif item.unit == "facts":
        found = _facts(item, cleaned, facts)
    elif item.high == inf and cleaned.lower() in INFINITE:
        found = inf
    else:
        try:
            found = parse_reading(cleaned, item.unit).value
        except ReadingError as error:
            raise WrongUse(f"`{spelled(item.name)}` ({item.meaning}): {error}; it takes {range_words(item)}") from error
    check(item, found)
    if item.whole and isinstance(found, float) and not found.is_integer():
        raise OutOfRange(f"`{item.name}` = {cleaned} is no whole number ({item.meaning}): type {range_words(item)}")
    return found


def _wanted(item: Input) -> str:
    if item.unit != "facts":
        return range_words(item)
    example = "platinum r0=100" if "the platinum sensor" in item.meaning else "ntc r25=10000 beta=3435"
    return f"`{example}` or a place in --vehicle"


def _facts(item: Input, text: str, facts: Facts) -> Facts:
    """Return a sensor as typed (`ntc r25=10000 beta=3435`, `ntc 0:27326 25:10000`) or as the vehicle has it."""
    words = text.split()
    if len(words) == 1 and "=" not in text and ":" not in text:
        return _of_vehicle(item, text.removeprefix("vehicle."), facts)
    found: dict[str, Facts | float | str] = {}
    rows: dict[str, Facts | float | str] = {}
    for place, word in enumerate(words):
        name, mark, amount = word.partition("=") if "=" in word else word.partition(":")
        if not mark and place == 0:
            found["kind"] = word
        elif mark == "=" and name and amount:
            found[name] = _number(item, word, amount, FACT_UNITS.get(name, ""))
        elif mark == ":" and name and amount:
            rows[str(_number(item, word, name, "degC"))] = _number(item, word, amount, "ohm")
        else:
            raise WrongUse(f"`{spelled(item.name)}`: `{word}` is no fact of a sensor; type {_wanted(item)}")
    return {**found, "table": rows} if rows else found


def _number(item: Input, word: str, text: str, unit: str) -> float:
    try:
        return parse_reading(text, unit).value
    except ReadingError as error:
        raise WrongUse(f"`{spelled(item.name)}`, `{word}`: {error}") from error


def _of_vehicle(item: Input, path: str, facts: Facts) -> Facts:
    here: Facts | float | str = facts
    for key in path.split("."):
        if not isinstance(here, Mapping) or key not in here:
            known = ", ".join(here) if isinstance(here, Mapping) else ""
            hint = f"; it has {known}" if known else "; say which with --vehicle"
            raise WrongUse(f"`{spelled(item.name)}`: the vehicle has no `{path}`{hint}; or type {_wanted(item)}")
        here = here[key]
    if not isinstance(here, Mapping):
        raise WrongUse(f"`{spelled(item.name)}`: `{path}` is {here!r} on this vehicle; type {_wanted(item)}")
    return here
