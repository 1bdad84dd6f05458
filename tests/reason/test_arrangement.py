"""What is open and live: the moves against a slow twin, and what must never be, whatever was done before."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from diagtree.knowledge.words import Needs, Power, Where
from diagtree.reason.arrangement import (
    LIVE,
    ROAD,
    START,
    Arrangement,
    Layout,
    Move,
    Moved,
    Need,
    may_be_shown,
    minutes_of,
    relies_on_dead,
)
from tests.documents import words
from tests.oracles.expectimax import Garage
from tests.strategies import documents

MANY = settings(deadline=None, max_examples=300, suppress_health_check=list(HealthCheck))


def needs_of(document: Any) -> list[tuple[Need, str, frozenset[str]]]:
    """Return every job of a document: what it needs, and the same as the twin says it."""
    known, garage = words(document), Garage(document)
    layout = Layout.of(known.catalogue)
    jobs = [(LIVE, "live", frozenset[str]()), (ROAD, "road", frozenset[str]())]
    for test in known.catalogue.tests.values():
        power = "road" if test.place is Where.ROAD else test.needs.power.value
        jobs.append((layout.need_of(test), power, garage.with_below(test.needs.open)))
    for cause in known.catalogue.causes.values():
        if cause.correction:
            needs = cause.correction.needs
            jobs.append((layout.need(needs), needs.power.value, garage.with_below(needs.open)))
    return jobs


@MANY
@given(documents(), st.data())
def test_any_sequence_of_jobs_goes_as_the_slow_twin_says(document: Any, data: Any) -> None:
    layout, garage, jobs = Layout.of(words(document).catalogue), Garage(document), needs_of(document)
    now, twin = START, (False, frozenset[str]())
    for number in data.draw(st.lists(st.integers(0, len(jobs) - 1), max_size=6)):
        need, power, wanted = jobs[number]
        moves = layout.moves(now, need)
        there = layout.after(now, moves)
        twin, minutes = garage.bring(twin, power, wanted)
        assert (there.dead, there.open) == twin
        assert minutes_of(moves) == minutes
        assert_never_bare_and_live(layout, now, moves)
        assert layout.moves(there, need) == (), "brought there, nothing is left to do"
        assert may_be_shown(layout, there, need, absence_proven=True)
        now = there
    end = layout.end(now)
    assert minutes_of(end) + layout.hand_back_minutes == garage.end(twin)
    assert layout.after(now, end) == START


@MANY
@given(documents(), st.data())
def test_whatever_somebody_did_behind_the_tool_no_work_begins_on_a_bare_live_car(document: Any, data: Any) -> None:
    """The car may be told to stand in any arrangement, also one that the tool would never have led to."""
    layout, jobs = Layout.of(words(document).catalogue), needs_of(document)
    opened = layout.closure(data.draw(st.lists(st.sampled_from(sorted(layout.access)))) if layout.access else [])
    now = Arrangement(data.draw(st.booleans()), opened)
    need = data.draw(st.sampled_from([job[0] for job in jobs]))
    moves = layout.moves(now, need)
    there = layout.after(now, moves)
    bare = [key for key in there.open if layout.access[key].dead_only]
    assert there.dead or not bare or not need.hands_on
    if need.power is Power.LIVE:
        assert not there.dead
        assert not any(layout.access[key].refit_before_live for key in there.open)
    assert layout.after(now, layout.end(now)) == START
    for moved_so_far in range(len(moves)):
        halfway = layout.after(now, moves[:moved_so_far])
        first = moves[moved_so_far]
        if first.access is not None and layout.access[first.access].dead_only:
            assert halfway.dead, "a dead-only cover is touched on a live car"
        if first.move is Move.RE_ENERGISE:
            assert not any(layout.access[key].dead_only for key in halfway.open)
            assert not any(layout.access[key].refit_before_live for key in halfway.open)


@MANY
@given(documents(), st.data(), st.booleans())
def test_the_predicate_never_shows_a_dead_job_on_a_car_that_may_be_live(document: Any, data: Any, proven: bool) -> None:
    layout, jobs = Layout.of(words(document).catalogue), needs_of(document)
    opened = layout.closure(data.draw(st.lists(st.sampled_from(sorted(layout.access)))) if layout.access else [])
    now = Arrangement(data.draw(st.booleans()), opened)
    need = data.draw(st.sampled_from([job[0] for job in jobs]))
    if may_be_shown(layout, now, need, absence_proven=proven):
        assert layout.moves(now, need) == ()
        assert need.open <= now.open
        assert (now.dead and proven) or not relies_on_dead(layout, now, need)
        assert now.dead or need.power is not Power.DEAD


def assert_never_bare_and_live(layout: Layout, now: Arrangement, moves: tuple[Moved, ...]) -> None:
    for count in range(len(moves) + 1):
        halfway = layout.after(now, moves[:count])
        assert halfway.dead or not any(layout.access[key].dead_only for key in halfway.open)
        for key in halfway.open:  # never something open whose cover below it is closed
            assert layout.closure([key]) <= halfway.open


def garage() -> Layout:
    """Return a bench over a cover that is dead-only, a connector to refit, and an undertray that making safe opens."""
    cause = {"name": "f", "where": "inlet", "advise": {"do": "x", "minutes": 1}}
    known = words({
        "causes": {"f": cause},
        "access": {
            "bench": {"name": "bench", "open": 20, "close": 21},
            "cover": {"name": "cover", "after": ["bench"], "open": 5, "close": 8, "power": "dead"},
            "connector": {"name": "connector", "open": 4, "close": 3, "refit-before-live": True},
            "undertray": {"name": "undertray", "open": 7, "close": 9},
        },
        "procedures": {
            "make-safe": {"minutes": 25, "needs": {"open": ["undertray"]}}, "re-energise": {"minutes": 10},
            "hand-back": {"minutes": 6},
        },
        "house": {"rate": 60},
        "tree": {"tree": "t", "title": "T", "revision": 1, "causes": {"f": 1}, "start": "s", "steps": {}},
    })
    return Layout.of(known.catalogue)


def did(layout: Layout, now: Arrangement, need: Need) -> list[str]:
    return [f"{moved.move.value} {moved.access or ''}".strip() for moved in layout.moves(now, need)]


DEAD_OPEN = Arrangement(True, frozenset({"undertray", "bench", "cover"}))


@pytest.mark.parametrize(("now", "needs", "moves", "why"), [
    (START, Needs(Power.LIVE), [], "live and closed it is"),
    (START, Needs(Power.DEAD), ["open undertray", "make-safe"], "making safe opens its own first"),
    (START, Needs(Power.ANY, ("bench",)), ["open bench"], "nothing dead-only is missing: power stays"),
    (START, Needs(Power.ANY, ("cover",)), ["open undertray", "make-safe", "open bench", "open cover"], "dead-only"),
    (START, Needs(Power.LIVE, ("bench",)), ["open bench"], "open and live, where it may be"),
    (DEAD_OPEN, Needs(Power.ANY), [], "dead stays dead, open stays open"),
    (DEAD_OPEN, Needs(Power.LIVE), ["close cover", "re-energise"], "the bench and the undertray may stay open"),
    (Arrangement(False, frozenset({"connector"})), Needs(Power.LIVE), ["close connector"], "refit before live"),
    (Arrangement(False, frozenset({"connector"})), Needs(Power.ANY, ("bench",)), ["open bench"], "any: it may stay"),
    (
        Arrangement(False, frozenset({"bench", "cover"})), Needs(Power.LIVE),
        ["open undertray", "make-safe", "close cover", "re-energise"], "made safe before a bare cover is touched",
    ),
])
def test_moves(now: Arrangement, needs: Needs, moves: list[str], why: str) -> None:
    layout = garage()
    assert did(layout, now, layout.need(needs)) == moves, why


def test_the_end_puts_all_back_in_the_reverse_order_of_after() -> None:
    layout = garage()
    closing = [moved.access for moved in layout.end(DEAD_OPEN) if moved.move is Move.CLOSE]
    assert set(closing) == DEAD_OPEN.open
    assert closing.index("cover") < closing.index("bench")
    assert layout.end(DEAD_OPEN)[-1].move is Move.RE_ENERGISE
    assert minutes_of(layout.end(DEAD_OPEN)) == 8 + 21 + 9 + 10
    assert layout.hand_back_minutes == 6


def test_a_job_that_needs_live_may_not_want_open_what_may_not_be_open_live() -> None:
    layout = garage()
    assert layout.live_conflicts(layout.need(Needs(Power.LIVE, ("connector",)))) == {"connector"}
    assert layout.live_conflicts(layout.need(Needs(Power.LIVE, ("bench",)))) == frozenset()
    assert layout.live_conflicts(layout.need(Needs(Power.DEAD, ("cover",)))) == frozenset()


def test_words_at_reception_touch_nothing_and_may_be_said_beside_an_open_car() -> None:
    layout = garage()
    bare = Arrangement(False, frozenset({"bench", "cover"}))
    assert layout.moves(bare, layout.need(Needs(Power.ANY), Where.RECEPTION)) == ()
    assert layout.moves(bare, layout.need(Needs(Power.ANY), Where.BAY)) != ()
    # A dead car whose proof ran out: words may be said, hands stay off what is bared.
    assert may_be_shown(layout, DEAD_OPEN, layout.need(Needs(Power.ANY), Where.RECEPTION), absence_proven=False)
    assert not may_be_shown(layout, DEAD_OPEN, layout.need(Needs(Power.ANY), Where.BAY), absence_proven=False)
