"""Which subject a test, a reading or an act belongs to, so that progress can be told by subject.

The rule, in this order:
1. The first reading whose observable (`of:`) names a circuit, by the table `_OF_READING`.
2. Otherwise what the test can find: over all causes that show something unhealthy at it, the per cents of unhealthy
   outcomes are counted for the subject of the broken part (`fault:`, by `_OF_PART`); the heaviest subject has it.
3. Otherwise supply: questions about the charge point, the house, timers and settings.
Making safe, accesses and proofs of absence are safety, whatever test they serve.
"""

from __future__ import annotations

from collections import Counter
from typing import Final

from diagtree.knowledge.words import Catalogue, Test

PILOT, PROXIMITY, SENSORS = "pilot", "proximity", "sensors"
INSULATION, SUPPLY, SAFETY = "insulation", "supply", "safety"
SUBJECTS: Final = (PILOT, PROXIMITY, SENSORS, INSULATION, SUPPLY, SAFETY)
MEANS: Final = {
    PILOT: "control pilot and what the charge point offers",
    PROXIMITY: "proximity contact, coding of the cable, plug and lock",
    SENSORS: "temperature sensors and what gets hot",
    INSULATION: "insulation, leakage and residual current",
    SUPPLY: "mains, wires, charger and settings",
    SAFETY: "making safe, accesses, absence of voltage",
}

# Looked for in this order in the name of an observable; the first that is in it has the reading.
_OF_READING: Final = (
    ("pilot", PILOT),
    ("proximity", PROXIMITY),
    ("plug", PROXIMITY),
    ("lock", PROXIMITY),
    ("insulation", INSULATION),
    ("residual", INSULATION),
    ("rcd", INSULATION),
    ("chassis", INSULATION),
    ("temperature", SENSORS),
    ("sensor", SENSORS),
    ("", SUPPLY),
)
_OF_PART: Final = {
    "pilot": PILOT,
    "proximity": PROXIMITY,
    "plug": PROXIMITY,
    "lock": PROXIMITY,
    "inlet.ac_sensor": SENSORS,
    "inlet.dc_sensor": SENSORS,
    "inlet.ac_contact": SENSORS,
    "inlet.dc_contact": SENSORS,
    "inlet.connector": SENSORS,
    "charger.cooling": SENSORS,
    "DC+": INSULATION,
    "DC-": INSULATION,
    "earth": INSULATION,
}


def of_reading(observable: str) -> str:
    """Return the subject of an observable by its name, such as `resistance(proximity, plug)`."""
    return next(subject for word, subject in _OF_READING if word in observable)


def subject_of(test: Test, catalogue: Catalogue) -> str:
    """Return the subject of a test of `catalogue`, by the rule at the top of this file."""
    for read in test.reads:
        if read.of is not None:
            return of_reading(read.of)
    weights: Counter[str] = Counter()
    for cause in catalogue.causes.values():
        shown = cause.shows.get(test.id, {})
        unhealthy = sum(share for outcome, share in shown.items() if outcome != test.healthy)
        for part, fault in cause.fault.items():
            weights[_of_fault(part, fault)] += round(unhealthy)
    # Equal weights: the order of SUBJECTS, so that the answer does not hang on the order of a file.
    return max(SUBJECTS, key=lambda subject: weights[subject]) if sum(weights.values()) else SUPPLY


def _of_fault(part: str, fault: str | float) -> str:
    if isinstance(fault, str) and fault.startswith("leakage"):
        return INSULATION
    return _OF_PART.get(part, SUPPLY)
