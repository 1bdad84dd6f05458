"""The store beside a plain dict that does the same: two windows, closing and opening, and wrong numbers included."""

from __future__ import annotations

import shutil
import tempfile
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import Bundle, RuleBasedStateMachine, initialize, invariant, rule

from diagtree.cases.case_number import CaseId
from diagtree.cases.store import open_store
from diagtree.errors import CaseChangedElsewhere, WrongUse

words = st.text(max_size=8)
bodies = st.dictionaries(words, words | st.integers() | st.lists(st.booleans(), max_size=3), max_size=3)
windows = st.sampled_from([0, 1])
texts = st.dictionaries(st.sampled_from(["a.yaml", "b.yaml"]), words, max_size=2)


class StoreMachine(RuleBasedStateMachine):
    cases = Bundle("cases")

    @initialize()
    def open_both(self) -> None:
        self.folder = Path(tempfile.mkdtemp())
        self.path = self.folder / "cases.db"
        self.windows = [open_store(self.path), open_store(self.path)]
        self.model: dict[CaseId, dict[str, Any]] = {}
        self.heads: dict[CaseId, list[str]] = {}

    @rule(target=cases, window=windows, year=st.sampled_from([2025, 2026]), texts=texts, meta=bodies)
    def begin(self, window: int, year: int, texts: dict[str, str], meta: dict[str, Any]) -> CaseId:
        case_id = self.windows[window].begin("tree", texts, meta, f"{year}-02-03T04:05:06", None)
        number = 1 + sum(known.startswith(f"{year}-") for known in self.model)
        assert case_id == f"{year}-{number:04d}"
        self.model[case_id] = {"events": [], "texts": texts, "meta": meta, "status": "open", "personal": {}}
        self.heads[case_id] = [self.windows[window].head(case_id)]
        return case_id

    @rule(case_id=cases, window=windows, events=st.lists(bodies, max_size=3))
    def append(self, case_id: CaseId, window: int, events: list[dict[str, Any]]) -> None:
        self.windows[window].append(case_id, len(self.model[case_id]["events"]), events)
        self.model[case_id]["events"] += events
        self.heads[case_id].append(self.windows[1 - window].head(case_id))

    @rule(case_id=cases, window=windows, off=st.integers(-3, 3).filter(bool), events=st.lists(bodies, max_size=2))
    def append_out_of_turn(self, case_id: CaseId, window: int, off: int, events: list[dict[str, Any]]) -> None:
        seq = len(self.model[case_id]["events"]) + off
        with pytest.raises(CaseChangedElsewhere if off < 0 else WrongUse):
            self.windows[window].append(case_id, seq, events)

    @rule(case_id=cases, window=windows, status=st.sampled_from(["open", "closed", "waiting"]))
    def set_status(self, case_id: CaseId, window: int, status: str) -> None:
        self.windows[window].set_status(case_id, status, "2026-02-03T04:05:06")
        self.model[case_id]["status"] = status

    @rule(case_id=cases, window=windows, data=st.dictionaries(words, words, max_size=2))
    def set_personal(self, case_id: CaseId, window: int, data: dict[str, str]) -> None:
        self.windows[window].set_personal(case_id, data)
        self.model[case_id]["personal"] = data

    @rule(case_id=cases, window=windows)
    def erase_personal(self, case_id: CaseId, window: int) -> None:
        assert self.windows[window].erase_personal(case_id) is True
        self.model[case_id]["personal"] = {}

    @rule(window=windows)
    def close_and_open(self, window: int) -> None:
        self.windows[window].close()
        self.windows[window] = open_store(self.path)

    @rule(case_id=cases)
    def read_only(self, case_id: CaseId) -> None:
        with open_store(self.path, read_only=True) as store:
            assert store.events(case_id) == self.model[case_id]["events"]

    @invariant()
    def the_store_tells_what_the_model_knows(self) -> None:
        for store in self.windows:
            rows = store.cases()
            assert [row.id for row in rows] == sorted(self.model, reverse=True)
            for row in rows:
                known = self.model[row.id]
                assert store.events(row.id) == known["events"]
                assert store.knowledge(row.id) == known["texts"]
                assert store.meta(row.id) == known["meta"]
                assert store.personal(row.id) == known["personal"]
                assert (row.status, row.events) == (known["status"], len(known["events"]))
                assert all(store.verify(row.id, head) is None for head in self.heads[row.id])

    def teardown(self) -> None:
        for store in self.windows:
            store.close()
        shutil.rmtree(self.folder)


TestStore = StoreMachine.TestCase
TestStore.settings = settings(max_examples=30, stateful_step_count=20, deadline=None, database=None)
