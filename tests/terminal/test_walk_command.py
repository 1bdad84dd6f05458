"""Walks from an answers file and from piped lines, by the command line."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from diagtree.terminal.main import main
from tests.terminal.house import FILES, OPEN
from tests.terminal.quiz_work import Run


def document(run: Run, answers: str, *more: str) -> dict[str, Any]:
    status, out, err = run("walk", "no-charge", "--json", *more, answers=answers)
    assert status == 0, err
    found: dict[str, Any] = json.loads(out)
    return found


def test_a_walk_from_a_file_ends_at_its_first_ending(run: Run) -> None:
    found = document(run, OPEN)
    assert found["conclusion"] == {"kind": "conclude", "id": "sensor-open"}
    # burnt 1 + other-point 1 + bench 20 + make safe 25 + connector 4 + sensor 6
    assert found["minutes"] == pytest.approx(1 + 1 + 20 + 25 + 4 + 6)
    assert found["cost"] == pytest.approx(1 + 1 + 20 + 25 + 4 + 3), "rate 60: a minute is 1; the sensor binds for 3"
    assert sum(found["posterior"].values()) == pytest.approx(1)
    assert set(found["posterior"]) == {"point", "sensor-open", "something-else"}
    status, out, _ = run("cases", "list", "--json")
    assert status == 0
    (row,) = json.loads(out)["cases"]
    assert row["case"] == found["case"]
    assert row["status"] == "open"


def test_posterior_is_bayes_rule_by_hand(run: Run) -> None:
    found = document(run, OPEN)
    mistake = {"burnt": 0.01, "other-point": 0.05, "sensor": 0.02}
    kinds = {"burnt": 2, "other-point": 2, "sensor": 3}
    stated = {
        "point": {"burnt": 1.0, "other-point": 0.03, "sensor": 0.0},
        "sensor-open": {"burnt": 1.0, "other-point": 1.0, "sensor": 0.95},
    }
    weight = {"something-else": 10 * 1 / 2 * 1 / 2 * 1 / 3}
    for cause, share in (("point", 40.0), ("sensor-open", 50.0)):
        for test, wrong in mistake.items():
            share *= (1 - wrong) * stated[cause][test] + wrong / kinds[test]
        weight[cause] = share
    total = sum(weight.values())
    assert found["posterior"] == pytest.approx({cause: one / total for cause, one in weight.items()})


@pytest.mark.parametrize(
    ("change", "conclusion"),
    [
        (("other-point: no", "other-point: yes"), {"kind": "conclude", "id": "point"}),
        (("burnt: no", "burnt: yes"), {"kind": "refer", "id": "a specialist"}),
        (("OL", "13.2 k"), {"kind": "refer", "id": "the maker"}),
        (("sensor: {resistance: OL, temperature: 18}", "sensor: not-done"), {"kind": "refer", "id": "the maker"}),
    ],
)
def test_other_answers_other_endings(run: Run, change: tuple[str, str], conclusion: dict[str, str]) -> None:
    assert document(run, OPEN.replace(*change))["conclusion"] == conclusion


def test_a_test_that_is_not_done_opens_nothing_and_takes_no_time(run: Run) -> None:
    found = document(run, OPEN.replace("{resistance: OL, temperature: 18}", "not-done"))
    assert found["minutes"] == pytest.approx(2)


def test_a_danger_at_the_first_look_ends_the_walk(run: Run) -> None:
    found = document(run, "look: smoke\nanswers: {}\n")
    assert found["conclusion"]["kind"] == "refer"
    assert found["minutes"] == 0


def test_a_whole_job_in_one_file(run: Run) -> None:
    more = """
go-on: yes
correction: new sensor
proof: {minutes: 25, watched: 5, power: 7, cut_out: no, temperature: 30, result: fixed}
"""
    found = document(run, OPEN + more)
    assert found["closed"] == "fixed"
    assert found["minutes"] == pytest.approx(57), "up to the conclusion, not to the end"
    status, out, _ = run("cases", "show", "1")
    assert status == 0
    assert "(closed)" in out
    assert "CaseClosed  how=fixed" in out


def test_a_proof_that_failed_is_status_1(run: Run) -> None:
    more = """
