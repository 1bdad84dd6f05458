"""A safety limit needs the whole of the meter's uncertainty on the safe side (ILAC-G8:09/2019: guard band w = U)."""

from __future__ import annotations

from functools import cache

from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.knowledge.files import load
from diagtree.physics.meter import Accuracy, expanded_uncertainty, specified_error
from diagtree.walk.context import Walk
from diagtree.walk.judging import Verdict, read, verdict
from diagtree.walk.verdict_text import verdict_lines

LIMIT, METER = 1e6, Accuracy(3, 2)  # UN R100, 5.1.3.4; the insulation tester of trees/workshop.yaml


@cache
def walk() -> Walk:
    return Walk.begin(load(), "ac-fails-dc-works", "petrel-2")


def judged(typed: str) -> Verdict:
    test = walk().test("inlet-insulation")
    return verdict(walk(), test, read(walk(), test, {"insulation": typed}), {})


@given(st.integers(900, 1200))
@settings(deadline=None)
def test_good_needs_the_whole_uncertainty(kilo_ohms: int) -> None:
    ohms = kilo_ohms * 1e3
    found = judged(f"{kilo_ohms} k")
    guard = expanded_uncertainty(specified_error(METER, ohms, 1e3))
    assert found.judged.outcome == ("good" if ohms - guard >= LIMIT else "low")
    assert found.judged.close == (abs(ohms - LIMIT) < guard)


def test_a_reading_just_above_counts_as_low_and_says_why() -> None:
    found = judged("1.01 M")
    assert (found.judged.outcome, found.judged.close) == ("low", True)
    assert found.judged.chances["good"] > 0.5, "as evidence it still counts by its chances"
    lines = "\n".join(verdict_lines(walk().test("inlet-insulation"), found))
    assert "a matter of safety: good only with the whole uncertainty on the safe side" in lines


def test_far_above_is_good() -> None:
    assert judged("20 M").judged.outcome == "good"
    assert judged("OL").judged.outcome == "good"
