"""Drills: pure and seeded, and their right answers agree with checks that know nothing of the session's code."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest
import yaml
from hypothesis import example, given, settings
from hypothesis import strategies as st

from diagtree.errors import AnswerError
from diagtree.knowledge.files import load
from diagtree.quiz import drill_round
from diagtree.quiz.drill_round import DrillRound, HintGiven, Planned, askable, chosen, judge, step
from diagtree.quiz.drills import Dice, Drill, Question, drills
from diagtree.quiz.drills.reading import DRILL as READING
from diagtree.quiz.drills.signal import DRILL as SIGNAL
from diagtree.quiz.subject import SUBJECTS, of_reading, subject_of
from diagtree.walk.context import Walk

seeds = st.integers(0, 10**6).map(str)
some = settings(deadline=None, max_examples=60)


@cache
def walks() -> tuple[Walk, ...]:
    library = load(None)
    tree = sorted(library.trees)[0]
    return tuple(Walk.begin(library, tree, vehicle) for vehicle in library.profiles)


def ask(drill_id: str, seed: str) -> Question:
    drill = next(one for one in drills() if one.id == drill_id)
    subjects = sorted(drill.subjects(walks()))
    dice = Dice(seed)
    return drill.ask(walks(), dice.pick(subjects, "which"), dice)


# Of the profiles: V; where the maker's is not known, the 60 V DC of UN Regulation No. 100 stand.
LIMITS = {
    str(yaml.safe_load(path.read_text("utf-8"))["name"]): float(found) if found != "unknown" else 60.0
    for path in (Path(__file__).parents[2] / "trees" / "vehicles").glob("*.yaml")
    for found in [yaml.safe_load(path.read_text("utf-8"))["safety"]["dead_below"]]
}


def numbers(text: str) -> list[float]:
    return [float(one) for one in re.findall(r"-?\d+(?:\.\d+)?", text)]


@pytest.mark.parametrize("drill", drills(), ids=lambda one: one.id)
@given(seed=seeds)
@some
def test_every_question_can_be_answered_and_is_the_same_again(drill: Drill, seed: str) -> None:
    question = ask(drill.id, seed)
    ids = [option.id for option in question.options]
    assert question.right
    assert question.right <= set(ids)
    assert len(ids) == len(set(ids)) >= 2
    assert len({option.text for option in question.options}) == len(ids)
    assert question.many or len(question.right) == 1
    assert question.why
    assert question.hint
    assert question.subject in SUBJECTS
    assert question == ask(drill.id, seed)


# -- readings: judged again by hand-written formulas from what stands on the screen

KELVIN = 273.15


def ntc(celsius: float, r25: float, beta: float) -> float:
    """Beta form of an NTC: R = R25 exp(beta (1/T - 1/298.15))."""
    return r25 * math.exp(beta * (1 / (celsius + KELVIN) - 1 / 298.15))


def platinum(celsius: float, r0: float) -> float:
    """IEC 60751 with its coefficients; the cubic term below 0 degrees."""
    below = -4.183e-12 * (celsius - 100) * celsius**3 if celsius < 0 else 0.0
    return r0 * (1 + 3.9083e-3 * celsius - 5.775e-7 * celsius**2 + below)


def sensor_ratio(values: list[float], question: Question) -> float:
    car = next(line for line in question.situation if line.startswith("The car:"))
    facts = numbers(car.split("ac_sensor")[1])
    expected = ntc(values[1], *_beta(car)) if "ntc" in car else platinum(values[1], facts[-1])
    return values[0] / expected


def _beta(car: str) -> tuple[float, float]:
    found = dict(re.findall(r"(r25|beta) (\d+(?:\.\d+)?)", car))
    return float(found["r25"]), float(found["beta"])


# Test, judged number, and where a sound car lies, as the shipped catalogue states it for petrel-2.
BY_HAND: dict[str, tuple[Callable[[list[float], Question], float], float, float]] = {
    "inlet-insulation": (lambda v, _: v[0], 1e6, math.inf),
    "cable-coding": (lambda v, _: v[0], 60, 4500),
    "cable-continuity": (lambda v, _: v[0], -math.inf, 1),
    "charger-fuse": (lambda v, _: v[0], -math.inf, 2),
    "ac-volts-readout": (lambda v, _: v[0], 207, math.inf),
    "inlet-temperature-rise": (lambda v, _: v[1] - v[0], -math.inf, 35),
    "inlet-temperature-readout": (lambda v, _: v[0] - v[1], -8, 8),
    "inlet-sensor-resistance": (sensor_ratio, 0.85, 1.18),
}
PLATINUM_SENSOR = (0.97, 1.03)
PREFIX = {"k": 1e3, "M": 1e6, "G": 1e9, "T": 1e12}
READ = re.compile(r"^[\w ]+: (?P<number>OL|-?[\d.]+(?:e\d+)?) ?(?P<prefix>[kMGT]?)[^ (]* \((?P<meter>[^)]*)\)$")


def readings(question: Question) -> tuple[list[float], list[float]]:
    """Return the values on the screen and each one's expanded uncertainty, 2 a / sqrt(3)."""
    values, expanded = [], []
    for line in question.situation:
        if not (found := READ.match(line)):
            continue
        if found["number"] == "OL":
            values.append(math.inf)
            expanded.append(0.0)
            continue
        scale = PREFIX.get(found["prefix"], 1.0)
        digits = len(found["number"].partition(".")[2])
        values.append(float(found["number"]) * scale)
        if "exact" in found["meter"]:
            expanded.append(0.0)
        else:
            percent, counts = numbers(found["meter"].partition(":")[2])
            expanded.append(2 / math.sqrt(3) * (percent / 100 * abs(values[-1]) + counts * scale * 10**-digits))
    return values, expanded


