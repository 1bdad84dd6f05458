"""What a reading drill shows before the answer, and what it explains after it."""

from __future__ import annotations

from collections.abc import Mapping
from math import isfinite

from diagtree.knowledge.words import Read, Test
from diagtree.physics.meter import COVERAGE, accuracy_for
from diagtree.physics.units import engineering, unit
from diagtree.walk.context import Walk
from diagtree.walk.judging import Readings, Verdict

_SEEN = 0.005  # chance below which an outcome is not told
_SIGNS = {"degC": "°C"}


def given(walk: Walk, test: Test, readings: Readings) -> tuple[str, ...]:
    """Return the readings as lines, each with its meter and how good that is."""
    return tuple(
        f"{_spoken(item.name)}: {_with_unit(readings.typed[item.name], item.unit)} ({_meter(walk, readings, item)})"
        for item in test.reads
    )


def _meter(walk: Walk, readings: Readings, item: Read) -> str:
    tool = readings.meters.get(item.name)
    found = accuracy_for(walk.meters[tool], unit(item.unit)) if tool is not None else None
    if found is None:
        return "counts as exact"
    return f"{tool}: {found.percent:g} % of the reading + {found.counts:g} counts"


def facts_named(walk: Walk, test: Test) -> tuple[str, ...]:
    """Return the facts of the car that the limit is computed from, as one line: they stand in the car's papers."""
    expressions = [test.expected, test.judge, *(outcome.below for outcome in test.outcomes)]
    names = dict.fromkeys(
        name for one in expressions if one is not None for name in one.names if name.startswith("vehicle.")
    )
    told = [f"{name.removeprefix('vehicle.')} {_fact(walk, name)}" for name in names]
    return (f"The car: {'; '.join(told)}.",) if told else ()


def rule(test: Test, found: Verdict) -> tuple[str, ...]:
    """Return how the test is judged, without the number that comes of it: formula and limits."""
    assert test.judge is not None
    lines = []
    if test.expected is not None:
        lines.append(f"expected = {test.expected.text}")
    if not _plain(test):
        lines.append(f"Judged: {test.judge.text}.")
    return (*lines, f"Limits: {_bands(test, found)}. A sound car shows `{test.healthy}`.")


def why(test: Test, found: Verdict) -> tuple[str, ...]:
    """Return the lines that explain the answer: the number that is judged, its limits, uncertainty and source."""
    assert test.judge is not None
    lines = []
    if found.expected is not None and test.expected is not None:
        lines.append(f"expected = {test.expected.text} = {_number(found.expected, 4)}")
    judged = _spoken(test.reads[0].name) if _plain(test) else test.judge.text
    lines.append(f"Judged: {judged} = {_amount(test, found.value, 4)}: {_outcome(test, found)}.")
    lines.append(f"Limits: {_bands(test, found)}. A sound car shows `{test.healthy}`.")
    if expanded := COVERAGE * found.deviation:
        beside = min(found.limits.values(), key=lambda limit: abs(limit - found.value))
        room = abs(found.value - beside)
        lines.append(
            f"The nearest limit is {_amount(test, room, 2)} away; the meters' expanded uncertainty, "
            f"{_amount(test, expanded, 2)}, {'reaches over it' if room < expanded else 'does not reach it'}."
        )
    if any(name.startswith("vehicle.") for name in _names(test)):
        lines.append("The limit is this car's own; another car has another one.")
    return (*lines, f"Source: {test.source}.")


def _outcome(test: Test, found: Verdict) -> str:
    """Return the outcome; where the reading is close to a limit, all that it may be, and what a walk takes it for."""
    outcome = found.judged.outcome
    possible = [f"`{name}`" for name, chance in found.judged.chances.items() if chance >= _SEEN]
    if not found.judged.close or len(possible) < 2:
        return f"outcome `{outcome}`"
    if test.safety:
        return f"may be {' or '.join(possible)}; this is a limit of safety, so in doubt it counts as `{outcome}`"
    return f"may be {' or '.join(possible)}"


def _plain(test: Test) -> bool:
    """Whether the reading itself is judged, so that the judged number has its unit."""
    return test.judge is not None and len(test.reads) == 1 and test.judge.text == test.reads[0].name


def _amount(test: Test, number: float, digits: int) -> str:
    if not _plain(test):
        return _number(number, digits)
    written = test.reads[0].unit
    if unit(written).prefixable or not isfinite(number):
        return engineering(number, unit(written), digits)
    return f"{_number(number, digits)} {_SIGNS.get(written, written)}"


def _number(number: float, digits: int) -> str:
    """Return a rounded number in full: 990, not 9.9e+02."""
    return f"{float(f'{number:.{digits}g}'):g}"


def _names(test: Test) -> list[str]:
    expressions = [test.expected, *(outcome.below for outcome in test.outcomes)]
    return [name for one in expressions if one is not None for name in one.names]


def _bands(test: Test, found: Verdict) -> str:
    words = []
    for outcome in test.outcomes:
        limit = found.limits.get(outcome.id)
        words.append(f"{outcome.id} above" if limit is None else f"{outcome.id} below {_amount(test, limit, 4)}")
    return ", ".join(words)


def _fact(walk: Walk, name: str) -> str:
    here: object = walk.facts
    for key in name.removeprefix("vehicle.").split("."):
        here = here.get(key) if isinstance(here, Mapping) else None
    if isinstance(here, Mapping):
        return " ".join(
            f"{key} {value:g}" if isinstance(value, float | int) else str(value) for key, value in here.items()
        )
    return f"{here:g}" if isinstance(here, float | int) else str(here)


def _spoken(name: str) -> str:
    return name.replace("_", " ")


def _with_unit(typed: str, written: str) -> str:
    if typed == "OL":
        return "OL"
    return f"{typed}{'' if typed[-1] in 'kMGT' else ' '}{_SIGNS.get(written, written)}"
