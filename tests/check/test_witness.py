"""Every branch of every shipped tree: its witness is played through the real driver and gets there.

Every second step on one of the cars, drawn by its name; with DIAGTREE_BENCH=full every step on every car.
"""

from __future__ import annotations

import os
from zlib import crc32

import pytest
from hypothesis import HealthCheck, given, settings

from diagtree.check.subject import Subject, TreeOnCar
from diagtree.knowledge.files import load
from diagtree.knowledge.library import read_library
from diagtree.knowledge.place import Level
from diagtree.knowledge.words import NOT_DONE
from tests.check.replay import Replay, replay
from tests.documents import Document, texts
from tests.strategies import documents
from tests.terminal.house import FILES

SHIPPED = load()
WALKED = list(Subject(SHIPPED).trees_on_cars())
FULL = os.environ.get("DIAGTREE_BENCH") == "full"


def in_steps() -> list[tuple[TreeOnCar, str]]:
    cars = tuple(SHIPPED.profiles)
    return [
        (one, step_id) for one in WALKED if one.car.id is not None for step_id in one.tree.steps
        if FULL or crc32(f"{one.tree.id} {step_id}".encode()) % (2 * len(cars)) == cars.index(one.car.id)
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("one", "step_id"),
    in_steps(),
    ids=lambda said: said if isinstance(said, str) else f"{said.tree.id} on {said.car.id}",
)
def test_every_branch_of_the_shipped_trees_is_walked_into(one: TreeOnCar, step_id: str) -> None:
    for outcome, target in one.flow.branches[step_id].items():
        text = one.witnesses.to_branch(step_id, outcome)
        assert text is not None, f"{step_id}: {outcome}"
        played = replay(SHIPPED, one.tree.id, text)
        assert (played.places[one.flow.test(step_id).id], played.answer_at(step_id)) == (step_id, outcome), text
        assert (played.stopped, played.unused) == ("", ()), text
        assert played.ending is not None
        assert isinstance(target, str) or played.ending == target
        cause_gives_all(one, step_id, text, played)


def cause_gives_all(one: TreeOnCar, step_id: str, text: str, played: Replay) -> None:
    cause = text.splitlines()[0].removeprefix("# cause: ")
    for test, said in played.answers.items():
        last = played.places[test] == step_id
        # A danger is asked for in any case, also where no listed cause shows it.
        if said != NOT_DONE and not (last and not one.flow.taking(step_id, said)):
            shown = one.catalogue.causes[cause].shows.get(test, {one.catalogue.tests[test].healthy: 100})
            assert shown.get(said, 0) > 0, f"{test}: {said} in {text}"
        if last:
            return
    raise AssertionError(f"{step_id} is not in {text}")


@pytest.mark.parametrize(
    "step_id", ["charger-temperature-at-full-power", "inlet-sensor-resistance", "ac-power-readout"]
)
def test_maker_s_values_that_the_catalogue_alone_does_not_know_are_supplied(step_id: str) -> None:
    one = next(one for one in WALKED if one.car.id is None and one.tree.id == "ac-fails-dc-works")
    for outcome in one.flow.branches[step_id]:
        text = one.witnesses.to_branch(step_id, outcome)
        assert text is not None
        assert outcome == NOT_DONE or "facts:" in text
        played = replay(SHIPPED, one.tree.id, text)
        assert (played.answer_at(step_id), played.stopped) == (outcome, ""), text


def test_a_witness_reads_like_a_file_that_a_person_would_write() -> None:
    (one,) = (one for one in Subject(read_library(FILES)).trees_on_cars() if one.car.id == "petrel")
    assert one.witnesses.to_branch("sensor", "open") == (
        "# cause: sensor-open\n"
        "vehicle: petrel\n"
        "answers:\n"
        "  burnt: no\n"
        "  other-point: no\n"
        "  sensor: {resistance: 1000000, temperature: 20}\n"
        "procedures:\n"
        "  make-safe:\n"
        "    - {secure: shift lead, absence: [0, 0, 0]}\n"
    )


def test_a_step_that_nothing_leads_to_has_no_witness() -> None:
    assert WALKED[0].witnesses.to_step("no-such-step") is None


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(document=documents(max_causes=3, max_tests=4, stops=True))
def test_making_safe_is_answered_as_often_as_it_happens(document: Document) -> None:
    # Made-up cars: nested accesses, dead and live tests in turn, tests on the road; no test twice on a path.
    files = texts(document)
    other = {**document["tree"], "tree": "another-tree"}  # what the hand-overs of these trees lead to
    files |= {"another-tree.yaml": texts({**document, "tree": other})["another-tree.yaml"]}
    library = read_library(files)
    if any(finding.level is Level.ERROR for finding in library.all_findings()):
        return
    one = next(one for one in Subject(library).trees_on_cars() if one.tree.id == "made-up")
    for step_id, branches in one.flow.branches.items():
        for outcome, target in branches.items():
            text = one.witnesses.to_branch(step_id, outcome)
            assert text is not None
            played = replay(library, "made-up", text)
            assert (played.answer_at(step_id), played.stopped, played.unused) == (outcome, "", ()), text
            assert isinstance(target, str) or played.ending == target
            _, _, runs = text.partition("make-safe:\n")
            assert played.made_safe == len(runs.splitlines()), text
