"""Units of readings: their spellings, their dimension and their factor.

| written in knowledge | also read | quantity | SI prefix |
| --- | --- | --- | --- |
| ohm | Ω, ohms | resistance | yes |
| V | volt, volts, v | voltage | yes |
| A | ampere, amp, amps, a | current | yes |
| W | watt, watts, w, VA | power | yes |
| Wh | watthour, wh | energy | yes |
| J | joule | energy | yes |
| Hz | hertz, hz | frequency | yes |
| F | farad | capacitance | yes |
| Ah | amperehour | charge | yes |
| s | sec, second, seconds | time | yes |
| min, h, day | minute, minutes, hour, hours, days | time | no |
| m | metre, meter | length | yes |
| mm2 | mm², mm^2 | area | no |
| degC | °C, celsius (`C` at the keyboard) | temperature | no |
| K | kelvin | temperature difference | no |
| percent | %, per cent, pct | share | no |
| "" | ratio, 1, number | plain number | no |

Prefixes: p, n, µ (or u), m, k, M, G, T, as letters on symbols (`kΩ`, `mV`) and on `ohm` (`kohm`), and as words on words
(`kilo-ohm`, `megohm`, `millivolt`). `m` and `M` are different prefixes. Units combine with `/` and `*`: `ohm/V`, `V/m`.

Source: BIPM, The International System of Units (SI Brochure), 9th edition, tables 4, 7 and 8. `percent` is kept apart
from a plain number, so that a forgotten division by 100 is an error and never a factor of 100.
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from math import floor, isfinite, log10

from diagtree.errors import WrongUse
from diagtree.physics.nearest import did_you_mean
from diagtree.records import dataclass


@dataclass(frozen=True, slots=True)
class Dimension:
    """What kind of quantity a unit measures: exponents of volt, ampere, second, kelvin, metre and percent."""

    exponents: tuple[int, int, int, int, int, int]

    def __mul__(self, other: Dimension) -> Dimension:
        a, b = self.exponents, other.exponents
        return Dimension((a[0] + b[0], a[1] + b[1], a[2] + b[2], a[3] + b[3], a[4] + b[4], a[5] + b[5]))

    def __truediv__(self, other: Dimension) -> Dimension:
        a, b = self.exponents, other.exponents
        return Dimension((a[0] - b[0], a[1] - b[1], a[2] - b[2], a[3] - b[3], a[4] - b[4], a[5] - b[5]))

    def without_percent(self) -> Dimension:
        """Return the same dimension with percent taken as a plain number."""
        a = self.exponents
        return Dimension((a[0], a[1], a[2], a[3], a[4], 0))

    def __str__(self) -> str:
        known = _NAMES.get(self.exponents)
        if known:
            return known
        symbols = zip(("V", "A", "s", "K", "m", "%"), self.exponents, strict=True)
        return " ".join(symbol if power == 1 else f"{symbol}^{power}" for symbol, power in symbols if power)


_NAMES = {
    (0, 0, 0, 0, 0, 0): "a plain number",
    (1, 0, 0, 0, 0, 0): "voltage",
    (0, 1, 0, 0, 0, 0): "current",
    (1, -1, 0, 0, 0, 0): "resistance",
    (1, 1, 0, 0, 0, 0): "power",
    (1, 1, 1, 0, 0, 0): "energy",
    (0, 0, -1, 0, 0, 0): "frequency",
    (-1, 1, 1, 0, 0, 0): "capacitance",
    (0, 1, 1, 0, 0, 0): "charge",
    (0, 0, 1, 0, 0, 0): "time",
    (0, 0, 0, 1, 0, 0): "temperature",
    (0, 0, 0, 0, 1, 0): "length",
    (0, 0, 0, 0, 2, 0): "area",
    (0, 0, 0, 0, 0, 1): "a percentage",
}

PLAIN = Dimension((0, 0, 0, 0, 0, 0))
PERCENT = Dimension((0, 0, 0, 0, 0, 1))
TEMPERATURE = Dimension((0, 0, 0, 1, 0, 0))


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: number in SI = number * factor + offset.

    name : canonical spelling, as it is written in knowledge ("kohm", "degC", "" for a plain number).
    factor : exact factor to the SI unit of the dimension (percent counts as its own).
    offset : 273.15 for degC, otherwise 0.
    prefixable : an SI prefix may stand before it; False as well where one already does.
    prefixed : it carries an SI prefix already.
    """

    name: str
    dimension: Dimension
    factor: Fraction
    offset: Fraction = Fraction(0)
    prefixable: bool = False
    prefixed: bool = False

    def __str__(self) -> str:
        return self.name or "a plain number"

    def convert(self, number: Fraction, to: Unit) -> Fraction:
        """Return `number` of this unit in the unit `to`, exactly. Raises WrongUse where the dimensions differ.

        Percent and a plain number convert here (85 percent is 0.85), as do K and degC (absolute temperatures).
        """
        if self.dimension != to.dimension:
            if self.dimension.without_percent() != to.dimension.without_percent():
                raise WrongUse(f"{self} is {self.dimension}, but {to} is {to.dimension}")
            number *= Fraction(100) ** (to.dimension.exponents[5] - self.dimension.exponents[5])
        return (number * self.factor + self.offset - to.offset) / to.factor

    def __mul__(self, other: Unit) -> Unit:
        name = f"{self.name}*{other.name}" if self.name and other.name else self.name or other.name
        return Unit(name, self.dimension * other.dimension, self.factor * other.factor)

    def __truediv__(self, other: Unit) -> Unit:
        name = f"{self.name or 1}/{other.name}" if other.name else self.name
        return Unit(name, self.dimension / other.dimension, self.factor / other.factor)