@given(seed=seeds, subject=st.sampled_from(["sensors", "insulation", "proximity", "supply"]))
@example(seed="435", subject="sensors")  # a Marlin whose sensor is an NTC
@settings(deadline=None, max_examples=150)
def test_readings_are_judged_as_by_hand(seed: str, subject: str) -> None:
    question = READING.ask(walks(), subject, Dice(seed))
    if question.about not in BY_HAND:
        return
    compute, low, high = BY_HAND[question.about]
    if question.about == "inlet-sensor-resistance" and any("ac_sensor platinum" in one for one in question.situation):
        low, high = PLATINUM_SENSOR
    values, expanded = readings(question)
    assert values, question.situation
    judged = compute(values, question)
    # Each reading moved by its uncertainty alone, the moves added as squares (JCGM 100:2008, 5.1.2).
    moves = [
        compute([*values[:place], value + each, *values[place + 1 :]], question) - judged
        for place, (value, each) in enumerate(zip(values, expanded, strict=True)) if each
    ]
    total = math.sqrt(sum(move**2 for move in moves))
    nearest = min(abs(judged - limit) for limit in (low, high))
    if total and abs(nearest - total) < 0.05 * total:
        return  # first order against a finite step: too near to call by hand
    expected = "close" if nearest < total else "in" if low <= judged < high else "out"
    assert question.right == {expected}, (question.situation, judged, total)


def test_numbers_are_explained_without_powers_of_ten() -> None:
    told = [line for seed in range(40) for line in READING.ask(walks(), "insulation", Dice(str(seed))).why]
    assert any("away" in line for line in told)
    assert not [line for line in told if re.search(r"\de[+-]\d", line)]


def test_readings_fall_beside_limits_often_and_in_all_three_ways() -> None:
    subjects = sorted(READING.subjects(walks()))
    found = Counter(
        next(iter(READING.ask(walks(), subject, Dice(f"n{number}")).right))
        for subject in subjects for number in range(40)
    )
    assert all(found[one] >= 0.05 * found.total() for one in ("in", "out", "close")), found


# -- signals

