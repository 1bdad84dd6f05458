"""What a technician types after measuring, as a number with its unit: `1.2 k`, `12,4`, `-40`, `OL`.

The reading's own unit is assumed; another unit of the same quantity converts. Nothing is guessed: what can be read in
two ways is refused with a question back.
"""

from __future__ import annotations

import re
from fractions import Fraction
from math import inf

from diagtree.errors import ReadingError, WrongUse
from diagtree.physics.units import TEMPERATURE, Unit, engineering, prefix, unit
from diagtree.records import dataclass

_NUMBER = re.compile(r"([+-]?)([0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)(?:[eE]([+-]?[0-9]{1,4}))?(?![0-9.,])")
_OVER_RANGE = re.compile(r"([+-]?)[Oo][Ll](?![A-Za-z0-9])")
_GROUPED = re.compile(r"[+-]?[1-9][0-9]{0,2},[0-9]{3}")
_LOOK_ALIKES = str.maketrans({"\u2212": "-", "\u00a0": " ", "\u202f": " ", "\u2009": " ", "\t": " "})
_ZERO_L = re.compile(r"[+-]?(0L|[0O]?\.[0O]?L|over)", re.IGNORECASE)
_FAHRENHEIT = frozenset({"f", "°f", "degf", "fahrenheit"})
_OR_OL = "or OL where the meter shows that it is above its range"
_LONGEST = 40
_LARGEST_EXPONENT = 30


@dataclass(frozen=True, slots=True)
class Reading:
    """One measured number.

    value : number in `unit`; infinity where the meter showed that it is above its range.
    unit : the unit in which the test reads, whatever unit was typed.
    typed : the text as it was typed.
    last_digit : value of one count of the last digit as typed, in `unit`; 0 above the range.
    """

    value: float
    unit: Unit
    typed: str
    over_range: bool = False
    last_digit: float = 0.0

    def __str__(self) -> str:
        return "OL (above the meter's range)" if self.over_range else engineering(self.value, self.unit, 6)


def parse_reading(text: object, unit_text: str, *, plain: bool = False) -> Reading:
    """Return the reading that `text` means in the unit `unit_text`.

    text : as typed, or a number (answers files hold numbers). A decimal point or comma; a sign; an exponent; an SI
           prefix alone (`1.2 k`: it goes with the test's unit), or a unit of the same quantity, with or without prefix;
           `OL` in any case (above the meter's range). `m` (milli) and `M` (mega) differ; `K` reads as kilo
           where it cannot be kelvin.
    plain : for the absence of voltage. The plain unit only: no prefix, no exponent; `OL` (with either sign) is above.
            A comma before three digits (`1,200`) is then asked back, because a slip there could kill.

    Raises ReadingError, saying what was expected and what to type; WrongUse where `unit_text` is not a unit.
    """
    wanted = unit(unit_text)
    typed = _typed(text)
    cleaned = typed.translate(_LOOK_ALIKES).strip()
    expected = f"a number in {wanted}" if wanted.name else "a number"
    if not cleaned:
        raise ReadingError(f"nothing was typed; type {expected}, {_OR_OL}")
    if len(cleaned) > _LONGEST:
        raise ReadingError(f"`{cleaned[:_LONGEST]}...` is too long for a reading; type {expected}")
    over = _OVER_RANGE.match(cleaned)
    if over is not None:
        return _over_range(over, cleaned, typed, wanted, plain)
    found = _NUMBER.match(cleaned)
    if found is None:
        raise ReadingError(f"`{cleaned}` is not a reading: {_question(cleaned, expected)}")
    sign, digits, exponent = found.groups()
    rest = cleaned[found.end() :].strip()
    if rest[:1].isdigit() or re.match("[A-Za-zµ][0-9]", rest) or _ZERO_L.match(cleaned):
        raise ReadingError(f"`{cleaned}` is not one number: {_question(cleaned, expected)}")
    if abs(int(exponent or 0)) > _LARGEST_EXPONENT:
        raise ReadingError(f"`{cleaned}` is beyond anything a meter shows; type {expected}")
    if plain and exponent is not None and isinstance(text, str):
        raise ReadingError(f"`{cleaned}` has an exponent; type the plain number in {wanted}, like 0.4")
    if plain and _GROUPED.fullmatch(found.group()):
        whole, point = digits.replace(",", ""), digits.replace(",", ".")
        raise ReadingError(f"`{cleaned}` could be {whole} or {point}: type the one that the meter shows")
    typed_in = _typed_unit(rest, cleaned, wanted, plain)
    _, _, decimals = digits.replace(",", ".").partition(".")
    number = f"{sign}{digits.replace(',', '.')}e{exponent or 0}"
    count = f"1e{int(exponent or 0) - len(decimals)}"
    if typed_in is wanted:
        return Reading(float(number), wanted, typed, last_digit=float(count))
    value = typed_in.convert(Fraction(number), wanted)
    step = typed_in.convert(Fraction(number) + Fraction(count), wanted) - value
    return Reading(float(value), wanted, typed, last_digit=float(step))