def _atom(
    name: str, *exponents: int, factor: Fraction | int = 1, offset: Fraction | int = 0, prefixable: bool = True
) -> Unit:
    volt, ampere, second, kelvin, metre, percent = (*exponents, *(0,) * (6 - len(exponents)))
    dimension = Dimension((volt, ampere, second, kelvin, metre, percent))
    return Unit(name, dimension, Fraction(factor), Fraction(offset), prefixable)


OHM = _atom("ohm", 1, -1)
VOLT = _atom("V", 1)
AMPERE = _atom("A", 0, 1)
DEGREE_CELSIUS = _atom("degC", 0, 0, 0, 1, offset=Fraction("273.15"), prefixable=False)
NUMBER = _atom("", prefixable=False)

# Spellings of symbols, exact in their case; a prefix letter may stand directly before those that take one.
_SYMBOLS: dict[str, Unit] = {
    "ohm": OHM,
    "Ω": OHM,
    "V": VOLT,
    "v": VOLT,
    "A": AMPERE,
    "a": AMPERE,
    "W": (_WATT := _atom("W", 1, 1)),
    "w": _WATT,
    "VA": _WATT,
    "Wh": (_WATT_HOUR := _atom("Wh", 1, 1, 1, factor=3600)),
    "wh": _WATT_HOUR,
    "J": (_JOULE := _atom("J", 1, 1, 1)),
    "Hz": (_HERTZ := _atom("Hz", 0, 0, -1)),
    "hz": _HERTZ,
    "F": (_FARAD := _atom("F", -1, 1, 1)),
    "Ah": (_AMPERE_HOUR := _atom("Ah", 0, 1, 1, factor=3600)),
    "s": (_SECOND := _atom("s", 0, 0, 1)),
    "m": (_METRE := _atom("m", 0, 0, 0, 0, 1)),
    "min": (_MINUTE := _atom("min", 0, 0, 1, factor=60, prefixable=False)),
    "h": (_HOUR := _atom("h", 0, 0, 1, factor=3600, prefixable=False)),
    "mm2": (_SQUARE_MILLIMETRE := _atom("mm2", 0, 0, 0, 0, 2, factor=Fraction(1, 10**6), prefixable=False)),
    "mm²": _SQUARE_MILLIMETRE,
    "mm^2": _SQUARE_MILLIMETRE,
    "°C": DEGREE_CELSIUS,
    "K": (_KELVIN := _atom("K", 0, 0, 0, 1, prefixable=False)),
    "%": (_PERCENT := _atom("percent", 0, 0, 0, 0, 0, 1, prefixable=False)),
    "": NUMBER,
    "1": NUMBER,
}

# Spellings of words, in any case; a prefix word may stand before those that take one.
_WORDS: dict[str, Unit] = {
    "ohm": OHM, "ohms": OHM, "volt": VOLT, "volts": VOLT, "ampere": AMPERE, "amperes": AMPERE, "amp": AMPERE,
    "amps": AMPERE, "watt": _WATT, "watts": _WATT, "watthour": _WATT_HOUR, "watthours": _WATT_HOUR, "joule": _JOULE,
    "joules": _JOULE, "hertz": _HERTZ, "farad": _FARAD, "farads": _FARAD, "amperehour": _AMPERE_HOUR,
    "sec": _SECOND, "second": _SECOND, "seconds": _SECOND, "metre": _METRE, "metres": _METRE, "meter": _METRE,
    "meters": _METRE, "minute": _MINUTE, "minutes": _MINUTE, "mins": _MINUTE, "hour": _HOUR, "hours": _HOUR,
    "day": (_DAY := _atom("day", 0, 0, 1, factor=86400, prefixable=False)), "days": _DAY,
    "degc": DEGREE_CELSIUS, "celsius": DEGREE_CELSIUS, "kelvin": _KELVIN, "percent": _PERCENT, "pct": _PERCENT,
    "per cent": _PERCENT, "ratio": NUMBER, "number": NUMBER,
}  # fmt: skip

_PREFIXES: dict[str, tuple[str, int]] = {
    "p": ("pico", -12),
    "n": ("nano", -9),
    "µ": ("micro", -6),
    "m": ("milli", -3),
    "k": ("kilo", 3),
    "M": ("mega", 6),
    "G": ("giga", 9),
    "T": ("tera", 12),
}
_PREFIX_WORDS = {word: letter for letter, (word, _) in _PREFIXES.items()} | {"meg": "M"}