# Low, high [ohm], current [A]: IEC 61851-1 Table B.3, as in the guide of an open charging-station stack.
BANDS = ((80, 140, 63), (164, 308, 32), (400, 936, 20), (1100, 2460, 13))
NOMINAL = {"A": 12.0, "B": 9.0, "C": 6.0, "D": 3.0}  # V at the station; SAE J1772, IEC 61851-1 Table A.3


@given(seed=seeds)
@some
def test_levels_and_codings_mean_what_the_tables_say(seed: str) -> None:
    question = SIGNAL.ask(walks(), "pilot", Dice(seed))
    said = next(option.text for option in question.options if option.id in question.right)
    value = numbers(question.situation[0].rpartition(": ")[2])[0]
    if "at the station" in question.situation[0]:
        near = [state for state, volts in NOMINAL.items() if abs(value - volts) < 0.99]
        if near:
            assert said.startswith(f"state {near[0]}:")
        elif all(abs(value - volts) > 1.01 for volts in NOMINAL.values()):
            assert said == "no valid state"
    elif "Duty" in question.situation[0]:
        if 10 <= value <= 85:
            assert said == f"{0.6 * value:.4g} A"
        elif 3 <= value <= 7:
            assert said == "digital communication required"
    question = SIGNAL.ask(walks(), "proximity", Dice(seed))
    said = next(option.text for option in question.options if option.id in question.right)
    ohms = numbers(question.situation[0].rpartition(": ")[2])[0]
    amps = [coded for low, high, coded in BANDS if low < ohms < high]
    assert said == (f"{amps[0]} A" if amps else said)
    assert ("no cable" in said) == (ohms < 60 or ohms > 4500)


# -- safety, from what the trainee reads, without arrangements


@given(seed=seeds)
@settings(deadline=None, max_examples=300)
def test_what_may_be_done_agrees_with_plain_rules(seed: str) -> None:
    question = ask("may-it-be-done", seed)
    told, right = " ".join(question.situation), question.right
    dead = "was proven" in told
    needs = next(line for line in question.why if line.startswith("The job needs"))
    spoilt = "somebody has been at the car" in told or (dead and numbers(told.split("proven")[1])[0] > 60)
    assert (right == {"now"}) == ("now" in right)
    if "a dead car" in needs:
        assert ("make-safe" in right) == (not dead)
        assert ("proof" in right) == (dead and spoilt)
        assert "re-energise" not in right
    if "a live car" in needs:
        assert ("re-energise" in right) == (dead or "make-safe" in right)
    behind = [line for line in question.situation if line.startswith("Where it is")]
    opened = next(line for line in question.situation if line.startswith("Open or removed"))
    if behind:
        wanted = behind[0].removeprefix("Where it is measured or fitted: behind ").rstrip(".")
        lacking = [name for name in wanted.split("; ") if name not in opened]
        if "a dead car" in needs and dead:
            assert ("open" in right) == bool(lacking)


@given(seed=seeds)
@settings(deadline=None, max_examples=200)
def test_pairs_count_as_dead_only_with_their_whole_uncertainty(seed: str) -> None:
    question = ask("absence-of-voltage", seed)
    limit = LIMITS[question.heading]
    bad = set()
    for number, line in enumerate(question.situation[1:4], 1):
        shown = line.rpartition(": ")[2].removesuffix(" V")
        if shown == "OL":
            bad.add(f"pair{number}")
            continue
        volts, digits = abs(float(shown)), len(shown.partition(".")[2])
        # The poorer of the shipped voltmeters: 2 % of the reading + 2 counts.
        if volts + 2 / math.sqrt(3) * (0.02 * volts + 2 * 10**-digits) >= limit:
            bad.add(f"pair{number}")
    assert question.right == (bad or {"none"})


