"""A tree as a graph: branches, what is reached, steps left, loops."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings

from diagtree.knowledge.words import NOT_DONE, Conclude, Refer
from diagtree.reason.graph import (
    StepsLeft,
    branches,
    in_order,
    one_loop,
    reachable,
    steps_left,
)
from tests.documents import Known, words
from tests.strategies import documents


def made(steps: dict[str, Any], start: str = "a", stop: str | None = None) -> Known:
    """Return a knowledge with one test a step, outcomes no and yes, healthy no."""
    tests = {
        key: {
            "ask": "?", "place": "reception", "minutes": 1, "outcomes": ["no", "yes"], "healthy": "no",
            "source": "made up", **({"stop": ["yes"]} if key == stop else {}),
        }
        for key in steps
    }
    cause = {"name": "f", "where": "wiring", "advise": {"do": "x", "minutes": 1}}
    return words({
        "tests": tests, "causes": {"f": cause}, "house": {"rate": 60, "comeback": 1},
        "tree": {
            "tree": "t", "title": "T", "revision": 1, "causes": {"f": 1}, "start": start,
            "steps": {key: {"then": then} for key, then in steps.items()},
        },
    })


END = {"conclude": "f"}


def test_a_step_without_not_done_sends_it_where_the_healthy_outcome_goes() -> None:
    known = made({"a": {"no": "b", "yes": END}, "b": {"no": END, "yes": END}})
    led = branches(known.tree.steps["a"], known.catalogue.tests["a"])
    assert dict(led) == {"no": "b", "yes": Conclude("f"), NOT_DONE: "b"}


def test_a_written_not_done_branch_stands() -> None:
    known = made({"a": {"no": "b", "yes": END, "not-done": {"refer": "x"}}, "b": {"no": END, "yes": END}})
    assert branches(known.tree.steps["a"], known.catalogue.tests["a"])[NOT_DONE] == Refer("x")


@pytest.mark.parametrize("then", [{"no": END, "yes": END}, {"no": END, "yes": END, "not-done": END}])
def test_a_question_for_a_danger_is_never_not_done(then: dict[str, Any]) -> None:
    known = made({"a": then}, stop="a")
    assert NOT_DONE not in branches(known.tree.steps["a"], known.catalogue.tests["a"])


@pytest.mark.parametrize(("steps", "expected", "why"), [
    ({"a": {"no": END, "yes": END}}, (1, 1), "the present step counts"),
    ({"a": {"no": "b", "yes": END}, "b": {"no": END, "yes": END}}, (1, 2), "one way short, one way long"),
    ({"a": {"no": "b", "yes": "c"}, "b": {"no": "c", "yes": "c"}, "c": {"no": END, "yes": END}}, (2, 3), "shared"),
    ({"a": {"no": "a", "yes": END}}, (1, None), "a loop on itself"),
    ({"a": {"no": "b", "yes": "b"}, "b": {"no": "a", "yes": "a"}}, (None, None), "no ending at all"),
    ({"a": {"no": "b", "yes": "b"}, "b": {"no": "a", "yes": END}}, (2, None), "a loop with a way out"),
])
def test_steps_left(steps: dict[str, Any], expected: tuple[int | None, int | None], why: str) -> None:
    known = made(steps)
    assert steps_left(known.tree, known.catalogue, "a") == StepsLeft(*expected), why


def test_a_loop_elsewhere_does_not_matter() -> None:
    known = made({"a": {"no": "b", "yes": "c"}, "b": {"no": "b", "yes": "b"}, "c": {"no": END, "yes": END}})
    assert steps_left(known.tree, known.catalogue, "c") == (1, 1)


def test_a_lattice_with_more_paths_than_atoms_is_counted_at_once() -> None:
    steps: dict[str, Any] = {"s999": {"no": END, "yes": END}, "t999": {"no": END, "yes": END}}
    for n in range(999):
        steps[f"s{n}"] = {"no": f"s{n + 1}", "yes": f"t{n + 1}"}
        steps[f"t{n}"] = {"no": f"s{n + 1}", "yes": f"t{n + 1}"}
    known = made(steps, start="s0")
    assert steps_left(known.tree, known.catalogue, "s0") == (1000, 1000)


def test_reachable_and_order_leave_out_what_nobody_is_sent_to() -> None:
    known = made({"a": {"no": "b", "yes": END}, "b": {"no": END, "yes": END}, "lost": {"no": "a", "yes": END}})
    assert reachable(known.tree, known.catalogue) == {"a", "b"}
    assert in_order(known.tree, known.catalogue) == (("a", "b"), frozenset())


def test_a_loop_is_named() -> None:
    known = made({"a": {"no": "b", "yes": END}, "b": {"no": "c", "yes": END}, "c": {"no": "b", "yes": END}})
    ordered, looping = in_order(known.tree, known.catalogue)
    assert (ordered, looping) == ((), {"a", "b", "c"})
    assert one_loop(known.tree, known.catalogue, looping) == ("b", "c", "b")
    assert one_loop(known.tree, known.catalogue, frozenset()) == ()


@settings(deadline=None)
@given(documents(stops=True))
def test_steps_left_agrees_with_listing_every_path(document: Any) -> None:
    known = words(document)

    def lengths(step_id: str) -> list[int]:
        step = known.tree.steps[step_id]
        found = []
        for target in branches(step, known.catalogue.tests[step.test]).values():
            found += [1 + below for below in lengths(target)] if isinstance(target, str) else [1]
        return found

    listed = lengths(known.tree.start)
    assert steps_left(known.tree, known.catalogue, known.tree.start) == (min(listed), max(listed))