def _typed(text: object) -> str:
    """Return the text, or a number as a person would type it. Raises ReadingError for all else."""
    if isinstance(text, str):
        return text
    if isinstance(text, bool) or not isinstance(text, int | float):
        raise ReadingError(f"{str(text)[:_LONGEST]!r} ({type(text).__name__}) is not a reading; type a number")
    if isinstance(text, int):
        # Python refuses to write out integers of thousands of digits.
        return str(text) if abs(text) < 10**_LONGEST else "9" * (_LONGEST + 1)
    return repr(text)


def _question(cleaned: str, expected: str) -> str:
    """Return what to ask back for text that is not one number."""
    if cleaned[:1] in "<>~≥≤≈":
        return f"type the number that the meter shows ({expected}), {_OR_OL}"
    if _ZERO_L.match(cleaned):
        return "where the meter shows that it is above its range, type OL with the letter O"
    if re.match(r"[+-]?(nan|inf)", cleaned, re.IGNORECASE):
        return f"type {expected}, {_OR_OL}"
    if re.match("[+-]?[0-9]+[A-Za-zµ][0-9]", cleaned):
        return f"type {expected} with a decimal mark, and the prefix behind it, like 4.7 k"
    start = re.match(r"[+-]?[0-9., ]*[0-9.,]", cleaned)
    body = start.group() if start else ""
    marks = re.findall("[.,]", body)
    if len(marks) > 1:
        return f"it has {len(marks)} decimal marks; type {expected} with one, and without a mark between thousands"
    if re.search("[0-9] +[0-9]", body):
        return f"there is a space inside it; type {expected} without one, like 1200 or 1.2 k"
    if body and body[-1] in ".,":
        return f"a digit is missing after the decimal mark; type {expected}"
    return f"type {expected}, like 12.4, {_OR_OL}"


def _over_range(over: re.Match[str], cleaned: str, typed: str, wanted: Unit, plain: bool) -> Reading:
    _typed_unit(cleaned[over.end() :].strip(), cleaned, wanted, plain)
    if over.group(1) == "-" and not plain:
        raise ReadingError(f"`{cleaned}` is below the meter's range: take a higher range or swap the leads, and repeat")
    return Reading(inf, wanted, typed, over_range=True)


def _typed_unit(rest: str, cleaned: str, wanted: Unit, plain: bool) -> Unit:
    """Return the unit in which the number was typed: what stands behind it, or the wanted one."""
    if not rest:
        return wanted
    if rest == "C" and wanted.dimension == TEMPERATURE:
        return unit("degC")
    if wanted.dimension == TEMPERATURE and rest.casefold() in _FAHRENHEIT:
        raise ReadingError(f"`{cleaned}`: degrees Fahrenheit are not read; type it in {wanted}, like 21.5")
    kilo = "k" + rest[1:] if rest[0] == "K" and wanted.dimension != TEMPERATURE else rest
    power = prefix(kilo)
    found: Unit | None = None
    if power is not None and wanted.dimension.exponents != (0, 0, 0, 0, 1, 0):
        own = wanted.prefixed and wanted.name.startswith(kilo)  # `12.4 k` of a reading in kohm says nothing new
        found = wanted if own else _with_prefix(power, rest, cleaned, wanted)
    else:
        try:
            found = unit(kilo)
        except WrongUse as error:
            advice = _without_words(cleaned, rest)
            raise ReadingError(f"`{cleaned}` is not a reading in {wanted}: {error}; {advice}") from error
    if found.dimension.without_percent() != wanted.dimension.without_percent():
        raise ReadingError(
            f"`{cleaned}` is in {found} ({found.dimension}), but this reading is in {wanted} ({wanted.dimension}); "
            f"measure that, or type the number in {wanted}, like 12.4"
        )
    if plain and (found.factor != wanted.factor or found.offset != wanted.offset):
        raise ReadingError(f"`{cleaned}` has a prefix; type the plain number in {wanted}, like 0.4")
    return found


def _without_words(cleaned: str, rest: str) -> str:
    """Return what to type where a unit is not understood: never the number without the prefix that stands behind it."""
    first = rest.split(" ")[0]
    if prefix("k" if first == "K" else first) is None:
        return "type the number with its prefix, if it has one, and no unit, like 350 or 350 k"
    return f"type `{cleaned.removesuffix(rest).strip()} {first}`"


def _with_prefix(power: int, rest: str, cleaned: str, wanted: Unit) -> Unit:
    if not wanted.prefixable:
        carries = "carries a prefix already" if wanted.prefixed else "takes no prefix"
        raise ReadingError(f"`{cleaned}`: {wanted} {carries}, so `{rest}` is not clear; type the number in {wanted}")
    return Unit(rest + wanted.name, wanted.dimension, wanted.factor * Fraction(10) ** power, prefixed=True)
