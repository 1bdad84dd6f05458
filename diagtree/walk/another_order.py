"""A number typed without its unit that is of quite another order than anything its test tells apart: asked back once.

A meter that shows `12` in its millivolt range gives 12 V where only the number is typed. The rule: as typed, the judged
number is a decade above the largest limit of the test, or below the smallest and not healthy; with another prefix of
the unit, which a meter would show with this number, it comes among the limits or is healthy.

Never asked about is what was typed on purpose: a prefix, a unit, an exponent, `OL`, more digits than a display has. Nor
is a test for a hazardous voltage, or an outcome that stops the job: nobody is asked to doubt a danger. It asks and
never refuses: an open circuit reads what it reads.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from math import isfinite

from diagtree.errors import DiagtreeError
from diagtree.knowledge.limits import MissingName, UnknownFact
from diagtree.knowledge.words import Test
from diagtree.physics.units import Unit, unit
from diagtree.records import dataclass
from diagtree.walk.context import Walk
from diagtree.walk.judging import TypedFacts, Verdict, read, verdict

FAR = 10.0
"""How many times beyond the limits is another order: a decade."""
NEAR = 3.0
"""How many times beyond the limits a number still comes among them."""
HAZARDOUS = 30.0
"""A test that tells voltages apart from here on is not asked about, and what is typed above it is told as a danger:
30 V AC (UN Regulation No. 100, class B). [V]"""
_SHOWN = {"m": (0.1, 999.9, 2), "k": (0.1, 999.9, 3), "M": (0.1, 9999.0, 3), "": (0.1, 9999.0, 3)}
"""Prefix to the least and most that a meter of four digits shows with it, and to its most decimals."""
_BARE = re.compile(r"[+-]?(?:[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)")


@dataclass(frozen=True, slots=True)
class Doubt:
    """A reading to look at once more.

    field : its name. typed : as it is taken. instead : what would fit. hazardous : it could hurt if it is true.
    """

    field: str
    typed: str
    instead: tuple[str, ...]
    hazardous: bool = False

    @property
    def question(self) -> str:
        """What to ask the person who typed it."""
        other = " or ".join(f"`{text}`" for text in self.instead)
        warning = f"Hands off first: {self.typed} would be a hazardous voltage. " if self.hazardous else ""
        return (
            f"{warning}Look at the meter again: {self.typed} is far from all that this test tells apart. "
            f"Type {other} if it shows that; if it shows {self.typed}, type it once more."
        )


def doubt(walk: Walk, supplied: TypedFacts, test: Test, typed: Mapping[str, str]) -> Doubt | None:
    """Return the first of the readings that is plainly of another order than typed, None where none is.

    supplied : maker's values that the technician gave, by dotted name.
    """
    found = _verdict(walk, supplied, test, typed)
    if found is None or not _odd(test, found) or _hazardous(test, found):
        return None
    for name, text in typed.items():
        instead = tuple(
            other
            for other in _others(test, name, text)
            if (meant := _verdict(walk, supplied, test, {**typed, name: other})) is not None and _fits(test, meant)
        )
        if instead:
            measured_in = next(item.unit for item in test.reads if item.name == name)
            return Doubt(name, f"{text.strip()} {measured_in}", instead, _could_hurt(text, unit(measured_in)))
    return None


def _others(test: Test, name: str, text: str) -> Iterator[str]:
    """Give the same number with each other prefix of the unit, where only a number was typed."""
    text = text.strip()
    measured_in = next((unit(item.unit) for item in test.reads if item.name == name), None)
    if measured_in is None or not _BARE.fullmatch(text):
        return
    plain = text.replace(",", ".")
    number, decimals = abs(float(plain)), len(plain.partition(".")[2])
    volts = _in_volts(measured_in)
    for prefix, (least, most, finest) in _SHOWN.items():
        if volts and prefix in ("k", "M"):
            continue  # no wire of a car has kilovolts
        other = _with_prefix(measured_in, prefix)
        if other and least <= number <= most and decimals <= finest:
            yield f"{text} {other}"


def _with_prefix(wanted: Unit, prefix: str) -> str:
    """Return the name of the unit with another prefix (`mV`; `W` of a reading in kW), "" where it takes none."""
    if prefix:
        return prefix + wanted.name if wanted.prefixable else ""
    return wanted.name[1:] if wanted.prefixed else ""


def _verdict(walk: Walk, supplied: TypedFacts, test: Test, typed: Mapping[str, str]) -> Verdict | None:
    try:
        return verdict(walk, test, read(walk, test, typed), supplied)
    except (UnknownFact, MissingName, DiagtreeError):
        return None  # it will be told, or asked for, where it is judged


def _odd(test: Test, found: Verdict) -> bool:
    outcome, above = found.judged.outcome, found.value > max(found.limits.values(), default=0.0)
    return (above or outcome != test.healthy) and outcome not in test.stop and _beyond(found, FAR)


def _hazardous(test: Test, found: Verdict) -> bool:
    volts = any(_in_volts(unit(item.unit)) for item in test.reads)
    return volts and max(found.limits.values(), default=0.0) >= HAZARDOUS


def _in_volts(measured_in: Unit) -> bool:
    return measured_in.dimension == unit("V").dimension


def _could_hurt(text: str, measured_in: Unit) -> bool:
    """Return whether the number, as typed, is a hazardous voltage."""
    plain_volts = _in_volts(measured_in) and not measured_in.prefixed
    return plain_volts and abs(float(text.strip().replace(",", "."))) >= HAZARDOUS


def _fits(test: Test, found: Verdict) -> bool:
    return found.judged.outcome == test.healthy or not _beyond(found, NEAR)


def _beyond(found: Verdict, times: float) -> bool:
    """Return whether the judged number is more than so many times outside of the limits."""
    sizes = [abs(limit) for limit in found.limits.values() if limit and isfinite(limit)]
    value = abs(found.value)
    if not sizes or not isfinite(value):
        return False
    return value > times * max(sizes) or value * times < min(sizes)