go-on: yes
correction: new sensor
proof: {minutes: 25, watched: 5, power: 7, cut_out: yes, temperature: 30, result: not-fixed}
remaining: [refer]
"""
    status, out, err = run("walk", "no-charge", "--json", answers=OPEN + more)
    assert status == 1, err
    assert json.loads(out)["closed"] == "referred"


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (("  other-point: no\n", ""), "no answer for `other-point`; expected yes, no or not-done"),
        (("  burnt: no\n", ""), "no answer for `burnt`; expected no, yes"),
        (("burnt: no", "burnt: not-done"), ":4:3: `burnt` cannot be `not-done`"),
        (("other-point: no", "other-point: noo"), ":5:3 error: `other-point` cannot be `noo`; did you mean `no`?"),
        (("other-point", "othr-point"), ":5:3 error: there is no test `othr-point`; did you mean `other-point`?"),
        (("resistance: OL", "resistanc: OL"), "no reading `resistanc`; did you mean `resistance`?"),
        (("resistance: OL, ", ""), "no reading `resistance` for `sensor`; expected a number in ohm"),
        (("{resistance: OL, temperature: 18}", "open"), "expected {resistance: ohm, temperature: degC} or not-done"),
        (("temperature: 18", "temperature: 1.2.3"), ":6:3: temperature: `1.2.3` is not"),
        ((", absence: [0.4, 0.1, 0.2]", ""), "no reading for the absence of voltage; expected"),
        (("0.4, 0.1, 0.2", "0.4, 0.1"), "`absence` has 2 readings; expected one in V each for DC+ and DC-"),
        (("0.4, 0.1, 0.2", "0.4, 400, 0.2"), "voltage was found"),
        (("0.4, 0.1, 0.2", "0.4 m, 0.1, 0.2"), "plain number"),
        (("0.4, 0.1, 0.2", "29.9, 0.1, 0.2"), "voltage was found"),
        (("make-safe", "makesafe"), "there is no procedure `makesafe`; did you mean `make-safe`?"),
        (("vehicle: petrel", "vehicle: petrol"), "did you mean `petrel`?"),
        (("vehicle: petrel", "vehicel: petrel"), "did you mean `vehicle`?"),
        (("vehicle: petrel", "look: smok"), "did you mean `smoke`?"),
        (("answers:", "answers: {a: b"), "error:"),
    ],
)
def test_what_a_file_lacks_or_gets_wrong_is_named_and_status_2(run: Run, change: tuple[str, str], said: str) -> None:
    status, out, err = run("walk", "no-charge", "--json", answers=OPEN.replace(*change))
    assert status == 2
    assert out == ""
    assert said in err
    assert "Traceback" not in err


def test_names_that_do_not_exist_are_told_before_a_case_is_opened(run: Run) -> None:
    assert run("walk", "no-charge", answers=OPEN.replace("noo", "x").replace("burnt: no", "burnt: nope"))[0] == 2
    assert json.loads(run("cases", "--json")[1])["cases"] == []


def test_absence_proven_on_the_second_run_of_a_list(run: Run) -> None:
    twice = OPEN.replace(
        "{secure: shift lead, absence: [0.4, 0.1, 0.2]}", "[{absence: [31, 0.1, 0.2]}, {absence: [0.4, 0.1, 0.2]}]"
    )
    found = document(run, twice)
    assert found["conclusion"] == {"kind": "conclude", "id": "sensor-open"}
    shown = run("cases", "show", "1")[1]
    assert "readings=[31, 0.1, 0.2]" in shown, "every reading stays on the record"
    assert "RepeatChosen" in shown


def test_one_reading_of_absence_is_not_used_twice(run: Run) -> None:
    status, _, err = run("walk", "no-charge", answers=OPEN.replace("[0.4, 0.1, 0.2]", "[31, 0.1, 0.2]"))
    assert status == 2
    assert "voltage was found" in err


def test_an_unused_answer_is_a_warning_only(run: Run) -> None:
    status, out, err = run("walk", "no-charge", "--json", answers=OPEN.replace("other-point: no", "other-point: yes"))
    assert status == 0
    assert json.loads(out)["conclusion"]["id"] == "point"
    assert "warning" in err
    assert ":6:3: the answer for `sensor` was not asked for" in err


def test_notes_of_a_file_are_kept_as_typed(run: Run) -> None:
    document(run, OPEN + "notes:\n  sensor: 'pin [red] green'\n")
    assert "text=pin [red] green" in run("cases", "show", "1")[1]


def test_answers_from_standard_input(run: Run) -> None:
    status, out, _ = run("walk", "no-charge", "--json", "--answers", "-", lines=OPEN)
    assert status == 0
    assert json.loads(out)["conclusion"]["id"] == "sensor-open"


def test_costs_of_the_command_line_come_before_the_house(run: Run) -> None:
    assert document(run, OPEN, "--rate", "120")["cost"] == pytest.approx(2 * 54)


LINES = ["nothing", "does [nothing]", "none", "nothing", "1", "2"]


def test_piped_lines_walk_and_the_end_of_input_saves(run: Run) -> None:
    status, out, err = run("walk", "no-charge", "--vehicle", "petrel", lines="\n".join([*LINES, "why", ""]))
    assert status == 130
    assert "Resistance of the sensor" in out
    assert "is saved; go on with `diagtree --store " in err
    status, out, _ = run("walk", "1", lines="")
    assert status == 130
    assert "other-point: no" in out, "the latest answers are shown to somebody who comes back"
    assert "Does it charge elsewhere" not in out, "and not asked again"


def test_an_edited_tree_does_not_change_a_case_half_walked(run: Run, tmp_path: Path) -> None:
    run("walk", "no-charge", "--vehicle", "petrel", lines="\n".join([*LINES, ""]))
    (tmp_path / "trees" / "no-charge.yaml").write_text("nonsense", "utf-8")
    (tmp_path / "trees" / "catalogue" / "all.yaml").write_text(
        FILES["catalogue/all.yaml"].replace("minutes: 25", "minutes: 77"), "utf-8"
    )
    (tmp_path / "trees" / "vehicles" / "petrel.yaml").write_bytes(b"\xff")
    status, out, _ = run("walk", "1", lines="")
    assert status == 130
    assert "25 min" in out
    assert "77 min" not in out


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("walk",), "trees here: no-charge"),
        (("walk", "no-chrge"), "did you mean `no-charge`?"),
        (("walk", "2026-0099"), "there is no case `2026-0099`"),
        (("walk", "no-charge", "--vehicle", "petral"), "did you mean `petrel`?"),
        (("walk", "no-charge", "--answers", "nowhere.yaml"), "no such file"),
        (("walk", "no-charge", "--rate", "-1"), "--rate"),
        (("cases", "show", "7"), "there is no case `7`"),
        (("cases", "close", "7", "--because", "x"), "there is no case `7`"),
        (("cases", "shw"), "shw"),
    ],
)
def test_wrong_use_names_what_there_is(run: Run, arguments: tuple[str, ...], said: str) -> None:
    status, out, err = run(*arguments)
    assert status == 2
    assert out == ""
    assert said in err
    assert len(err.strip().splitlines()) == 1


def test_a_closed_case_is_not_gone_on_with(run: Run) -> None:
    document(run, OPEN)
    status, out, err = run("cases", "close", "1", "--because", "owner took the car away")
    assert (status, out) == (0, out)
    assert "still open on the car: bench, connector" in err
    assert "isolated" in err
    assert run("cases", "close", "1", "--because", "again")[0] == 2
    status, _, err = run("walk", "1")
    assert status == 2
    assert "cases reopen" in err
    assert run("cases", "reopen", "1")[0] == 0
    assert run("walk", "1", lines="")[0] == 130


def test_cases_are_found_by_their_words(run: Run) -> None:
    document(run, OPEN + "notes: {sensor: greenish pin}\n")
    document(run, OPEN)
    assert len(run("cases", "find", "greenish")[1].splitlines()) == 1
    assert len(run("cases")[1].splitlines()) == 2
    assert run("cases", "find", "purple")[1] == ""


def test_export_is_one_document(run: Run) -> None:
    document(run, OPEN)
    found = json.loads(run("cases", "export", "1", "--texts")[1])
    assert found["tree"] == "no-charge"
    assert "no-charge.yaml" in found["knowledge"]["texts"]


def test_cases_can_be_looked_at_where_nothing_can_be_written(run: Run, tmp_path: Path) -> None:
    document(run, OPEN)
    store = tmp_path / "cases.db"
    before = store.stat().st_mtime_ns
    store.chmod(0o444)
    assert len(run("cases")[1].splitlines()) == 1
    assert run("cases", "show", "1")[0] == 0
    assert store.stat().st_mtime_ns == before


def test_a_case_that_came_to_its_end_is_not_told_to_be_opened_again(run: Run) -> None:
    ends = "\ngo-on: yes\ncorrection: new sensor\n"
    proof = "proof: {minutes: 25, watched: 5, power: 7, cut_out: no, temperature: 30, result: fixed}\n"
    assert document(run, OPEN + ends + proof)["closed"] == "fixed"
    status, _, err = run("walk", "1")
    assert status == 2
    assert "closed (fixed)" in err
    assert "cases.db report 20" in err
    assert "reopen" not in err, "it would refuse"


@pytest.mark.parametrize("command", [("walk",), ("triage",), ("triage", "--vehicle", "petrel")])
@pytest.mark.parametrize("number", ["2026-0009", "77"])
def test_the_number_of_no_case_is_told_as_that(run: Run, command: tuple[str, ...], number: str) -> None:
    status, out, err = run(*command, number, lines="1\n")
    assert (status, out) == (2, "")
    assert f"there is no case `{number}`" in err
    assert run("cases", "list", "--json")[1].count("case") == 1, "none was opened"


@pytest.mark.parametrize("command", [
    ("cases",), ("cases", "list"), ("cases", "find", "x"), ("cases", "show", "1"), ("cases", "export", "1"),
    ("cases", "close", "1", "--because", "x"), ("cases", "reopen", "1"), ("report", "1"), ("next", "1"), ("walk", "1"),
    ("triage", "1"),
])  # fmt: skip
def test_who_only_looks_makes_no_store(trees: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str],
                                       command: tuple[str, ...]) -> None:  # fmt: skip
    nowhere = tmp_path / "mistyped" / "cases.db"
    status = main(["--trees", str(trees), "--store", str(nowhere), *command])
    out, err = capsys.readouterr()
    assert not nowhere.parent.exists()
    assert out == ""
    lists = command in (("cases",), ("cases", "list"), ("cases", "find", "x"))
    assert status == (0 if lists else 2)
    assert (f"no cases yet at {nowhere}" if lists else f"there is no case `1` in {nowhere}") in err
