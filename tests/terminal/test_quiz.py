"""The quiz at the command line: from a file, through a pipe, in a terminal; stopped, killed and gone on with."""

from __future__ import annotations

import io
import json
import os
import re
import signal
import sqlite3
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.cases.quiz_store import open_quiz
from diagtree.errors import AnswerError
from diagtree.knowledge.library import read_library
from diagtree.quiz.event_json import event_from_json
from diagtree.quiz.modes import MODES
from diagtree.quiz.round import deal
from diagtree.terminal.main import main
from diagtree.terminal.quiz_acts import acts_of
from diagtree.terminal.quiz_car import CarTable
from diagtree.terminal.quiz_loop import Left
from diagtree.terminal.views.quiz_pictures import Pictures
from diagtree.walk.context import Walk
from tests.terminal.house import FILES, build
from tests.terminal.terminals import Terminal

Ran = tuple[int, str, str]
Run = Callable[..., Ran]
ONLY = "Practice on a simulated car, nothing more. Work on high voltage needs a qualification"

# In the small house: find the open sensor, and put it right.
WORK = """
other-point
make-safe
open bench
open connector
test sensor
correct sensor-open 70
"""


@pytest.fixture
def run(tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    """Run `quiz` in the small house, or on the knowledge that ships; `acts` as a file, `lines` through a pipe."""
    trees = build(tmp_path / "trees")

    def go(*arguments: str, acts: str | None = None, lines: str = "", ships: bool = False) -> Ran:
        more: list[str] = []
        if acts is not None:
            (tmp_path / "acts").write_text(acts, "utf-8")
            more = ["--answers", str(tmp_path / "acts")]
        monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(lines.encode()), "utf-8"))
        before = ["--store", str(tmp_path / "cases.db"), *([] if ships else ["--trees", str(trees)])]
        status = main([*before, "quiz", "--progress", str(tmp_path / "quiz.db"), *arguments, *more])
        out, err = capsys.readouterr()
        return status, out, err

    return go


def test_a_round_from_a_file_is_scored(run: Run) -> None:
    status, out, err = run("--mode", "practice", "--seed", "1", "--trainee", "anna", "--json", acts=WORK)
    assert status == 0, err
    found = json.loads(out)
    assert (found["trainee"], found["mode"], found["seed"], found["tree"]) == ("anna", "practice", "1", "no-charge")
    assert (found["cause"], found["ended"]) == ("sensor-open", "fixed")
    acts = [line.removeprefix("test ") for line in WORK.split("\n") if line]
    assert [one["act"].removeprefix("test ") for one in found["decisions"]] == [*acts[:-1], "correct sensor-open"]
    assert found["regret"] == pytest.approx(sum(one["regret"] for one in found["decisions"]))
    assert found["money"] == pytest.approx(sum(one["money"] for one in found["decisions"]))
    assert found["luck"] == pytest.approx(found["money"] - found["expected"] - found["regret"])
    assert found["points"] == pytest.approx(100 * found["expected"] / (found["expected"] + found["regret"]))
    assert found["statements"][0]["stated"] == 0.7
    assert found["dearest"]["regret"] == max(one["regret"] for one in found["decisions"])
    assert ONLY in err


def test_the_same_seed_is_the_same_round_and_yaml_says_the_same(run: Run) -> None:
    acts = [line for line in WORK.splitlines() if line]
    written = ["\n".join(acts), "acts:\n" + "".join(f"  - {act}\n" for act in acts), "# slow\n\n" + WORK]
    ran = [json.loads(run("--mode", "practice", "--seed", "1", "--json", acts=text)[1]) for text in written]
    for one in ran:
        del one["round"]
    assert ran[0] == ran[1] == ran[2]


def test_the_quiz_leaves_no_trace_in_the_cases(run: Run, tmp_path: Path) -> None:
    assert run("--mode", "practice", "--seed", "1", acts=WORK)[0] == 0
    assert run("--mode", "safety", "--questions", "1", "--seed", "1", lines="1\n" * 3)[0] == 0
    assert run("--history")[0] == 0
    assert not (tmp_path / "cases.db").exists()
    with open_quiz(tmp_path / "quiz.db") as store:
        assert len(store.rounds("trainee")) == 2


