"""Made-up walks: they find what is planted, say it in a file that replays it, and are the same for the same seed."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.check.example import BASE
from diagtree.check.walks.person import Person
from diagtree.check.walks.run import Walked, play_walks
from diagtree.check.walks.said import Said, Waited, script_text
from diagtree.check.walks.walker import Walker
from diagtree.knowledge.fields import Findings
from diagtree.knowledge.library import read_library
from diagtree.knowledge.yaml_text import Mapping, compose
from diagtree.terminal.answers_script import read_script
from diagtree.walk import approach, ask_correction, ask_test, fold, respond_work
from diagtree.walk.answers import (
    Back,
    Changed,
    ChooseNow,
    Chosen,
    DidNot,
    DoNow,
    Leave,
    NotDone,
    Note,
    RecordTest,
    Ticked,
    Typed,
)
from diagtree.walk.events import StepTakenBack
from tests.walk.knowledge import TEXTS

LOOP = BASE["tree.yaml"].replace("normal: {refer: the maker's helpline}", "normal: other-point")


def walked(texts: dict[str, str], count: int = 200, seed: int = 7) -> Walked:
    return play_walks(read_library(texts), count, seed)


def test_a_sound_folder_has_nothing() -> None:
    found = walked(dict(BASE))
    assert found.findings == ()
    assert found.walks == 200
    assert found.skipped == ()


def test_every_trap_of_the_small_folder_is_walked_without_harm() -> None:
    found = walked(TEXTS, 100)
    assert [str(one) for one in found.findings if one.rule == "walk-breaks-law"] == []


def test_the_same_seed_finds_the_same() -> None:
    texts = {**BASE, "tree.yaml": LOOP}
    assert walked(texts, 80, seed=3).findings == walked(texts, 80, seed=3).findings


def test_each_car_is_met_by_people_of_its_own(monkeypatch: pytest.MonkeyPatch) -> None:
    """With the same draws on every car, walks on cars that differ in nothing would be the same walks once more."""
    said: dict[str | None, list[object]] = {}
    play = Walker.play

    def noted(walker: Walker, person: Person) -> None:
        play(walker, person)
        said.setdefault(walker.walk.vehicle, []).append(walker.said)

    monkeypatch.setattr(Walker, "play", noted)
    cars = {f"vehicles/{name}.yaml": f"vehicle: {name}\nsafety: {{wait: 5}}\n" for name in ("petrel-2", "marlin-1")}
    walked({**BASE, **cars}, 30)
    assert said["petrel-2"] != said["marlin-1"]


def test_a_loop_is_found_small_and_its_file_walks_into_it(tmp_path: Path) -> None:
    (found,) = walked({**BASE, "tree.yaml": LOOP}).findings
    assert found.rule == "walk-breaks-law"
    assert "is answered, and the walk does not go on" in found.message
    assert found.place.file == "tree.yaml"
    assert found.witness is not None
    folder, answers = tmp_path / "trees", tmp_path / "answers.yaml"
    for name, text in {**BASE, "tree.yaml": LOOP}.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text, encoding="utf-8")
    answers.write_text(found.witness, encoding="utf-8")
    store = f"sqlite:///{tmp_path / 'cases.db'}"
    words = ["--trees", str(folder), "--store", store, "walk", "tree", "--answers", str(answers), "--json"]
    run = subprocess.run([sys.executable, "-m", "diagtree", *words], capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stderr
    assert json.loads(run.stdout)["conclusion"] is None, "the walk stands in the loop"


def test_a_tree_that_cannot_be_walked_is_named() -> None:
    found = walked({**BASE, "tree.yaml": BASE["tree.yaml"].replace("no: sensor-resistance", "no: nowhere")})
    assert found.skipped == ("tree",)
    assert found.walks == 0


def test_a_session_that_forgets_a_break_is_caught(monkeypatch: pytest.MonkeyPatch) -> None:
    """The laws are held against the bystander, so a session that believes itself is no excuse."""
    for module in (approach, ask_test, ask_correction):
        monkeypatch.setattr(module, "proof_is_good", lambda walk, state, now: state.arrangement.dead)
    tried = (walked(dict(BASE), 300, seed).findings for seed in range(1, 7))  # 300 walks find it 7 times in 8
    (found,) = next(one for one in tried if one)
    assert found.rule == "walk-breaks-law"
    assert "it needs a dead car, and this one is not proven dead" in found.message


def test_a_session_that_keeps_a_step_taken_back_is_caught(monkeypatch: pytest.MonkeyPatch) -> None:
    taken = fold._procedure

    def deaf(walk, state, event):  # type: ignore[no-untyped-def]
        return state if isinstance(event, StepTakenBack) else taken(walk, state, event)

    monkeypatch.setattr(fold, "_procedure", deaf)
    found = (walked(dict(BASE), 300, seed).findings for seed in range(1, 10))  # 300 walks find it 5 times in 8
    (broken,) = next(one for one in found if one)
    assert broken.rule == "walk-breaks-law"


def test_a_fault_of_the_tool_is_a_finding(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> None:
        raise ZeroDivisionError("planted")

    monkeypatch.setitem(respond_work.ANSWERS_WORK, next(iter(respond_work.ANSWERS_WORK)), broken)
    monkeypatch.setattr("diagtree.walk.respond._BY_KIND", dict.fromkeys(respond_work.ANSWERS_WORK, broken))
    (found,) = walked(dict(BASE), 5).findings
    assert "ZeroDivisionError in the tool: planted" in found.message
    assert found.witness is not None


words = st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs")), min_size=1, max_size=12).map(str.strip)
names = words.filter(bool)
some = st.lists(names, max_size=3).map(tuple)
said = st.one_of(
    st.builds(Chosen, some.filter(bool)),
    st.builds(Typed, st.dictionaries(names, names, min_size=1, max_size=3), st.none() | names),
    st.builds(Ticked, names, st.just("") | names),
    st.builds(NotDone, names),
    st.builds(Back, st.integers(1, 9)),
    st.builds(DidNot, names),
    st.builds(Changed, st.booleans(), some, some, st.just("") | names),
    st.builds(Note, names),
    st.builds(
        RecordTest, names, st.none() | names, st.dictionaries(names, names, max_size=2), st.just("") | names,
        st.booleans(),
    ),
    st.builds(DoNow, names),
    st.just(ChooseNow()),
    st.just(Leave()),
    st.builds(Waited, st.integers(1, 999).map(float)),
)


@given(st.lists(said, min_size=1, max_size=6))
@settings(deadline=None)
def test_a_script_reads_as_it_was_written(lines: list[Said]) -> None:
    text = script_text([(one, "outcome x") for one in lines], "petrel-2", ("why",))
    node, wrong = compose(text, "script.yaml")
    assert wrong == ()
    assert isinstance(node, Mapping)
    findings = Findings()
    assert [one for one, _ in read_script(node.entries["script"].value, findings)] == lines
    assert findings.found == []


@pytest.mark.parametrize(
    ("line", "message"),
    [
        ("- {chose: no}", "did you mean `choose`?"),
        ("- back", "expected one of choose, type, tick"),
        ("- {back: some}", "`back` takes a number above 0, got `some`"),
        ("- {changed: {powerd: yes}}", "no key `powerd`; did you mean `powered`?"),
        ("- {record: {outcome: none}}", "`record` lacks `test:`"),
    ],
)
def test_a_mistake_in_a_script_is_told_at_its_line(line: str, message: str) -> None:
    node, _ = compose(f"script:\n  - choose-now\n  {line}\n", "script.yaml")
    assert isinstance(node, Mapping)
    findings = Findings()
    read_script(node.entries["script"].value, findings)
    assert [one.place.line for one in findings.found] == [3]
    assert message in findings.found[0].message
