"""What drills say: lists of covers that can be read, and readings too close to a limit to tell."""

from __future__ import annotations

from itertools import pairwise

from diagtree.quiz.drills import Dice
from diagtree.quiz.drills.may_it_be_done import DRILL as MAY_IT
from diagtree.quiz.drills.reading import DRILL as READING
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
