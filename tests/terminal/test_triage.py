"""The desk by the command line: words or questions, from a file or by a person, to the job card; nothing is lost."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest

from tests.terminal.house import build
from tests.terminal.quiz_work import Run
from tests.terminal.terminals import Terminal

TRIAGE = """
diagtree: 1
tree: triage
title: Which complaint is it?
revision: 1
causes: {point: 50, sensor-open: 40, something-else: 10}
start: what
steps:
  what: {then: {fails: {hand-over: no-charge}, slow: {refer: the senior technician}}}
"""
DESK = """
tests:
  what: {ask: What does the owner meet, place: reception, minutes: 1, outcomes: [fails, slow], healthy: fails,
    mistake: 5, source: x}
"""
ANSWERS = """
vehicle: petrel
complaint: {words: "It does [red]NOTHING[/] at home", since: the storm, shown: red lamp, cuts_out_after: 20}
answers: {burnt: no, other-point: no}
"""


@pytest.fixture
def trees(tmp_path: Path) -> Path:
    folder = build(tmp_path / "trees")
    (folder / "triage.yaml").write_text(TRIAGE, "utf-8")
    (folder / "catalogue" / "desk.yaml").write_text(DESK, "utf-8")
    return folder


def card(run: Run, answers: str, *more: str) -> dict[str, Any]:
    status, out, err = run("triage", *more, "--json", answers=answers)
    assert status == 0, err
    found: dict[str, Any] = json.loads(out)
    return found


def test_a_file_gives_one_document_with_a_card_that_adds_up(run: Run) -> None:
    found = card(run, ANSWERS)
    assert found["complaint"] == "no-charge"
    assert found["words"] == "It does [red]NOTHING[/] at home"
    assert found["also"] == {"since": "the storm", "shown": "red lamp"}
    assert found["cuts_out_after"] == 20
    assert [(one["test"], one["outcome"]) for one in found["answers"]] == [("burnt", "no"), ("other-point", "no")]
    assert sum(found["posterior"].values()) == pytest.approx(1)
    assert found["outside"] == pytest.approx(found["posterior"]["point"])
    # Bayes' rule by hand: two outcomes, mistake 5 % of `other-point`; all show `no` when looked at for burns
    burnt = {"point": 0.995, "sensor-open": 0.995, "something-else": 0.5}
    no = {"point": 0.95 * 0.03 + 0.025, "sensor-open": 0.975, "something-else": 0.5}
    shares = {"point": 40, "sensor-open": 50, "something-else": 10}
    weights = {cause: shares[cause] * burnt[cause] * no[cause] for cause in shares}
    assert found["posterior"] == pytest.approx({cause: one / sum(weights.values()) for cause, one in weights.items()})
    # bench 20, make safe 25, connector 4, sensor 6: one way only
    assert found["bay_minutes"] == {"mean": 55, "in_10": 55, "in_50": 55, "in_90": 55}
    assert {one["id"] for one in found["takes"] if one["kind"] == "access"} == {"bench", "connector"}
    assert all(one["chance"] == pytest.approx(1) for one in found["takes"])
    assert found["go_on"].startswith("diagtree --store ")
    assert found["go_on"].endswith(f"cases.db walk {found['case']}"), "the store that was named is named again"


def test_the_walk_goes_on_in_the_bay_and_asks_nothing_twice(run: Run) -> None:
    case = card(run, ANSWERS)["case"]
    status, out, _ = run("walk", case, lines="1\n")
    assert status == 130
    asked = out.partition("Before you begin")[2]
    assert asked, "what is open on the car is asked in the bay"
    assert "Is it burnt" not in out
    assert "Does it charge elsewhere" not in out


def test_a_person_without_a_terminal_is_led_line_by_line(run: Run) -> None:
    lines = "1\nnone\nsince the storm\nnone\nnone\n1\n1\nno\n2\n"
    status, out, err = run("triage", "--vehicle", "petrel", "it does nothing", lines=lines)
    assert status == 0, err
    assert "Job card, case " in out
    assert '"it does nothing"' in out
    assert "since the storm" in out
    assert "Which complaint is it?" in out
    assert "heard in `nothing`" in out
    assert out.count("Is it burnt") == 2, "asked once, and once on the card"
    assert "\x1b" not in out


def test_who_comes_back_to_the_words_may_say_them_anew(run: Run) -> None:
    lines = "1\nnone\nsince the storm\nnone\nnone\nback\nit stops\n20\nsame\nnone\nnone\nleave\n"
    status, out, err = run("triage", "--vehicle", "petrel", "it does nothing", lines=lines)
    assert status == 0, err
    assert "or `same`: since the storm" in out
    assert '"it stops"' in out
    assert "since the storm" in out[out.index("Job card") :]
    status, out, _ = run("cases")
    assert "triage" in out
    status, out, _ = run("cases", "list", "--json")
    (listed,) = json.loads(out)["cases"]
    assert (listed["tree"], listed["complaint"], listed["title"]) == ("triage", "triage", "it stops")


def test_lists_show_the_complaint_that_the_desk_found(run: Run) -> None:
    status, _, err = run("triage", "--vehicle", "petrel", "it does nothing", lines="1\n" + "none\n" * 4 + "1\nleave\n")
    assert status == 0, err
    _, out, _ = run("cases", "list", "--json")
    (listed,) = json.loads(out)["cases"]
    assert (listed["tree"], listed["complaint"]) == ("triage", "no-charge")
    assert "no-charge" in run("cases")[1]
    assert run("cases", "list", "--tree", "no-charge")[1].count("no-charge") == 1
    assert "no-charge (begun with triage): it does nothing" in run("cases", "show", listed["case"])[1]


def test_why_at_the_desk_says_nothing_of_what_the_bay_would_do(run: Run) -> None:
    _, out, _ = run("triage", "--vehicle", "petrel", "it does nothing", lines="1\n" + "none\n" * 4 + "1\nwhy\nleave\n")
    assert "Likeliest so far" in out
    assert "whole case" not in out


def test_words_that_say_nothing_lead_to_the_questions(run: Run) -> None:
    found = card(run, "vehicle: petrel\nanswers: {what: fails, burnt: no, other-point: yes}\n", "hm", "well")
    assert found["words"] == "hm well"
    assert found["sorted_by"] == "the questions at the desk"
    assert found["complaint"] == "no-charge"
    assert found["answers"][0] == {"test": "what", "ask": "What does the owner meet", "outcome": "fails", "note": "",
                                   "evidence": False}  # fmt: skip
    assert "named by the answers at the desk" in found["stands_at"]
    assert found["bay_minutes"] is None


def test_a_file_may_say_which_complaint_the_words_mean(run: Run) -> None:
    wanted = ANSWERS.replace("complaint: {", "complaint: {is: questions, ")
    wanted = wanted.replace("answers: {", "answers: {what: fails, ")
    assert card(run, wanted)["sorted_by"] == "the questions at the desk"
    status, _, err = run("triage", answers=ANSWERS.replace("complaint: {", "complaint: {is: no-chrge, "))
    assert status == 2
    assert "`no-chrge` is not one of no-charge, questions" in err
    assert "answers.yaml:3" in err


def test_a_danger_stops_the_desk_and_says_who_is_called(run: Run) -> None:
    found = card(run, "vehicle: petrel\nlook: smoke\n")
    assert found["danger"]
    assert found["complaint"] is None
    assert any("do not plug" in line.lower() for line in found["safety"])
    assert any("fire service" in line for line in found["safety"])
    stopped = card(run, "vehicle: petrel\ncomplaint: {words: does nothing}\nanswers: {burnt: yes}\n")
    assert stopped["danger"]
    assert stopped["bay_minutes"] is None


def test_no_card_says_that_a_car_is_safe(run: Run) -> None:
    status, out, _ = run("triage", answers=ANSWERS)
    assert status == 0
    assert "Nothing here says that the car is safe." in out
    assert "is safe" not in out.replace("Nothing here says that the car is safe", "").replace(
        "No card says that a car is safe", ""
    )


def test_the_card_is_written_as_markdown_and_nothing_typed_becomes_markup(run: Run, tmp_path: Path) -> None:
    target = tmp_path / "card.md"
    status, out, err = run("triage", "--output", str(target), answers=ANSWERS)
    assert (status, out) == (0, "")
    assert "card.md" in err
    text = target.read_text("utf-8")
    assert text.startswith("# Job card, case ")
    assert "\\[red\\]NOTHING" in text
    status, _, err = run("triage", "--output", str(target), answers=ANSWERS)
    assert status == 2
    assert "is there already" in err
    status, out, _ = run("cases", "list", "--json")
    assert len(json.loads(out)["cases"]) == 1, "refused before a case was opened"


@pytest.mark.parametrize(
    ("arguments", "answers", "words"),
    [
        (("triage",), "answers: {burnt: no}\nvehicle: petrel\n", "no answer for `what`"),
        (("triage",), "answers: {brunt: no}\n", "there is no test `brunt`"),
        (("triage",), ": :", "answers.yaml:1"),
        (("triage", "--vehicle", "petrl"), ANSWERS, "petrel"),
        (("triage", "2026-0009"), ANSWERS, "`2026-0009` is a case's number"),
        (("triage", "--output", "/no/such/folder/card.md"), ANSWERS, "/no/such/folder"),
    ],
)
def test_bad_input_is_named_with_status_2(run: Run, arguments: tuple[str, ...], answers: str, words: str) -> None:
    status, out, err = run(*arguments, answers=answers)
    assert status == 2
    assert words in err
    assert "Traceback" not in err + out


def test_a_case_goes_on_at_the_desk_and_its_card_is_shown_again(run: Run) -> None:
    status, out, _ = run("triage", "it does nothing", "--vehicle", "petrel", lines="1\nnone\nnone\nnone\nnone\n1\n")
    assert status == 130
    status, out, err = run("triage", "1", lines="no\n1\n")
    assert status == 0, err
    assert "named by the answers at the desk" in out or "next in the bay" in out
    status, again, err = run("triage", "1")
    assert status == 0, err
    assert again.startswith("Job card, case ")
    answers = "vehicle: petrel\nanswers: {burnt: no, other-point: yes}"
    status, out, err = run("walk", "no-charge", "--json", answers=answers)
    assert status == 0, err
    status, _, err = run("triage", json.loads(out)["case"])
    assert status == 2
    assert "did not begin at the desk" in err


def test_killed_at_any_question_the_case_is_kept(trees: Path, tmp_path: Path) -> None:
    """No goodbye: the process is killed at each question in turn; what was said is there, and triage goes on."""
    lines = ["1", "none", "none", "none", "none", "1", "no"]
    for count in range(1, len(lines) + 1):
        store = str(tmp_path / f"cases{count}.db")
        start = [sys.executable, "-m", "diagtree", "--plain", "--trees", str(trees), "--store", store]
        child = subprocess.Popen(
            [*start, "triage", "--vehicle", "petrel", "does nothing"], stdin=subprocess.PIPE,
            stdout=subprocess.PIPE, text=True, cwd=Path(__file__).parents[2],
        )  # fmt: skip
        assert child.stdin is not None
        assert child.stdout is not None
        child.stdin.write("\n".join(lines[:count]) + "\n")
        child.stdin.flush()
        seen = ""
        end = time.monotonic() + 20
        while seen.count("> ") < count + 1 and time.monotonic() < end:
            seen += child.stdout.read(1)
        os.kill(child.pid, signal.SIGKILL)
        child.wait()
        left = [*lines[1 if count < 5 else count :], "2"]  # a form half filled in is asked for again
        done = subprocess.run(
            [*start, "triage", "1", "--json"], input="\n".join(left) + "\n", capture_output=True, text=True,
            check=False, cwd=Path(__file__).parents[2],
        )  # fmt: skip
        assert done.returncode == 0, (count, done.stderr)
        found = json.loads(done.stdout)
        assert (found["complaint"], found["words"]) == ("no-charge", "does nothing")


@pytest.mark.parametrize(("columns", "rows", "env"), [(80, 24, {}), (120, 40, {"NO_COLOR": "1"})])
def test_an_adviser_at_a_terminal(trees: Path, tmp_path: Path, columns: int, rows: int, env: dict[str, str]) -> None:
    arguments = ["-m", "diagtree", "--trees", str(trees), "--store", str(tmp_path / "cases.db"), "triage", "--vehicle",
                 "petrel", "does nothing"]  # fmt: skip
    terminal = Terminal(arguments, columns=columns, rows=rows, env=env)
    terminal.wait_for("Number or word >")
    assert "\x1b[3" not in terminal.raw or not env, "no colour where none is wanted"
    terminal.send("1\r")
    for words in ("Minutes until", "Since when", "Message or light", "Charged where"):
        terminal.wait_for(words)
        terminal.send("none\r")
    terminal.wait_for("Answer >")
    shown = "\n".join(terminal.lines)
    assert "Which complaint is it?" in shown
    assert "heard in `nothing`" in shown
    terminal.send("1\r")
    terminal.wait_for("Number or word >")
    terminal.send("1\r")
    terminal.wait(lambda screen: "Does it charge elsewhere" in screen.text)
    terminal.wait_for("Answer >")
    terminal.send("2\r")
    terminal.wait(lambda screen: "is safe. Local law" in screen.text.replace("\n", " "))
    terminal.wait(lambda screen: "card.md`." in screen.last)  # wherever the line of a long path is broken
    shown = "\n".join(terminal.lines)
    for words in ("Job card, case", "SAFETY: TELL THE OWNER", "LIKELIEST SO FAR", "Keep:", "--whole`"):
        assert words in shown, "the front of the card stands on one screen"
    assert "ANSWERS AT THE DESK" not in terminal.text
    assert all(len(line) <= columns for line in terminal.text.splitlines())
    terminal.close()
    again = Terminal([*arguments[:6], "triage", "1", "--whole"], columns=columns, rows=rows, env=env)
    again.wait(lambda screen: "KEEP FOR THE TECHNICIAN" in screen.text)
    again.close()


def test_who_breaks_off_at_the_desk_is_told_to_go_on_at_the_desk(trees: Path, tmp_path: Path) -> None:
    start = [sys.executable, "-m", "diagtree", "--plain", "--trees", str(trees), "--store", str(tmp_path / "cases.db")]
    left = subprocess.run(
        [*start, "triage", "--vehicle", "petrel", "does nothing"], input="1\n", capture_output=True, text=True,
        check=False, cwd=Path(__file__).parents[2],
    )  # fmt: skip
    told = " ".join((left.stdout + left.stderr).split())
    assert f"is saved; go on with `diagtree --store {tmp_path / 'cases.db'} triage 20" in told
    assert "walk 20" not in told


def test_words_that_name_a_danger_are_asked_about_though_a_file_says_nothing_of_it(run: Run) -> None:
    found = card(run, ANSWERS.replace("at home", "at home and smells burnt"))
    assert (found["look"], found["danger"]) == ("nothing", False)
    assert "asked again, since the owner says `smells`, `burnt`: nothing" in found["looked"]


def test_who_goes_back_from_the_complaints_may_let_the_words_of_the_command_stand(run: Run) -> None:
    lines = "1\n" + "none\n" * 4 + "back\nsame\n" + "none\n" * 4 + "1\nno\n1\n"
    status, out, err = run("triage", "it does nothing", "--vehicle", "petrel", lines=lines)
    assert status == 0, err
    assert "or `same`: it does nothing>" in out
    assert "it does nothing" in out.rpartition("Job card, case")[2]
