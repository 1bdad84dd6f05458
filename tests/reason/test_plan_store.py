"""The storage under the graph of states: columns that grow, and an index of many keys at once."""

from __future__ import annotations

import numpy as np

from diagtree.reason.plan_store import Column, Index, constants, mix


def test_a_column_keeps_what_it_was_given_while_it_grows() -> None:
    column, given = Column(float, 3), np.arange(30_000.0).reshape(-1, 3)
    for begin in range(0, len(given), 700):
        assert column.add(given[begin : begin + 700]) == begin
    assert (column.data[: column.count] == given).all()


def test_a_column_may_have_no_width() -> None:
    column = Column(bool, 0)
    column.add(np.zeros((5, 0), bool))
    assert column.count == 5


def test_the_index_finds_what_was_added_and_nothing_else() -> None:
    """Keys that crowd at one place of the table among them."""
    crowded = np.arange(1, 3000, dtype=np.uint64) << np.uint64(40)
    keys = np.concatenate([constants(7, 5000), crowded])
    index = Index()
    for begin in range(0, len(keys), 900):
        some = keys[begin : begin + 900]
        assert (index.find(some) == -1).all()
        index.add(some, np.arange(begin, begin + len(some)))
    assert (index.find(keys) == np.arange(len(keys))).all()
    assert (index.find(constants(8, 5000)) == -1).all()


def test_mixing_loses_nothing() -> None:
    words = np.arange(100_000, dtype=np.uint64)
    assert len(np.unique(mix(words))) == len(words)
