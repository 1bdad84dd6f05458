"""Flip distances: the guesses that matter, found by solving again."""

from __future__ import annotations

import pytest

from diagtree.reason.flips import flips, guesses
from diagtree.reason.plan import Act, Solver
from diagtree.reason.problem import compile_problem
from tests.documents import words
from tests.reason.test_next_act import workshop


def test_the_flip_of_a_tests_minutes_by_hand() -> None:
    """Trying the sensor first, untested, wastes for 78 of 100 cars 20 (part) + 60 + 10 + 10 + 10 + 25 + 10 = 145.

    The test costs its minutes for everybody: it is worth doing below 0.78 * 145 = 113.1 minutes.
    """
    document = workshop()
    document["tests"]["ohms"]["minutes"] = 40
    known = words(document)
    found, tried, of = flips(known.tree, known.catalogue, known.house, most=99)
    assert tried == of == len(list(guesses(known.tree, known.catalogue)))
    flip = {(flip.kind, flip.of): flip for flip in found}["minutes", "ohms"]
    assert flip.at == pytest.approx(113.1, abs=0.2)
    assert flip.becomes == Act("correct", "sensor")
    assert flip.wrong == pytest.approx(160 - 113.1)


def test_each_flip_really_changes_the_first_act_and_just_before_it_nothing_changes() -> None:
    known = words(workshop())
    now = Solver(compile_problem(known.tree, known.catalogue, known.house)).solve().first_act
    found, _, _ = flips(known.tree, known.catalogue, known.house, most=99)
    assert found
    by_name = {(guess.kind, guess.of): guess for guess in guesses(known.tree, known.catalogue)}
    for flip in found:
        guess = by_name[flip.kind, flip.of]
        just_before = flip.at + (flip.value - flip.at) * 0.02
        acts = [
            Solver(compile_problem(*guess.change(value), known.house)).solve().first_act
            for value in (flip.at, just_before)
        ]
        assert acts[0] == flip.becomes != now
        assert acts[1] == now


def test_no_more_than_time_allows() -> None:
    known = words(workshop())
    found, tried, of = flips(known.tree, known.catalogue, known.house, out_of_time=lambda: True)
    assert (found, tried) == ((), 0)
    assert of > 0


def test_beginning_with_a_test_that_no_longer_parts_anything_costs_its_price() -> None:
    """Were both causes to show `bad`, the test would be 6 minutes for nothing: all the rest is done anyway."""
    known = words(workshop())
    found, _, _ = flips(known.tree, known.catalogue, known.house, most=99)
    flip = {(flip.kind, flip.of): flip for flip in found}["shows", "sensor: ohms fine"]
    assert flip.becomes == Act("correct", "sensor")
    assert flip.wrong == pytest.approx(6)


def test_two_outcomes_are_one_guess() -> None:
    document = workshop()
    document["causes"]["sensor"]["shows"]["ohms"] = {"fine": 90, "bad": 10}
    known = words(document)
    shown = [guess.of for guess in guesses(known.tree, known.catalogue) if guess.kind == "shows"]
    assert shown == ["harness: ohms bad", "sensor: ohms fine"]
