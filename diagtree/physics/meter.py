"""What a meter's accuracy does to a reading: uncertainty, guard band, chance of conforming, chance of each outcome.

Sources: the meter's own specification "percent of reading + counts of the last digit"; JCGM 100:2008 (GUM) 4.3.7
for the rectangular distribution and 6.2 for the expanded uncertainty; ILAC-G8:09/2019 and JCGM 106:2012 for acceptance
limits and the chance of conforming.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from enum import StrEnum
from itertools import pairwise
from math import erfc, inf, isfinite, sqrt

from diagtree.errors import OutOfRange
from diagtree.physics.reading import Reading
from diagtree.physics.units import Unit, unit
from diagtree.records import dataclass

COVERAGE = 2.0
"""Coverage factor k of the expanded uncertainty: about 95 per cent of a normal distribution. [-]"""


@dataclass(frozen=True, slots=True)
class Accuracy:
    """A meter's specified accuracy in one unit.

    percent : share of the reading. [%]
    counts : counts of the last digit shown. [-]
    Raises OutOfRange where one is negative or not finite.
    """

    percent: float
    counts: float

    def __post_init__(self) -> None:
        for name, value in (("percent", self.percent), ("counts", self.counts)):
            if not (isfinite(value) and value >= 0):
                raise OutOfRange(f"a meter's {name}={value!r} must be a number from 0 upwards")


class Conformity(StrEnum):
    """Where a reading stands against a limit with its guard band (ILAC-G8:09/2019, 4.2.3)."""

    PASS = "pass"
    CONDITIONAL_PASS = "conditional pass"  # inside the limit, not by the whole uncertainty
    CONDITIONAL_FAIL = "conditional fail"  # outside the limit, not by the whole uncertainty
    FAIL = "fail"


def specified_error(accuracy: Accuracy, reading: float, last_digit: float) -> float:
    """Return a, the largest error allowed: percent of |reading| + counts * last digit. [unit of the reading]

    reading : finite number in its unit. last_digit : value of one count of the last digit, in the same unit.
    Raises OutOfRange where one is not finite or the last digit is negative.
    """
    if not isfinite(reading):
        raise OutOfRange(f"reading={reading!r} has no specified error; a reading above the range (OL) has none")
    if not (isfinite(last_digit) and last_digit >= 0):
        raise OutOfRange(f"last_digit={last_digit!r} must be a number from 0 upwards")
    return accuracy.percent / 100 * abs(reading) + accuracy.counts * last_digit


def standard_uncertainty(error: float) -> float:
    """Return u = a / sqrt(3), the standard uncertainty of a rectangular error of half-width a. [unit of a]

    Source: JCGM 100:2008, 4.3.7. Raises OutOfRange where `error` is negative or not finite.
    """
    if not (isfinite(error) and error >= 0):
        raise OutOfRange(f"error={error!r} must be a number from 0 upwards")
    return error / sqrt(3)


def expanded_uncertainty(error: float, coverage: float = COVERAGE) -> float:
    """Return U = k * a / sqrt(3); k = 2 covers about 95 per cent. [unit of a] Source: JCGM 100:2008, 6.2.1."""
    return coverage * standard_uncertainty(error)


def reading_uncertainty(reading: Reading, accuracy: Accuracy | None) -> float:
    """Return the standard uncertainty u of a reading, in its own unit. Without a meter it counts as exact: 0.

    A reading above the meter's range (OL) has none either: 0.
    """
    if accuracy is None or reading.over_range:
        return 0.0
    return standard_uncertainty(specified_error(accuracy, reading.value, reading.last_digit))


def accuracy_for(meter: Mapping[str, Accuracy], measured_in: Unit) -> Accuracy | None:
    """Return the accuracy a meter has for a unit, or None. `ohm` serves `kohm` too: counts are of the digit as typed.

    meter : unit as written in the workshop's file, to accuracy. Raises WrongUse where such a unit is unknown.
    """
    exact = next((value for name, value in meter.items() if unit(name) == measured_in), None)
    if exact is not None:
        return exact
    return next((value for name, value in meter.items() if unit(name).dimension == measured_in.dimension), None)


SHOWN_BY_CAR = tuple(f"temperature({part}" for part in ("inlet.ac_sensor", "inlet.dc_sensor", "battery", "charger"))
"""Observables that no hand meter reaches: what is typed for them is the car's own number, whatever else is at hand."""