@given(seed=seeds)
@settings(deadline=None, max_examples=100)
def test_the_three_voltages_of_a_proof_could_stand_on_one_car(seed: str) -> None:
    """Kirchhoff's voltage law: plus to minus is the difference of the two to chassis, within the display's digits."""
    lines = [line.rpartition(": ") for line in ask("absence-of-voltage", seed).situation[1:4]]
    shown = {points: text.removesuffix(" V") for points, _, text in lines}
    if "OL" in shown.values():
        assert sum(text == "OL" or abs(float(text)) > 400 for text in shown.values()) > 1  # one alone cannot be
        return
    rounding = sum(0.5 * 10.0 ** -len(text.partition(".")[2]) for text in shown.values())
    apart = float(shown["DC+ and chassis"]) - float(shown["DC- and chassis"])
    assert abs(float(shown["DC+ and DC-"]) - apart) <= rounding + 1e-9


ORDER = (
    "unplug", "switch-off", "disconnect", "disconnect", "secure", "wait", "prove-tester", "absence", "prove-tester",
)  # fmt: skip


@given(seed=seeds)
@some
def test_the_next_step_of_making_safe_is_the_first_that_is_not_done(seed: str) -> None:
    question = ask("making-safe", seed)
    steps = [step.do for step in walks()[0].catalogue.procedures["make-safe"].steps]
    done = [line.removeprefix("- ") for line in question.situation[1:]]
    due = steps.index(done[-1]) + 1 if done else 0
    assert question.right == {f"step{due + 1}"}
    others = {int(option.id.removeprefix("step")) - 1 for option in question.options} - {due}
    assert all(ORDER[other] != ORDER[due] for other in others)


# -- subjects


@pytest.mark.parametrize(("observable", "subject"), [
    ("voltage(pilot, station end, state B)", "pilot"), ("resistance(proximity, plug)", "proximity"),
    ("resistance(lock motor)", "proximity"), ("resistance(inlet.ac_sensor)", "sensors"),
    ("temperature(charger, charging 20 minutes)", "sensors"), ("insulation(inlet.ac_lead)", "insulation"),
    ("voltage(DC+, chassis)", "insulation"), ("current(residual, dc)", "insulation"),
    ("voltage(supply, l1)", "supply"), ("power(ac)", "supply"),
])  # fmt: skip
def test_observables_have_their_subject(observable: str, subject: str) -> None:
    assert of_reading(observable) == subject


def test_every_test_has_one_of_the_subjects() -> None:
    for walk in walks():
        assert {subject_of(test, walk.catalogue) for test in walk.catalogue.tests.values()} <= set(SUBJECTS)


# -- a round of drills


def planned(mode: str, seed: str, count: int = 4) -> DrillRound:
    subjects = askable(mode, walks())
    plan = tuple(subjects[number % len(subjects)] for number in range(count))
    first = walks()[0]
    cars = tuple(walk.vehicle for walk in walks())
    return DrillRound(walks(), Planned(mode, seed, first.tree, cars, plan, first.library.digest))


@given(mode=st.sampled_from(drill_round.MODES), seed=seeds, hints=st.lists(st.booleans(), min_size=4, max_size=4))
@some
def test_a_round_stored_and_read_again_stands_where_it_was(mode: str, seed: str, hints: list[bool]) -> None:
    played = planned(mode, seed)
    state, events = played.fold(()), [played.planned]
    for hint in hints:
        question = played.question(state)
        assert question is not None
        if hint:
            events.append(HintGiven(len(state.answered)))  # type: ignore[arg-type]
            state = step(state, events[-1])
        given = judge(question, state, sorted(question.right))
        assert given.right
        assert given.hinted == hint
        events.append(given)  # type: ignore[arg-type]
        state = step(state, given)
        again = played.fold(drill_round.from_json(drill_round.to_json(event)) for event in events)
        assert again == state
        assert played.question(again) == played.question(state)
    assert played.question(state) is None
    assert state.right == 4


@given(line=st.text(max_size=30), seed=st.sampled_from(["1", "2", "3"]))
@settings(deadline=None)
def test_junk_is_no_answer_and_breaks_nothing(line: str, seed: str) -> None:
    question = ask("making-safe", seed)
    try:
        found = chosen(question, line)
    except AnswerError:
        return
    assert set(found) <= {option.id for option in question.options}
