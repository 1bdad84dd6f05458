"""A reading, a car, a temperature, a meter: in limit or not? Judged as a walk judges it, uncertainty included.

Readings come from the simulated car: a sound one, a faulty one, or moved to just beside a limit, where it is learnt
what a meter can still tell.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from diagtree.car.car import Car
from diagtree.errors import DiagtreeError
from diagtree.knowledge.words import Test
from diagtree.physics.meter import COVERAGE, is_close
from diagtree.physics.setup import Conditions
from diagtree.quiz.drills import Dice, Drill, Option, Question
from diagtree.quiz.near_limit import near_a_limit
from diagtree.quiz.reading_words import facts_named, given, rule, why
from diagtree.quiz.subject import subject_of
from diagtree.walk.context import Walk
from diagtree.walk.judging import Verdict, read, verdict

NEAR, SOUND = 0.55, 0.2  # shares of questions beside a limit and from a sound car; the rest has a fault
IN, OUT, CLOSE = "in", "out", "close"
_COLDEST, _WARMEST = -10, 38  # degC, workshops with open doors


def _subjects(walks: Sequence[Walk]) -> frozenset[str]:
    found: set[str] = set()
    for walk, test, subject in _numeric(walks):
        if subject not in found and _can_be_asked(walk, test):  # asked for once a subject: physics takes its time
            found.add(subject)
    return frozenset(found)


def _ask(walks: Sequence[Walk], subject: str, dice: Dice) -> Question:
    jobs = dice.shuffled([(walk, test) for walk, test, own in _numeric(walks) if own == subject], "test")
    walk, test = next((walk, test) for walk, test in jobs if _can_be_asked(walk, test))
    ambient = float(_COLDEST + int(dice.chance("ambient") * (_WARMEST - _COLDEST + 1)))
    typed = _typed(walk, test, Conditions(ambient=ambient), dice)
    readings = read(walk, test, typed)
    found = verdict(walk, test, readings, {})
    vehicle = walk.catalogue.vehicle
    return Question(
        drill="reading",
        subject=subject,
        about=test.id,
        heading=f"{vehicle.name if vehicle else 'A car'}, {ambient:g} °C in the bay",
        situation=(test.ask, *given(walk, test, readings), *facts_named(walk, test)),
        ask="In limit for this test on this car?",
        options=(
            Option(IN, "in limit: what a sound car shows"),
            Option(OUT, "out of limit"),
            Option(CLOSE, "too close to a limit: this measurement cannot tell"),
        ),
        right=frozenset({judged(test, found)}),
        why=why(test, found),
        hint=rule(test, found),
    )


def judged(test: Test, found: Verdict) -> str:
    """Return `close` where the expanded uncertainty reaches over a limit of the healthy outcome, else `in` or `out`."""
    names = test.outcome_ids()
    place = names.index(test.healthy)
    beside = [
        found.limits[names[number]] for number in (place - 1, place) if number >= 0 and names[number] in found.limits
    ]
    if is_close(beside, found.value, COVERAGE * found.deviation):
        return CLOSE
    return IN if found.judged.outcome == test.healthy else OUT


def _numeric(walks: Sequence[Walk]) -> Iterator[tuple[Walk, Test, str]]:
    """Give the tests with numbers of each car, with their subject."""
    for walk in walks:
        for test in walk.catalogue.tests.values():
            if test.reads:
                yield walk, test, subject_of(test, walk.catalogue)


def _can_be_asked(walk: Walk, test: Test) -> bool:
    """Return whether the test can be simulated and judged on this car."""
    try:
        shown = _car(walk, None, "may it be asked", Conditions()).answer(test.id).readings
        if not shown:
            return False
        verdict(walk, test, read(walk, test, shown), {})
    except DiagtreeError:  # a maker's value is missing: on this car nobody could judge it either
        return False
    return True


def _typed(walk: Walk, test: Test, conditions: Conditions, dice: Dice) -> dict[str, str]:
    """Return readings as typed: of a sound car, of a faulty one, or beside a limit."""
    sound = dict(_car(walk, None, dice.seed, conditions).answer(test.id).readings)
    kind = dice.chance("kind")
    if kind < NEAR and (moved := near_a_limit(walk, test, sound, dice)) is not None:
        return moved
    broken = [
        cause.id
        for cause in walk.catalogue.causes.values()
        if cause.fault and any(share and name != test.healthy for name, share in cause.shows.get(test.id, {}).items())
    ]
    if kind < NEAR + SOUND or not broken:
        return sound
    shown = _car(walk, dice.pick(broken, "cause"), dice.seed, conditions).answer(test.id).readings
    return dict(shown) if shown and _judgeable(walk, test, shown) else sound


def _judgeable(walk: Walk, test: Test, typed: object) -> bool:
    assert isinstance(typed, dict)
    try:
        verdict(walk, test, read(walk, test, typed), {})
    except DiagtreeError:  # two infinite readings have no quotient
        return False
    return True


def _car(walk: Walk, cause: str | None, seed: str, conditions: Conditions) -> Car:
    return Car(walk.catalogue, walk.facts, walk.meters, cause, seed, conditions)


DRILL = Drill(id="reading", mode="reading", subjects=_subjects, ask=_ask)
