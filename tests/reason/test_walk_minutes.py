"""How long finding the cause takes: the sums against every path listed one by one."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

import pytest

from diagtree.knowledge.files import load
from diagtree.knowledge.library import Library, read_library
from diagtree.knowledge.words import SOMETHING_ELSE
from diagtree.reason.arrangement import START, Arrangement, Layout, Move, minutes_of
from diagtree.reason.evidence import posterior
from diagtree.reason.problem import chance_of
from diagtree.reason.walk_minutes import ACCESS, SAFE, TOOL, walk_minutes
from tests.walk.knowledge import TEXTS


def listed(library: Library, tree_id: str, car: str | None, chances: dict[str, float], answered: dict[str, str]
           ) -> Iterator[tuple[float, float, frozenset[tuple[str, str]]]]:  # fmt: skip
    """Give each way through the tree of each cause: minutes, chance, what it takes up. Slow and obvious."""
    tree, catalogue = library.require(tree_id, car)
    layout = Layout.of(catalogue)

    def ways(step: str, now: Arrangement, minutes: float, chance: float, cause: str, taken: frozenset[tuple[str, str]]
             ) -> Iterator[tuple[float, float, frozenset[tuple[str, str]]]]:  # fmt: skip
        test = catalogue.tests[tree.steps[step].test]
        shown = None if cause == SOMETHING_ELSE else catalogue.causes[cause]
        if test.id in answered:
            outcomes = {answered[test.id]: 1.0}
        else:
            moves = layout.moves(now, layout.need_of(test))
            now, minutes = layout.after(now, moves), minutes + minutes_of(moves) + test.minutes
            taken |= {(TOOL, tool) for tool in test.needs.tools}
            taken |= {(ACCESS, move.access) for move in moves if move.access and move.move is Move.OPEN}
            taken |= {(SAFE, "") for move in moves if move.move is Move.MAKE_SAFE}
            outcomes = {outcome: chance_of(test, shown, outcome) for outcome in test.outcome_ids()}
        for outcome, share in outcomes.items():
            target = tree.steps[step].then[outcome]
            if isinstance(target, str):
                yield from ways(target, now, minutes, chance * share, cause, taken)
            else:
                yield minutes, chance * share, taken

    for cause, chance in chances.items():
        yield from ways(tree.start, START, 0.0, chance, cause, frozenset())


@pytest.mark.parametrize("answered", [{}, {"desk-question": "no"}, {"danger-look": "no", "desk-question": "yes"}])
@pytest.mark.parametrize(("tree", "car"), [("first", "petrel-9"), ("first", None), ("second", "petrel-9")])
def test_the_sums_are_those_over_every_path(tree: str, car: str | None, answered: dict[str, str]) -> None:
    library = read_library(TEXTS)
    read, catalogue = library.require(tree, car)
    chances = dict(posterior(read.causes, (), catalogue).chances)
    found = walk_minutes(read, catalogue, chances, read.start, answered)
    spread: dict[float, float] = defaultdict(float)
    takes: dict[tuple[str, str], float] = defaultdict(float)
    for minutes, chance, taken in listed(library, tree, car, chances, answered):
        spread[round(minutes, 6)] += chance
        for one in taken:
            takes[one] += chance
    assert found.chances == pytest.approx({minutes: chance for minutes, chance in spread.items() if chance > 0})
    assert found.mean == pytest.approx(sum(minutes * chance for minutes, chance in spread.items()))
    known = {one: chance for one, chance in found.takes.items() if one[0] in (TOOL, ACCESS, SAFE)}
    assert known == pytest.approx(dict(takes))
    assert sum(found.endings.values()) == pytest.approx(1)


def test_so_many_in_a_hundred_are_done_within() -> None:
    library = read_library(TEXTS)
    tree, catalogue = library.require("first", "petrel-9")
    found = walk_minutes(tree, catalogue, posterior(tree.causes, (), catalogue).chances, tree.start, {})
    for share in (0.1, 0.5, 0.9, 1.0):
        within = found.within(share)
        done = sum(chance for minutes, chance in found.chances.items() if minutes <= within)
        before = sum(chance for minutes, chance in found.chances.items() if minutes < within)
        assert done >= share - 1e-9
        assert before < share


@pytest.mark.parametrize("tree", list(load().trees))
def test_every_shipped_tree_on_every_car(tree: str) -> None:
    """Chances sum to 1, percentiles ascend, and it is no sum that takes long."""
    library = load()
    for car in (None, *library.profiles):
        read, catalogue = library.require(tree, car)
        found = walk_minutes(read, catalogue, posterior(read.causes, (), catalogue).chances, read.start, {})
        assert sum(found.chances.values()) == pytest.approx(1)
        assert found.within(0.1) <= found.within(0.5) <= found.within(0.9)
        assert all(0 <= chance <= 1 + 1e-9 for chance in found.takes.values())