def test_an_unsafe_act_gives_no_reading_and_practice_goes_on(run: Run) -> None:
    status, out, _ = run("--mode", "practice", "--seed", "1", acts="test sensor\n" + WORK)
    assert status == 0
    told = out.split("Act> other-point")[0]
    assert "UNSAFE" in told
    assert "There is no reading" in told
    assert "Answer:" not in told
    assert "Unsafe acts: 1" in out


def test_an_unsafe_act_ends_an_exam_at_zero(run: Run) -> None:
    status, out, err = run("--mode", "exam", "--seed", "p", "--json", acts="test sensor")
    assert status == 0, err
    found = json.loads(out)
    assert (found["ended"], found["points"], found["unsafe"]) == ("unsafe", 0.0, 1)


def test_an_exam_tells_nothing_before_its_end_and_has_three_cars_a_paper(run: Run) -> None:
    first = run("--mode", "exam", "--seed", "p", acts="burnt\nhint\nrefer")
    assert "dearer" not in first[1].split("Given to")[0]
    assert "Nothing better" not in first[1]
    assert "There are no hints in this mode" in first[1]
    seeds = [json.loads(run("--mode", "exam", "--seed", "p", "--json", acts="refer")[1])["seed"] for _ in range(2)]
    assert seeds == ["exam p 2", "exam p 3"]
    status, _, err = run("--mode", "exam", "--seed", "p", acts="refer")
    assert status == 2
    assert "is sat" in err


def test_how_sure_is_asked_where_it_was_not_said(run: Run) -> None:
    text = WORK.replace("correct sensor-open 70", "correct sensor-open\nvery\n62,5 %")
    status, out, _ = run("--mode", "practice", "--seed", "1", acts=text)
    assert status == 0
    assert "How sure is a number from 0 to 100" in out
    assert "you were 62 % sure" in out


def test_acts_that_end_early_keep_the_round_and_it_goes_on(run: Run) -> None:
    status, out, err = run("--mode", "practice", "--seed", "1", acts="other-point")
    assert status == 2
    assert "end before the round does" in err
    status, out, err = run(acts="\n".join(WORK.split()[1:1]) + WORK.replace("other-point\n", ""))
    assert status == 0, err
    assert "Gone on with" in out
    assert "other-point: no" in out


def test_acts_beyond_the_end_are_told(run: Run) -> None:
    status, _, err = run("--mode", "practice", "--seed", "1", acts="refer\nrefer\n")
    assert status == 0
    assert "over before the last 1 of the acts" in err


@pytest.mark.parametrize(("typed", "told"), [
    ("foo", "`foo` is no act"), ("test", "needs one name"), ("test nothing-like-it", "there is no test"),
    ("open connectr", "did you mean `connector`"), ("correct", "needs one name"), ("7", "no number of the list"),
    ("bench", "open or close?"), ("correct sensor-open 170", "from 0 to 100"), ("tests zzz", "none of the tests"),
    ("make-safe now", "stands alone"), ("\t", "Enter alone"), ("correct o", "may be"),
])  # fmt: skip
def test_slips_get_a_clear_word(run: Run, typed: str, told: str) -> None:
    status, out, err = run("--mode", "practice", "--seed", "1", lines=f"{typed}\nrefer\n")
    assert status == 0, err
    assert told.casefold() in out.casefold()
    assert "Traceback" not in out + err


def test_the_end_of_a_pipe_leaves_the_round_with_130(run: Run) -> None:
    status, _, err = run("--mode", "practice", "--seed", "1", lines="other-point\n")
    assert status == 130
    assert "is saved; `diagtree quiz --mode practice` goes on with it" in err


def test_leave_is_fine_and_new_puts_the_round_aside(run: Run) -> None:
    assert run("--mode", "practice", "--seed", "1", lines="other-point\nleave\n")[0] == 0
    status, out, _ = run("--mode", "practice", "--new", "--seed", "2", lines="leave\n")
    assert status == 0
    assert "Gone on with" not in out
    _, out, _ = run("--history", "--json")
    assert [row["result"]["ended"] for row in json.loads(out)["rounds"]] == ["left", None]


