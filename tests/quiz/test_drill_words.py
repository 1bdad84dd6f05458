"""What drills say: lists of covers that can be read, and readings too close to a limit to tell."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from itertools import pairwise

import pytest

from diagtree.knowledge.house import MeterAccuracy
from diagtree.knowledge.words import Power
from diagtree.physics.reading import parse_reading
from diagtree.quiz.drills import Dice
from diagtree.quiz.drills.absence_of_voltage import DRILL as ABSENCE
from diagtree.quiz.drills.may_it_be_done import DRILL as MAY_IT
from diagtree.quiz.drills.may_it_be_done import NOW, PROOF, CarNow, missing
from diagtree.quiz.drills.reading import DRILL as READING
from diagtree.reason.arrangement import Arrangement, Need
from diagtree.walk.context import Walk
from tests.quiz.test_drills import walks


def test_lists_of_covers_are_short_and_not_ambiguous() -> None:
    """Covers have commas in their names: semicolons part them, and moves of one kind are told in one breath."""
    told = moved = 0
    for number in range(60):
        question = MAY_IT.ask(walks(), "safety", Dice(f"lists {number}"))
        for line in question.situation:
            if line.startswith(("Open or removed: ", "Where it is measured or fitted: behind ")):
                names = line.partition(": ")[2].removeprefix("behind ").rstrip(".").split("; ")
                known = [one.name for walk in walks() for one in walk.layout.access.values()]
                assert all(name == "nothing" or any(one.startswith(name) for one in known) for name in names)
                told += len(names) > 2
        for line in question.why:
            if line.startswith("In this order: "):
                parts = [part.split(" ")[0] for part in line.removeprefix("In this order: ").split("; then ")]
                assert all(one != other for one, other in pairwise(parts))
                moved += len(parts) > 2
    assert told > 3
    assert moved > 3


def test_a_reading_too_close_to_tell_says_what_it_may_be() -> None:
    seen = set()
    for number in range(60):
        question = READING.ask(walks(), "insulation", Dice(f"close {number}"))
        judged = next(line for line in question.why if line.startswith("Judged: "))
        assert ("may be `" in judged) == (" reaches over it" in " ".join(question.why))
        seen.add(" or `" in judged)
    assert seen == {True, False}


def in_a_house(**other: object) -> Walk:
    first = walks()[0]
    assert first.library.workshop is not None
    workshop = replace(first.library.workshop, **other)  # type: ignore[arg-type]
    return replace(first, library=replace(first.library, workshop=workshop))


def test_the_voltmeters_that_are_told_are_those_that_the_answer_rests_on() -> None:
    """One is poorer at high readings, one at low ones: the uncertainty in the reason comes of what was told."""
    meters = {"tester": {"volt": MeterAccuracy(0.8, 0)}, "old": {"volt": MeterAccuracy(0.5, 20)}}
    walk, seen = in_a_house(meters={**meters, "good": {"volt": MeterAccuracy(0.5, 2)}}), 0
    for number in range(12):
        question = ABSENCE.ask((walk,), "safety", Dice(f"meters {number}"))
        told = next(line for line in question.situation if "voltmeter" in line)
        good = [(float(a), float(b)) for a, b in re.findall(r"([\d.]+) % of the reading \+ ([\d.]+) counts", told)]
        for line in question.why:
            if found := re.match(r"(.+): [\d.]+ V \+ (\S+) V uncertainty", line):
                text = next(one for one in question.situation if one.startswith(f"{found[1]}: ")).split(": ")[1]
                reading = parse_reading(text, "volt")
                worst = max(a / 100 * abs(reading.value) + b * reading.last_digit for a, b in good)
                assert float(found[2]) == pytest.approx(2 * worst / math.sqrt(3), rel=0.06)
                seen += 1
    assert seen > 20


@pytest.mark.parametrize(("minutes", "right"), [(959, NOW), (960, NOW), (1440, NOW), (1441, PROOF)])
def test_a_proof_is_good_for_the_house_s_time_be_it_a_whole_day(minutes: int, right: str) -> None:
    """A house may say 24 h: a proof of yesterday evening counts, whatever the clock's date is by then."""
    walk = in_a_house(absence_holds=1440.0)
    assert missing(walk, CarNow(Arrangement(dead=True), minutes), Need(Power.DEAD))[0] == {right}
