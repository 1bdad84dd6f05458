"""What the quiz keeps: rounds left, killed and gone on with, several trainees, the history; no trace in the cases."""

from __future__ import annotations

import json
import re
import sqlite3
from pathlib import Path

import pytest

from diagtree.cases.quiz_store import open_quiz
from diagtree.cases.store import open_store
from diagtree.terminal.views.quiz_pictures import Pictures
from tests.terminal.quiz_work import WORK, Run


def test_the_quiz_leaves_no_trace_in_the_cases(quiz: Run, tmp_path: Path) -> None:
    assert quiz("--mode", "practice", "--seed", "1", acts=WORK)[0] == 0
    assert quiz("--mode", "safety", "--questions", "1", "--seed", "1", lines="1\n" * 3)[0] == 0
    assert quiz("--history")[0] == 0
    assert not (tmp_path / "cases.db").exists()
    with open_store(tmp_path / "cases.db"):
        pass
    before = (tmp_path / "cases.db").read_bytes()
    assert quiz("--mode", "practice", "--seed", "2", acts=WORK + "refer\n")[0] == 0
    assert (tmp_path / "cases.db").read_bytes() == before
    with open_quiz(tmp_path / "quiz.db") as store:
        assert len(store.rounds("trainee")) == 3


def test_acts_that_end_early_keep_the_round_and_it_goes_on(quiz: Run) -> None:
    status, out, err = quiz("--mode", "practice", "--seed", "1", acts="other-point")
    assert status == 2
    assert "end before the round does" in err
    status, out, err = quiz(acts="\n".join(WORK.split()[1:1]) + WORK.replace("other-point\n", ""))
    assert status == 0, err
    assert "Gone on with" in out
    assert "other-point: no" in out


def test_the_end_of_a_pipe_leaves_the_round_with_130(quiz: Run) -> None:
    status, _, err = quiz("--mode", "practice", "--seed", "1", lines="other-point\n")
    assert status == 130
    assert re.search(r"is saved; `diagtree .*quiz --mode practice --progress \S+quiz.db` goes on with it", err)


def test_leave_is_fine_and_new_puts_the_round_aside(quiz: Run) -> None:
    assert quiz("--mode", "practice", "--seed", "1", lines="other-point\nleave\n")[0] == 0
    status, out, _ = quiz("--mode", "practice", "--new", "--seed", "2", lines="leave\n")
    assert status == 0
    assert "Gone on with" not in out
    _, out, _ = quiz("--history", "--json")
    assert [row["result"]["ended"] for row in json.loads(out)["rounds"]] == ["left", None]


def test_a_round_killed_before_its_account_is_accounted_for(quiz: Run, tmp_path: Path) -> None:
    whole = json.loads(quiz("--mode", "practice", "--seed", "1", "--json", acts=WORK)[1])
    connection = sqlite3.connect(tmp_path / "quiz.db")
    with connection:
        connection.execute("DELETE FROM ends")
    connection.close()
    status, out, err = quiz("--json")
    assert status == 0, err
    assert json.loads(out)["regret"] == pytest.approx(whole["regret"], abs=0.01)
    assert quiz("--history", "--json")[1].count('"fixed"') == 1


def test_another_car_is_another_round(quiz: Run) -> None:
    first = ("--mode", "safety", "--seed", "1", "--questions", "2")
    assert quiz(*first, "--vehicle", "petrel-2", lines="1\n", ships=True)[0] == 130
    _, out, _ = quiz("--mode", "safety", "--vehicle", "marlin-1", lines="leave\n", ships=True)
    assert "answered before" not in out
    _, out, _ = quiz("--mode", "safety", "--vehicle", "petrel-2", lines="leave\n", ships=True)
    assert "1 answered before" in out


def test_several_trainees_do_not_meet(quiz: Run) -> None:
    assert quiz("--mode", "practice", "--seed", "1", "--trainee", "anna", lines="burnt\nleave\n")[0] == 0
    _, out, _ = quiz("--mode", "practice", "--seed", "1", "--trainee", "ben", lines="look\nleave\n")
    assert "burnt: no" not in out
    _, out, _ = quiz("--mode", "practice", "--seed", "1", "--trainee", "anna", lines="look\nleave\n")
    assert "burnt: no" in out
    _, out, _ = quiz("--history", "--trainee", "carl")
    assert "Others on this machine: anna, ben." in out


def test_a_round_on_changed_knowledge_is_told(quiz: Run, tmp_path: Path) -> None:
    assert quiz("--mode", "practice", "--seed", "1", lines="other-point\nleave\n")[0] == 0
    tree = tmp_path / "trees" / "no-charge.yaml"
    tree.write_text(tree.read_text("utf-8").replace("point: 40", "point: 39"), "utf-8")
    status, _, err = quiz("--mode", "practice", lines="leave\n")
    assert status == 2
    assert "knowledge has changed" in err
    assert "--new" in err
    assert quiz("--mode", "practice", "--new", lines="leave\n")[0] == 0


def test_a_drill_gone_on_with_asks_the_same(quiz: Run) -> None:
    drill = ("--mode", "reading", "--seed", "5", "--questions", "4", "--json")
    whole = quiz(*drill, "--trainee", "anna", acts="1\n1\n1\n1\n", ships=True)[1]
    assert quiz(*drill, "--trainee", "ben", lines="1\n1\n", ships=True)[0] == 130
    status, again, err = quiz(*drill, "--trainee", "ben", acts="1\n1\n", ships=True)
    assert status == 0, err
    assert json.loads(again)["answers"] == json.loads(whole)["answers"]
    other = quiz(*drill[:3], "6", *drill[4:], "--trainee", "carl", acts="1\n1\n1\n1\n", ships=True)[1]
    assert json.loads(other)["answers"] != json.loads(whole)["answers"]


def test_history_is_readable_everywhere(quiz: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    assert "Nothing to show yet" in quiz("--history")[1]
    for seed in ("1", "2"):
        quiz("--mode", "practice", "--seed", seed, acts=WORK + "advise point 90\nrefer\n")
        quiz("--mode", "safety", "--seed", seed, "--questions", "5", lines="1\n" * 5)
    out = quiz("--history")[1]
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
