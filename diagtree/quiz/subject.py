"""Which subject a test, a reading or an act belongs to, so that progress can be told by subject.

A test, in this order:
1. The first reading whose observable (`of:`) names a circuit, by a word of its name (`_OF_WORD`).
2. Otherwise what the test can find: over all causes that show something unhealthy at it, the per cents of unhealthy
   outcomes are counted for the subject of the broken part (`fault:`, by `_OF_PART`); the heaviest subject has it.
3. Otherwise a word of its id; otherwise supply: questions about the charge point, the house, timers and settings.

A cause: its broken part; otherwise a word of its id; otherwise where most of the measurements that show it belong, by
their per cents; otherwise supply.
Making safe, accesses and proofs of absence are safety, whatever test they serve.
"""

from __future__ import annotations

import re
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

# Looked for in this order among the words of a name; the first that is there has it.
_OF_WORD: Final = (
    ("pilot", PILOT),
    ("proximity", PROXIMITY),
    ("lock", PROXIMITY),
    ("insulation", INSULATION),
    ("residual", INSULATION),
    ("rcd", INSULATION),
    ("chassis", INSULATION),
    ("temperature", SENSORS),
    ("sensor", SENSORS),
    ("burnt", SENSORS),
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
    "rcd": INSULATION,
}


def of_reading(observable: str) -> str:
    """Return the subject of an observable by the words of its name, such as `resistance(proximity, plug)`."""
    return _of_words(observable) or SUPPLY


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
            weights[_of_fault(part, fault) or SUPPLY] += round(unhealthy)
    # Equal weights: the order of SUBJECTS, so that the answer does not hang on the order of a file.
    if sum(weights.values()):
        return max(SUBJECTS, key=lambda subject: weights[subject])
    return _of_words(test.id) or SUPPLY


def subject_of_cause(cause: str, catalogue: Catalogue) -> str:
    """Return the subject of a cause, by the rule at the top of this file."""
    if cause not in catalogue.causes:
        return SUPPLY
    found = catalogue.causes[cause]
    for part, fault in found.fault.items():
        if subject := _of_fault(part, fault):
            return subject
    if subject := _of_words(cause):
        return subject
    weights: Counter[str] = Counter()
    for test, shown in found.shows.items():
        if test in catalogue.tests and catalogue.tests[test].reads:  # what is measured tells more than what is asked
            healthy = catalogue.tests[test].healthy
            unhealthy = sum(share for outcome, share in shown.items() if outcome != healthy)
            weights[subject_of(catalogue.tests[test], catalogue)] += round(unhealthy)
    return max(SUBJECTS, key=lambda subject: weights[subject]) if sum(weights.values()) else SUPPLY


def _of_fault(part: str, fault: str | float) -> str | None:
    """Return the subject of a broken part; None where what is wrong with it says too little."""
    if isinstance(fault, str) and fault.startswith("leakage"):
        return INSULATION
    return _OF_PART.get(part) or (_of_words(fault) if isinstance(fault, str) else None)


def _of_words(name: str) -> str | None:
    words = set(re.split("[^a-z0-9]+", name.casefold()))
    return next((subject for word, subject in _OF_WORD if word in words), None)