def shown_by_car(observable: str | None) -> bool:
    """Return whether a reading is read out of the car: it has the uncertainty of no meter of the house."""
    return observable is not None and observable.startswith(SHOWN_BY_CAR)


def upper_acceptance_limit(limit: float, guard: float) -> float:
    """Return AL = TL - w: up to here a reading passes an upper limit. [unit of limit] Source: ILAC-G8:09/2019."""
    return limit - guard


def lower_acceptance_limit(limit: float, guard: float) -> float:
    """Return AL = TL + w: from here on a reading passes a lower limit. [unit of limit] Source: ILAC-G8:09/2019."""
    return limit + guard


def conformity(value: float, guard: float, lower: float = -inf, upper: float = inf) -> Conformity:
    """Return where `value` stands against the limits `lower` and `upper` with the guard band `guard` (usually U).

    A limit itself conforms, and so does an acceptance limit. Source: ILAC-G8:09/2019.
    """
    if not isfinite(value):
        return Conformity.PASS if lower <= value <= upper else Conformity.FAIL
    room = min(value - lower, upper - value)
    if room >= guard:
        return Conformity.PASS
    if room >= 0:
        return Conformity.CONDITIONAL_PASS
    return Conformity.CONDITIONAL_FAIL if room >= -guard else Conformity.FAIL


def safely_below(value: float, limit: float, expanded: float) -> bool:
    """Return whether |value| is below a safety limit by the whole expanded uncertainty. OL and NaN never are."""
    return abs(value) + expanded < limit


def safely_above(value: float, limit: float, expanded: float) -> bool:
    """Return whether `value` is above a safety limit by the whole expanded uncertainty. NaN never is."""
    return value - expanded > limit


def normal_below(limit: float, value: float, standard: float) -> float:
    """Return the chance that the true value is below `limit`: normal about `value` with `standard` uncertainty. [-]

    With no uncertainty it is 1 or 0, and a value on the limit is not below it. Source: JCGM 106:2012, 7.
    """
    if standard <= 0 or not isfinite(value) or not isfinite(limit):
        return 1.0 if value < limit else 0.0
    return 0.5 * erfc((value - limit) / (standard * sqrt(2)))


def chance_of_conforming(value: float, standard: float, lower: float = -inf, upper: float = inf) -> float:
    """Return the chance that the true value lies between the limits. [-] Source: JCGM 106:2012, 7."""
    return max(0.0, normal_below(upper, value, standard) - normal_below(lower, value, standard))


def false_acceptance_at_limit(guard_ratio: float, coverage: float = COVERAGE) -> float:
    """Return the chance of a false pass for a reading exactly at the acceptance limit. [-]

    guard_ratio : guard band w as a multiple of the expanded uncertainty U. Source: ILAC-G8:09/2019, after JCGM 106.
    """
    return normal_below(0.0, guard_ratio * coverage, 1.0)


def interval_chances(limits: Sequence[float], value: float, standard: float) -> tuple[float, ...]:
    """Return the chance of each interval that ascending `limits` cut: below the first, ..., not below the last. [-]

    They sum to 1 within rounding. Raises OutOfRange where the limits descend or are not numbers.
    """
    edges = tuple(limits)
    if any(edge != edge for edge in edges) or any(a > b for a, b in pairwise(edges)):
        raise OutOfRange(f"limits {edges!r} must ascend")
    below = (0.0, *(normal_below(edge, value, standard) for edge in edges), 1.0)
    return tuple(max(0.0, after - before) for before, after in pairwise(below))


def is_close(limits: Iterable[float], value: float, expanded: float) -> bool:
    """Return whether the expanded uncertainty U reaches over one of `limits`. A reading above the range (OL) is not."""
    return isfinite(value) and any(abs(value - limit) < expanded for limit in limits)