# Look-alikes that keyboards and meters' manuals produce: ohm sign, Greek mu, the letter u, masculine ordinal.
_LOOK_ALIKES = str.maketrans({"\u2126": "Ω", "\u03bc": "µ", "º": "°", "·": "*", "\u00a0": " ", "\u202f": " "})


def prefix(text: str) -> int | None:
    """Return the power of ten of an SI prefix standing alone (`k`, `M`, `kilo`), or None where `text` is none.

    Letters are exact in their case, because `m` and `M` differ by nine powers of ten; `meg` is mega, `u` is micro.
    """
    letter = _PREFIX_WORDS.get(text.lower(), "µ" if text == "u" else text.translate(_LOOK_ALIKES))
    found = _PREFIXES.get(letter)
    return found[1] if found else None


def _prefixed(letter: str, base: Unit) -> Unit:
    exponent = _PREFIXES[letter][1]
    name = ("u" if letter == "µ" else letter) + base.name
    return Unit(name, base.dimension, base.factor * Fraction(10) ** exponent, prefixed=True)


def _single(text: str) -> Unit | None:
    """Return the unit that `text` spells, without `/` and `*`; None where it spells none."""
    if text in _SYMBOLS:
        return _SYMBOLS[text]
    word = text.lower()
    if word in _WORDS:
        return _WORDS[word]
    letter = "µ" if text[:1] == "u" else text[:1]
    symbol = "ohm" if text[1:].lower() in ("ohm", "ohms") else text[1:]
    if letter in _PREFIXES and symbol in _SYMBOLS and _SYMBOLS[symbol].prefixable:
        return _prefixed(letter, _SYMBOLS[symbol])
    for start, prefix_letter in _PREFIX_WORDS.items():
        # "megohm" and "kilohm" are the usual words although the vowel of the prefix is dropped.
        for stem in (start, start[:-1] if start[-1] in "aeiou" else start):
            base = _WORDS.get(word[len(stem) :].lstrip("- ")) if word.startswith(stem) else None
            if base is not None and base.prefixable:
                return _prefixed(prefix_letter, base)
    return None


@lru_cache(maxsize=512)
def unit(text: str) -> Unit:
    """Return the unit that `text` spells (list above). Raises WrongUse, with the nearest spelling, for all else."""
    cleaned = text.strip().translate(_LOOK_ALIKES)
    whole = _single(cleaned)
    if whole is not None:
        return whole
    if cleaned == "C":
        raise WrongUse("`C` is not a unit here; write degC")
    numerator, *denominators = cleaned.split("/")
    parts = [_product(numerator), *(_product(part) for part in denominators)]
    known = [part for part in parts if part is not None]
    if len(known) < len(parts) or len(cleaned) > 40 or cleaned.count("*") + len(denominators) > 6:
        shown = cleaned if len(cleaned) <= 40 else cleaned[:40] + "..."
        spellings = {found.name for found in _SYMBOLS.values()} | set(_WORDS) | {"kohm", "mV", "mA", "kW", "kWh", "kHz"}
        raise WrongUse(f"`{shown}` is not a known unit{did_you_mean(cleaned, spellings)}")
    result = known[0]
    for part in known[1:]:
        result = result / part
    return result


def _product(text: str) -> Unit | None:
    result: Unit | None = None
    for factor in text.split("*"):
        found = _single(factor.strip())
        if found is None or (not factor.strip()):
            return None
        result = found if result is None else result * found
    return result


def engineering(value: float, measured_in: Unit, digits: int = 3) -> str:
    """Return `value` with unit and the SI prefix that suits it, for a person: `12.4 kohm`, `-40 degC`, `OL`.

    value : number in `measured_in`. digits : significant digits that are kept.
    A unit that takes no prefix, or carries one already, is shown as it is. Small resistances take none: `0.0003 ohm`,
    since `mohm` stands one letter from `Mohm`. `parse_reading` reads the result back.
    """
    if not isfinite(value):
        return "OL" if value > 0 else "-OL" if value < 0 else "not a number"
    power, rounded = 0, float(f"{value:.{digits - 1}e}")
    if measured_in.prefixable and rounded:
        least = 0 if measured_in.name == OHM.name else -12  # mohm and Mohm are too near for a tired person
        power = min(12, max(least, 3 * floor(log10(abs(rounded)) / 3)))
    letter = next((key for key, (_, exponent) in _PREFIXES.items() if exponent == power), "")
    decimals = digits - 1 - (floor(log10(abs(rounded))) if rounded else 0) + power
    number = f"{rounded / 10.0**power:.{min(max(decimals, 0), 20)}f}"
    if "." in number:
        number = number.rstrip("0").rstrip(".")
    return f"{'0' if number == '-0' else number} {letter}{measured_in.name}".rstrip()
