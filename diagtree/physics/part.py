"""Parts of a car and its supply that can be faulty, and the faults they can have.

`parts/` holds one kind of part a file; this is the record that each of them defines as PART. Knowledge writes a fault
as `part: mode`, `part: mode NUMBER UNIT` or `part: NUMBER` (in the part's own unit):

    fault: {inlet.ac_sensor: open}        fault: {pilot: series 300 ohm}        fault: {supply: 195}
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import cache

from diagtree.discover import collect
from diagtree.errors import ReadingError, WrongUse
from diagtree.physics.nearest import did_you_mean
from diagtree.physics.ranges import amount
from diagtree.records import dataclass

HEALTHY = "healthy"
"""The mode of a part that has no fault."""


@dataclass(frozen=True, slots=True)
class Mode:
    """One way in which a part can be faulty.

    word : as knowledge writes it. unit : of its value; "" where it has none ("open" is open).
    low, high : closed range of the value, in `unit`.
    usual : span in which the value of such a fault usually lies, on a logarithmic scale: a fault without a number has
        the middle of it, and a simulated car draws one from it. None: knowledge must say the number. An estimate
        (common practice) for simulated cars; no limit rests on it.
    """

    word: str
    meaning: str
    unit: str = ""
    low: float = 0.0
    high: float = math.inf
    usual: tuple[float, float] | None = None

    @property
    def middle(self) -> float | None:
        """The middle of the usual span, on a logarithmic scale; None without one. [unit]"""
        return None if self.usual is None else math.sqrt(self.usual[0] * self.usual[1])

    def takes(self) -> str:
        """Return how knowledge writes it: `open`, `series 300 ohm`."""
        if not self.unit:
            return self.word
        return f"{self.word} NUMBER {self.unit}" if self.usual is None else f"{self.word} [NUMBER {self.unit}]"


@dataclass(frozen=True, slots=True)
class Part:
    """One kind of part.

    id : kebab-case, equal to the module's name with hyphens. names : the parts of this kind on a car.
    number : word of the mode that a number alone means; "" where a number alone means nothing.
    """

    id: str
    meaning: str
    names: tuple[str, ...]
    modes: tuple[Mode, ...]
    number: str = ""

    def mode(self, word: str) -> Mode | None:
        """Return the mode of that word, or None."""
        return next((mode for mode in self.modes if mode.word == word), None)


@dataclass(frozen=True, slots=True)
class Fault:
    """What is wrong with one part. `value` in the mode's unit; None where the mode has none or it was left out."""

    part: str
    mode: Mode
    value: float | None = None

    @property
    def number(self) -> float:
        """The value, or the middle of the usual span. [mode.unit] NaN for a mode without a value."""
        if self.value is not None:
            return self.value
        return math.nan if self.mode.middle is None else self.mode.middle


class UnknownPart(WrongUse):
    """There is no part of that name."""


class UnknownFault(WrongUse):
    """The part has no such fault, or not with that number or unit."""


@cache
def parts() -> tuple[Part, ...]:
    """Return every kind of part, by id."""
    from diagtree.physics import parts as package

    return collect(package, "PART", Part)


@cache
def _by_name() -> Mapping[str, Part]:
    return {name: kind for kind in parts() for name in kind.names}


def part_names() -> tuple[str, ...]:
    """Return the names of all parts that `fault:` may name."""
    return tuple(sorted(_by_name()))


def part(name: str) -> Part:
    """Return the kind of the part called `name`. Raises UnknownPart, with the nearest name, where there is none."""
    found = _by_name().get(name)
    if found is None:
        near = did_you_mean(name, _by_name()) or f"; there are {', '.join(part_names())}"
        raise UnknownPart(f"there is no part `{name}`{near}")
    return found


def fault(name: str, written: str | float) -> Fault:
    """Return the fault that knowledge writes as `name: written`.

    written : a mode (`open`), a mode with its value (`series 300 ohm`, `leakage 2 kohm`), or a number in the unit of
        the part's own mode.

    Raises UnknownPart, or UnknownFault naming what this part can have and in which range.
    """
    kind = part(name)
    if not isinstance(written, str):
        return Fault(name, *_by_number(kind, name, float(written)))
    word, _, rest = written.strip().partition(" ")
    mode = kind.mode(word)
    if mode is None:
        near = did_you_mean(word, (one.word for one in kind.modes))
        raise UnknownFault(f"`{name}` has no fault `{word}`{near or _choices(kind)}")
    return Fault(name, mode, _value(mode, name, rest.strip()))


def _by_number(kind: Part, name: str, value: float) -> tuple[Mode, float]:
    mode = kind.mode(kind.number)
    if mode is None:
        raise UnknownFault(f"a number alone says nothing of `{name}`{_choices(kind)}")
    return mode, _in_range(mode, name, value)


def _value(mode: Mode, name: str, text: str) -> float | None:
    if not text:
        if mode.unit and mode.usual is None:
            raise UnknownFault(f"`{mode.word}` of `{name}` needs its number: write `{mode.takes()}`, {_range(mode)}")
        return None
    if not mode.unit:
        raise UnknownFault(f"`{mode.word}` of `{name}` takes no number; write `{mode.word}` alone")
    from diagtree.physics.reading import parse_reading

    try:
        reading = parse_reading(text, mode.unit)
    except ReadingError as error:
        raise UnknownFault(f"`{mode.word}` of `{name}`: {error}") from error
    return _in_range(mode, name, reading.value)


def _in_range(mode: Mode, name: str, value: float) -> float:
    if not mode.low <= value <= mode.high:
        written = f"`{mode.word} {amount(value, mode.unit)}` of `{name}`"
        raise UnknownFault(f"{written} is out of range: it is {_range(mode)}")
    return value


def _range(mode: Mode) -> str:
    if math.isinf(mode.high):
        return f"{amount(mode.low, mode.unit)} or more"
    return f"{amount(mode.low, mode.unit)} to {amount(mode.high, mode.unit)}"


def _choices(kind: Part) -> str:
    return f"; it can have {', '.join(mode.takes() for mode in kind.modes)}"
