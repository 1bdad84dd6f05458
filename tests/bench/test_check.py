"""How quick the check is, against composing the same YAML in the same run: cold, large, growing, and in memory.

The peer is `yaml.compose` with `yaml.CBaseLoader`, libyaml's composer and PyYAML's quickest loader, as anybody calls
it. The project parses with the same loader (its events). The check runs every rule that runs unasked, on every vehicle,
and pauses Python's cyclic collector as the command does; the peer does not. Times are of the processor, the least of
several rounds in turn, and a busy machine has three attempts: it can spoil a round, not make a slow check look quick.
"""

from __future__ import annotations

import gc
import os
import time
import tracemalloc
from collections.abc import Callable, Mapping
from functools import partial
from math import log
from pathlib import Path

import pytest
import yaml

from diagtree.check.flow import Flow
from diagtree.check.loops import dead_ends, loops
from diagtree.check.run import check_library, usual_rules
from diagtree.knowledge.files import read_texts, shipped_folder
from diagtree.knowledge.library import read_library
from diagtree.knowledge.words import Target as LeadsTo
from diagtree.terminal import check_cache
from diagtree.terminal.check_targets import Target, Wish, look
from tests.bench.check_knowledge import deep_tree
from tests.check.test_scale import chain, known, ladder

Texts = Mapping[str, str]
Shape = Callable[[int], dict[str, tuple[LeadsTo, LeadsTo]]]
COLD, MEMORY, ATTEMPTS = 3.0, 6.0, 3
FULL = os.environ.get("DIAGTREE_BENCH") == "full"


def composed(texts: Texts) -> list[yaml.Node | None]:
    return [yaml.compose(text, Loader=yaml.CBaseLoader) for text in texts.values()]


def checked(texts: Texts) -> object:
    return check_library(read_library(texts), usual_rules())


def taken(work: Callable[[], object], *, collector: bool) -> float:
    """Return the processor time of `work`. [s]"""
    gc.collect()
    if not collector:
        gc.disable()
    try:
        start = time.process_time()
        kept = work()
        end = time.process_time()
        del kept
        return end - start
    finally:
        gc.enable()


def ratio(texts: Texts, rounds: int) -> float:
    """Return the time of a check over that of composing, the least of several rounds each."""
    checked(texts)  # every rule is imported
    peer, ours = [], []
    for _ in range(rounds):
        peer.append(taken(partial(composed, texts), collector=True))
        ours.append(taken(partial(checked, texts), collector=False))
    return min(ours) / min(peer)


def assert_cold(texts: Texts, rounds: int, most: float = COLD) -> None:
    found = []
    for _ in range(ATTEMPTS):
        found.append(ratio(texts, rounds))
        if found[-1] <= most:
            return
    pytest.fail(f"the check took {', '.join(f'{one:.2f}' for one in found)} times composing; at most {most:g}")


def test_shipped_knowledge_takes_at_most_6_times_composing() -> None:
    """Aimed at is 3, as with one tree on two cars. 17 trees on four cars took 4.4: each car is looked at by itself."""
    assert_cold(read_texts(shipped_folder()), 4, most=6)


def test_a_tree_of_10000_steps_takes_at_most_3_times_composing() -> None:
    assert_cold(deep_tree(10_000), 2)


def test_growth_is_no_worse_than_n_log_n() -> None:
    """From 1,000 to 10,000 steps, in the long benches to 100,000: against composing, whose work grows with the text.

    So what a larger text costs any program (memory, caches) is in both.
    """
    before = ratio(deep_tree(1_000), 3)
    for small, large in ((1_000, 10_000), (10_000, 100_000))[: 2 if FULL else 1]:
        allowed, texts = before * log(large) / log(small) * 1.2, deep_tree(large)
        found: list[float] = []
        while len(found) < ATTEMPTS and (not found or min(found) > allowed):
            found.append(ratio(texts, 1))
        assert min(found) <= allowed, f"{small}: {before:.2f} times composing, {large}: {min(found):.2f}"
        before = min(found)


@pytest.mark.parametrize("shape", [chain, ladder])
def test_rules_of_flow_grow_with_the_steps(shape: Shape) -> None:
    """Not with the paths, of which a ladder has more than could ever be listed; 2: the longer sets, and noise."""
    before, allowed = least_flow(shape, 2_000), 8 * log(16_000) / log(2_000) * 2
    after = least_flow(shape, 16_000, enough=allowed * before)
    assert after <= allowed * before, f"{before:.2f} s for 2,000 steps, {after:.2f} s for 16,000"


def least_flow(shape: Shape, steps: int, enough: float = 0.0) -> float:
    """Return the least time of the rules of flow on so many steps of this shape, built before. [s]"""
    leads = shape(steps)
    return least_of(lambda: partial(flow_rules, known(leads, steps // 2)), 5, enough)


def flow_rules(flow: Flow) -> object:
    return flow.alive, flow.pairs, loops(flow), dead_ends(flow)


def least_of(work: Callable[[], Callable[[], object]], times: int, enough: float) -> float:
    found: list[float] = []
    while len(found) < times and (not found or min(found) > enough):
        found.append(taken(work(), collector=False))
    return min(found)


@pytest.mark.parametrize("name", ["shipped", "2,000 steps"])
def test_memory_is_at_most_6_times_that_of_composed_nodes(name: str) -> None:
    """The peak while checking, library and all, over what the composed nodes of the same text hold."""
    texts = read_texts(shipped_folder()) if name == "shipped" else deep_tree(2_000)
    checked(texts)
    nodes = traced(partial(composed, texts))[0]
    assert traced(partial(checked, texts))[1] <= MEMORY * nodes


def traced(work: Callable[[], object]) -> tuple[int, int]:
    """Return the memory that the result of `work` holds, and the peak on the way to it. [bytes]"""
    gc.collect()
    tracemalloc.start()
    kept = work()
    held = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    del kept
    return held


def test_unchanged_files_cost_next_to_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Found in the cache: reading the files and one entry, without any YAML; less than half of composing it."""
    monkeypatch.setattr(check_cache, "cache_folder", lambda: tmp_path)
    target = Target(shipped_folder())
    look(target, Wish(), cached=True)
    again = min(taken(partial(look, target, Wish(), cached=True), collector=True) for _ in range(5))
    peer = min(taken(partial(composed, read_texts(shipped_folder())), collector=True) for _ in range(5))
    assert again < peer / 2