def test_a_round_killed_before_its_account_is_accounted_for(run: Run, tmp_path: Path) -> None:
    whole = json.loads(run("--mode", "practice", "--seed", "1", "--json", acts=WORK)[1])
    connection = sqlite3.connect(tmp_path / "quiz.db")
    with connection:
        connection.execute("DELETE FROM ends")
    connection.close()
    status, out, err = run("--json")
    assert status == 0, err
    assert json.loads(out)["regret"] == pytest.approx(whole["regret"], abs=0.01)
    assert run("--history", "--json")[1].count('"fixed"') == 1


def test_several_accesses_on_one_line_stop_at_the_first_that_does_not_open(run: Run) -> None:
    status, out, _ = run("--mode", "practice", "--seed", "1", lines="make-safe\nopen bench, conn\nlook\nleave\n")
    assert status == 0
    assert "Open: bench, connector." in out
    _, out, _ = run("--mode", "practice", "--seed", "2", lines="make-safe\nopen conn, bench\nlook\nleave\n")
    assert "open bench first" in out
    assert "Open: nothing." in out.split("look")[-1]


def test_another_car_is_another_round(run: Run) -> None:
    first = ("--mode", "safety", "--seed", "1", "--questions", "2")
    assert run(*first, "--vehicle", "petrel-2", lines="1\n", ships=True)[0] == 130
    _, out, _ = run("--mode", "safety", "--vehicle", "marlin-1", lines="leave\n", ships=True)
    assert "answered before" not in out
    _, out, _ = run("--mode", "safety", "--vehicle", "petrel-2", lines="leave\n", ships=True)
    assert "1 answered before" in out


def test_several_trainees_do_not_meet(run: Run) -> None:
    assert run("--mode", "practice", "--seed", "1", "--trainee", "anna", lines="other-point\nleave\n")[0] == 0
    _, out, _ = run("--mode", "practice", "--seed", "1", "--trainee", "ben", lines="look\nleave\n")
    assert "Nothing is known yet" in out
    _, out, _ = run("--history", "--trainee", "carl")
    assert "Others on this machine: anna, ben." in out


def test_guided_rounds_follow_the_tree(run: Run) -> None:
    status, out, _ = run("--mode", "guided", "--seed", "1", lines="go\ngo\ngo\nleave\n")
    assert status == 0
    assert [line for line in out.splitlines() if line.startswith("The tree: ")][:3] == [
        "The tree: test burnt (Is it burnt)",
        "The tree: test other-point (Does it charge elsewhere)",
        "The tree: make-safe",
    ]


def test_a_round_on_changed_knowledge_is_told(run: Run, tmp_path: Path) -> None:
    assert run("--mode", "practice", "--seed", "1", lines="other-point\nleave\n")[0] == 0
    tree = tmp_path / "trees" / "no-charge.yaml"
    tree.write_text(tree.read_text("utf-8").replace("point: 40", "point: 39"), "utf-8")
    status, _, err = run("--mode", "practice", lines="leave\n")
    assert status == 2
    assert "knowledge has changed" in err
    assert "--new" in err
    assert run("--mode", "practice", "--new", lines="leave\n")[0] == 0


@pytest.mark.parametrize("mode", ["reading", "safety"])
def test_drills_run_to_their_end_and_count(run: Run, mode: str) -> None:
    acts = "hint\n" + "1\n" * 6
    status, out, err = run("--mode", mode, "--seed", "4", "--questions", "6", "--json", acts=acts, ships=True)
    assert status == 0, err
    found = json.loads(out)
    assert found["asked"] == 6
    assert found["right"] == sum(one["right"] for one in found["answers"])
    assert [one["hinted"] for one in found["answers"]] == [True] + [False] * 5
    _, out, _ = run("--history", "--json")
    counted = json.loads(out)["subjects"]
    assert sum(one["count"] for one in counted) == 6
    assert sum(one["right"] for one in counted) == sum(one["right"] and not one["hinted"] for one in found["answers"])


