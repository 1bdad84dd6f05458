"""How many clean charges prove a repair, and how sure they make us.

All of it assumes trials that reproduce the trigger (temperature, movement, plug, current) and are independent.
Sources: binomial distribution; rule of three (encyclopaedia article "Rule of three (statistics)"); Bayes' rule;
A. Wald, "Sequential tests of statistical hypotheses", Annals of Mathematical Statistics 16 (1945).
"""

from __future__ import annotations

import math
from enum import Enum

from diagtree.errors import OutOfRange
from diagtree.records import dataclass


def clean_trials(confidence: float, chance: float) -> int:
    """Return how many charges without the fault give a confidence that it is gone. [-]

    confidence : wanted, above 0 and below 1. [-]
    chance : of the unrepaired fault to show in one trial, above 0 and up to 1. [-]

    Raises OutOfRange outside these ranges.
    Source: n = ln(1 - C) / ln(1 - p), rounded up.
    """
    exact = exact_clean_trials(confidence, chance)
    # A whole number that rounding errors put a hair above itself is that whole number.
    return max(1, math.ceil(exact - 1e-9))


def exact_clean_trials(confidence: float, chance: float) -> float:
    """Return the number of clean trials before it is rounded up. [-] Inputs and errors as for `clean_trials`."""
    _inside("confidence", confidence)
    _chance(chance)
    return 0.0 if chance == 1.0 else math.log1p(-confidence) / math.log1p(-chance)


def confidence_after(trials: int, chance: float) -> float:
    """Return the confidence that so many clean trials give; the inverse of `exact_clean_trials`. [-]

    trials : clean charges, 0 or more [-]; chance : as for `clean_trials` [-]. Raises OutOfRange outside.
    """
    _count("trials", trials, 0)
    _chance(chance)
    return 1.0 - (1.0 - chance) ** trials


def highest_chance(trials: int, confidence: float = 0.95) -> float:
    """Return the upper bound of the fault's chance per trial after clean trials only. [-]

    trials : clean charges, 1 or more [-]; confidence : above 0 and below 1 [-]. Raises OutOfRange outside.
    Source: 1 - (1 - C)^(1/n), exact for the binomial distribution.
    """
    _count("trials", trials, 1)
    _inside("confidence", confidence)
    return -math.expm1(math.log1p(-confidence) / trials)


def rule_of_three(trials: int) -> float:
    """Return 3/n, the usual shortcut for `highest_chance` at 95 per cent. [-] Raises OutOfRange below one trial."""
    _count("trials", trials, 1)
    return 3.0 / trials


def clean_hours(confidence: float, hours_per_event: float) -> float:
    """Return the running time without the fault that gives a confidence, the fault coming at a constant rate. [h]

    confidence : above 0 and below 1 [-]; hours_per_event : mean time between events before, above 0 [h].
    Raises OutOfRange outside. Source: exponential distribution.
    """
    _inside("confidence", confidence)
    if not 0.0 < hours_per_event < math.inf:
        raise OutOfRange(
            f"`hours_per_event` = {hours_per_event!r} must be above 0 h: type the mean time between events"
        )
    return -math.log1p(-confidence) * hours_per_event


def belief_in_repair(prior: float, chance: float, trials: int) -> float:
    """Return the probability that the repair was right after clean trials. [-]

    prior : belief before the trials, 0 to 1 [-]; chance, trials : as for `confidence_after`.
    Raises OutOfRange outside. Source: Bayes' rule.
    """
    if not 0.0 <= prior <= 1.0:
        raise OutOfRange(f"`prior` = {prior!r} is no probability: type 0 to 1")
    _count("trials", trials, 0)
    _chance(chance)
    still_faulty = (1.0 - prior) * (1.0 - chance) ** trials
    return 1.0 if prior == 1.0 else prior / (prior + still_faulty) if prior + still_faulty > 0.0 else 0.0


class Decision(Enum):
    """Where a sequential test stands."""

    REPAIRED = "repaired"
    STILL_FAULTY = "still faulty"
    UNDECIDED = "undecided"


@dataclass(frozen=True, slots=True)
class SequentialTest:
    """Wald's sequential test of a repair: how often the fault shows now, against how often it did.

    repaired, faulty : chance of the fault per trial after a good repair, and unrepaired. [-]
    false_alarm, missed : chances of calling a good repair faulty, and a faulty car repaired. [-]
    """

    repaired: float
    faulty: float
    false_alarm: float = 0.05
    missed: float = 0.05

    def __post_init__(self) -> None:
        for name in ("repaired", "faulty", "false_alarm", "missed"):
            _inside(name, getattr(self, name))
        if not self.repaired < self.faulty:
            raise OutOfRange(f"`repaired` = {self.repaired!r} must be below `faulty` = {self.faulty!r}: swap them")
        if self.false_alarm + self.missed >= 1.0:
            raise OutOfRange("`false_alarm` and `missed` must add up to less than 1: type 0.05 for both")

    @property
    def upper(self) -> float:
        """Sum at which the car counts as still faulty. [-] Wald's approximation."""
        return math.log((1.0 - self.missed) / self.false_alarm)

    @property
    def lower(self) -> float:
        """Sum at which the car counts as repaired. [-] Wald's approximation."""
        return math.log(self.missed / (1.0 - self.false_alarm))

    @property
    def clean_step(self) -> float:
        """What a clean trial adds. [-]"""
        return math.log((1.0 - self.faulty) / (1.0 - self.repaired))

    @property
    def fault_step(self) -> float:
        """What a trial with the fault adds. [-]"""
        return math.log(self.faulty / self.repaired)

    def total(self, clean: int, faults: int) -> float:
        """Return the sum after so many clean trials and so many with the fault. [-]"""
        return clean * self.clean_step + faults * self.fault_step

    def decide(self, clean: int, faults: int = 0) -> Decision:
        """Return where the test stands after these trials. Raises OutOfRange for a negative count."""
        _count("clean", clean, 0)
        _count("faults", faults, 0)
        total = self.total(clean, faults)
        if total >= self.upper:
            return Decision.STILL_FAULTY
        return Decision.REPAIRED if total <= self.lower else Decision.UNDECIDED

    def clean_needed(self, faults: int = 0) -> int:
        """Return how many clean trials in all accept the repair, so many trials with the fault having occurred. [-]

        Whether the test has stopped as faulty before depends on the order of the trials: `decide` after each tells.
        """
        _count("faults", faults, 0)
        return max(0, math.ceil((self.lower - faults * self.fault_step) / self.clean_step - 1e-9))


def _inside(name: str, value: float) -> None:
    """Raise OutOfRange unless a probability lies strictly between 0 and 1."""
    if not 0.0 < value < 1.0:
        raise OutOfRange(f"`{name}` = {value!r} is out of range: type a number above 0 and below 1, such as 0.95")


def _chance(value: float) -> None:
    """Raise OutOfRange unless the fault can show at all."""
    if not 0.0 < value <= 1.0:
        raise OutOfRange(
            f"`chance` = {value!r} is out of range: type the share of trials in which the unrepaired fault shows, "
            "above 0 and up to 1"
        )


def _count(name: str, value: int, least: int) -> None:
    """Raise OutOfRange unless a count of trials is a whole number and not too small."""
    if value != value or value < least or value != int(value):
        raise OutOfRange(f"`{name}` = {value!r} is no count of trials: type a whole number, {least} or more")
