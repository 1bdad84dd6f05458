"""Tables of a search that were begun before a new arrangement came up go on to grow, and say the same as without it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from diagtree.knowledge.files import load
from diagtree.knowledge.house import House
from diagtree.reason.bounds_partition import PartitionFloor
from diagtree.reason.plan_arrays import Arrays
from diagtree.reason.plan_costs import Costs
from diagtree.reason.plan_state import start
from diagtree.reason.problem import Problem, compile_problem
from diagtree.walk.context import Walk

TREE, EFFORT = "stops-early", 60_000


def problem() -> Problem:
    walk = Walk.begin(load(), TREE, "marlin-1", House(96, 2200, 2500))
    return compile_problem(walk.tree_of(TREE), walk.catalogue, walk.house)


def grown(*, opened: bool) -> PartitionFloor:
    """Return tables made in two goes. opened : between them somebody opens the bonnet for no test."""
    here = problem()
    arrays, first = Arrays(here, Costs(here)), start(here)
    arrays.include(first.arrangement)
    left = np.zeros(arrays.tests, bool)
    left[list(first.tests_left)] = True
    floor = PartitionFloor(arrays, np.array(first.weights), left)
    assert floor.grow(EFFORT)
    if opened:
        before = arrays.arrangements
        arrays.include(replace(first.arrangement, open=frozenset({"bonnet"})))
        assert arrays.arrangements > before
    assert floor.grow(EFFORT)
    return floor


def test_tables_go_on_when_an_arrangement_comes_up_that_their_start_does_not_lead_to():
    plain, late = grown(opened=False).groups, grown(opened=True).groups
    assert plain.tables.keys() == late.tables.keys()
    assert len(plain.tables) > 10
    for group, table in plain.tables.items():
        assert late.tables[group].value == pytest.approx(table.value)
        assert late.tables[group].offset == table.offset