def test_a_drill_gone_on_with_asks_the_same(run: Run) -> None:
    whole = run("--mode", "reading", "--seed", "4", "--questions", "3", "--json", acts="1\n1\n1\n", ships=True)[1]
    assert run("--mode", "reading", "--seed", "5", "--questions", "3", lines="1\n", ships=True)[0] == 130
    again = run("--mode", "reading", "--seed", "5", "--json", acts="1\n1\n", ships=True)
    assert again[0] == 0
    assert json.loads(again[1])["asked"] == json.loads(whole)["asked"] == 3


def test_knowledge_without_numbers_to_simulate_is_told(run: Run, tmp_path: Path) -> None:
    status, out, err = run("--mode", "reading", lines="leave\n")
    assert status == 0, err  # signals can be asked anywhere
    assert "pilot" in out
    assert run("--mode", "practice", "--tree", "no-such", lines="")[0] == 2


def test_history_is_readable_everywhere(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    assert "Nothing to show yet" in run("--history")[1]
    for seed in ("1", "2"):
        run("--mode", "practice", "--seed", seed, acts=WORK + "advise point 90\nrefer\n")
        run("--mode", "safety", "--seed", seed, "--questions", "5", lines="1\n" * 5)
    out = run("--history")[1]
    assert re.search(r"^safety +[█░]{20} +\d+ %  \d+ of \d+ +[▁-█]+$", out, re.MULTILINE)
    assert "Points on 2 cars" in out
    assert "Brier score" in out
    assert "Next: " in out
    assert all(len(line) <= 80 for line in out.splitlines() if "█" in line or "░" in line)
    assert "\x1b" not in out


def test_pictures_have_words_in_plain_mode_and_ascii_where_need_be() -> None:
    values = [0.0, 0.5, None, 1.0]
    assert Pictures(drawn=False).course(values) == "0, 0.5, -, 1"
    assert Pictures(drawn=False).bar_line("pilot", 0.5, "1 of 2") == "pilot        50 %  1 of 2"
    assert Pictures(unicode=False).course(values) == "_+ #"
    assert Pictures.of("ascii", drawn=True).bar(0.5) == "#" * 10 + "." * 10
    assert Pictures.of("utf-8", drawn=True).course(values) == "▁▅ █"
    assert len(Pictures().course([0.1] * 500)) == 24


def test_yaml_that_is_no_list_is_told(run: Run) -> None:
    status, _, err = run("--mode", "practice", acts="acts: {a: b}")
    assert status == 2
    assert "expected acts" in err
    assert acts_of("", "x") == ()


def test_a_file_that_is_not_there_is_told(run: Run) -> None:
    status, _, err = run("--mode", "practice", "--answers", "/no/such/file")
    assert status == 2
    assert "cannot be read" in err


WORDS = (
    "test open close make-safe re-energise correct advise refer hint tests causes access look help go back stop sensor "
    "bench connector other-point burnt point sensor-open 1 2 80 -5 nan , % ² ٣ " + "9" * 5000
).split()
TYPED = st.lists(st.sampled_from(WORDS), min_size=1, max_size=4).map(" ".join)
LIBRARY = read_library(FILES)


@given(
    lines=st.lists(st.text(min_size=1) | TYPED, max_size=12),
    mode=st.sampled_from(["guided", "exam"]),
    seed=st.sampled_from("12345"),
)
@settings(deadline=None, max_examples=60)
def test_whatever_is_typed_a_table_takes_it_or_says_why_not(lines: list[str], mode: str, seed: str) -> None:
    played = deal(Walk.begin(LIBRARY, "no-charge", "petrel"), seed, MODES[mode])
    table = CarTable(played, [played.dealt], Pictures())
    saved = []
    for line in lines:
        if table.over or not line.strip():
            continue
        try:
            taken = table.take(line.strip())
        except (AnswerError, Left):
            continue
        assert taken.events or taken.blocks
        saved.extend(event_from_json(json.loads(json.dumps(event))) for event in taken.events)
    again = CarTable(played, [played.dealt, *saved], Pictures())
    assert again.over == table.over
    assert again.over or next(iter(again.asked())) == next(iter(table.asked()))


# -- real terminals and real kills


@pytest.fixture
def start(tmp_path: Path) -> Iterator[Callable[..., Terminal]]:
    trees, opened = build(tmp_path / "trees"), []

    def begin(*arguments: str, size: tuple[int, int] = (80, 24), env: dict[str, str] | None = None) -> Terminal:
        own = {"DIAGTREE_QUIZ": str(tmp_path / "quiz.db"), "DIAGTREE_STORE": str(tmp_path / "cases.db"),
               "DIAGTREE_TREES": str(trees), "DIAGTREE_PLAIN": "", "NO_COLOR": "", "DIAGTREE_TRAINEE": ""}  # fmt: skip
        command = ["-m", "diagtree", "quiz", *arguments]
        terminal = Terminal(command, columns=size[0], rows=size[1], env=own | (env or {}))
        opened.append(terminal)
        return terminal

    yield begin
    for terminal in opened:
        terminal.close()


def act(terminal: Terminal, keys: str) -> None:
    """Type a line and read on until the next one can be typed."""
    terminal.send(keys)
    terminal.wait(lambda one: one.last.endswith(keys))
    terminal.send("\r")
    to_act(terminal)


def to_act(terminal: Terminal) -> None:
    """Read on, page by page, until an act can be typed."""
    terminal.wait(lambda one: one.last in ("Act >", "Enter to read on >"))
    while terminal.last != "Act >":
        terminal._read(0.2)
        pages = terminal.text.count("read on")
        terminal.send("\r")
        terminal.wait(lambda one, pages=pages: one.last == "Act >" or one.text.count("read on") > pages)  # type: ignore[misc]
    terminal._read(0.2)


def test_a_newcomer_chooses_plays_and_is_told_the_score(start: Callable[..., Terminal]) -> None:
    terminal = start()
    terminal.wait_for("Number or word >")
    assert "Now worth most: guided (you are new here" in terminal.text
    act(terminal, "practice")
    act(terminal, "other-point")
    terminal.send("refer\r")
    assert terminal.end() == 0
    assert "of 100 points" in terminal.text
    assert ONLY.replace(" ", "") in "".join(terminal.text.split())
    assert all(len(line) <= 80 for line in terminal.text.splitlines())


def test_ctrl_c_leaves_with_130_and_the_round_goes_on(start: Callable[..., Terminal]) -> None:
    terminal = start("--mode", "practice", "--seed", "1")
    to_act(terminal)
    act(terminal, "other-point")
    terminal.send("make-sa\x03")
    assert terminal.end() == 130
    assert "is saved; `diagtree quiz --mode practice` goes on with it" in " ".join(terminal.text.split())
    again = start()
    to_act(again)
    assert "other-point: no" in again.text


@pytest.mark.parametrize("env", [{"TERM": "dumb"}, {"DIAGTREE_PLAIN": "1"}])
def test_plain_terminals_get_plain_lines(start: Callable[..., Terminal], env: dict[str, str]) -> None:
    terminal = start("--mode", "safety", "--questions", "1", "--seed", "1", env=env)
    terminal.wait(lambda one: one.last.endswith(">"))
    terminal.send("1\r")
    assert terminal.end() == 0
    assert "\x1b" not in terminal.raw
    assert "1 right" in terminal.text


def test_a_narrow_terminal_shows_everything(start: Callable[..., Terminal]) -> None:
    terminal = start("--mode", "practice", "--seed", "1", size=(40, 12))
    to_act(terminal)
    assert all(len(line) <= 40 for line in terminal.text.splitlines())


def test_a_killed_round_goes_on_with_all_that_was_answered(tmp_path: Path) -> None:
    trees = build(tmp_path / "trees")
    command = [sys.executable, "-m", "diagtree", "--trees", str(trees), "quiz", "--progress", str(tmp_path / "quiz.db")]
    with subprocess.Popen(
        [*command, "--mode", "practice", "--seed", "1"], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    ) as child:
        assert child.stdin is not None
        assert child.stdout is not None
        child.stdin.write("other-point\nmake-safe\n")
        child.stdin.flush()
        end = time.monotonic() + 30
        seen = ""
        while "proven dead" not in seen and time.monotonic() < end:
            seen += child.stdout.readline()
        os.kill(child.pid, signal.SIGKILL)
    done = subprocess.run(command, input="look\nleave\n", capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert "other-point: no" in done.stdout
    assert "Made safe and proven dead." in done.stdout
