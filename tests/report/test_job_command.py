"""`report CASE` on the shipped knowledge: a whole invented job out of the store, and every way to ask wrongly."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest

from diagtree.cases.store import open_store
from diagtree.terminal.commands.report import lines
from diagtree.terminal.main import main


@pytest.fixture(scope="module")
def store(tmp_path_factory) -> str:
    """Return a store that holds the finished job of `demo`."""
    path = tmp_path_factory.mktemp("cases") / "cases.db"
    assert main(["--store", str(path), "demo"]) == 0
    return str(path)


def run(capsys, *argv: str) -> tuple[int, str, str]:
    status = main(list(argv))
    out, err = capsys.readouterr()
    return status, out, err


def test_the_job_of_the_demo_is_reported_whole(store, capsys):
    """Printed: readings, absence, parts, money, the head of the chain and that it says nothing about safety."""
    status, out, err = run(capsys, "--store", store, "report", "1")
    with open_store(store) as opened:
        case = opened.resolve("1")
        assert case is not None
        head, digest = opened.head(case), opened.digest(case)
    assert (status, err) == (0, "")
    for fact in (
        "Harbour Lane Garage", "above the meter's range (OL)", "moved the [brown] lead while measuring, still OL",
        "read 0.4 V", "limit below 25 V", "charge inlet with short lead, 390.00 EUR", "charged 45 min",
        "the technician keeps the key and the lock", head, digest, "does not say that the car is safe",
        "every entry is as it was written",
    ):  # fmt: skip
        assert fact in out, fact


def test_a_file_is_written_whole_and_never_replaced_unasked(store, capsys, tmp_path):
    """By its suffix it is Markdown; a file that is there stays unless --overwrite is said; nothing else is left."""
    path = tmp_path / "record.md"
    assert run(capsys, "--store", store, "report", "1", "--output", str(path))[:2] == (0, "")
    text = path.read_text(encoding="utf-8")
    assert text.startswith("# Job record, case ")
    path.write_text("mine", encoding="utf-8")
    status, out, err = run(capsys, "--store", store, "report", "1", "--output", str(path))
    assert (status, out, err.count("\n")) == (2, "", 1)
    assert "--overwrite" in err
    assert path.read_text(encoding="utf-8") == "mine"
    assert run(capsys, "--store", store, "report", "1", "--output", str(path), "--overwrite")[0] == 0
    assert path.read_text(encoding="utf-8").startswith("# Job record, case ")
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize(
    ("argv", "said"),
    [
        (("report", "99"), "there is no case `99`"),
        (("report", "nonsense"), "there is no case `nonsense`"),
        (("report", "1", "--format", "markdwn"), "did you mean `markdown`"),
        (("report", "1", "--output", "/nonexistent-folder/record.md"), "cannot be written"),
    ],
)
def test_wrong_use_is_one_clear_line(store, capsys, argv, said):
    """Status 2, nothing on standard output, one line that says what is wrong."""
    status, out, err = run(capsys, "--store", store, *argv)
    assert (status, out) == (2, "")
    assert said in err
    assert err.count("\n") == 1


def test_a_report_changes_nothing(store, capsys):
    """The case has as many entries, and the same head, before and after."""
    with open_store(store) as opened:
        before = opened.export(opened.resolve("1"))
    run(capsys, "--store", store, "report", "1", "--format", "markdown")
    with open_store(store) as opened:
        assert opened.export(opened.resolve("1")) == before


def test_a_case_that_was_tampered_with_is_told(store, capsys, tmp_path):
    """A reading changed behind the store's back: a warning, and the record itself says so."""
    copy = tmp_path / "cases.db"
    with sqlite3.connect(store) as source, sqlite3.connect(copy) as target:
        source.backup(target)
    with sqlite3.connect(copy) as opened:
        for (name,) in opened.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
            opened.execute(f"DROP TRIGGER {name}")
        changed = "UPDATE events SET body = replace(body, '\"0.4\"', '\"0.3\"') WHERE body LIKE '%AbsenceMeasured%'"
        assert opened.execute(changed).rowcount == 1
    opened.close()
    status, out, err = run(capsys, "--store", str(copy), "report", "1")
    assert status == 0
    assert "is not as it was written" in err
    assert "NOT AS IT WAS WRITTEN" in out


@pytest.mark.parametrize("columns", [40, 80])
def test_on_a_screen_lines_are_wrapped_at_words_and_nothing_is_cut(columns):
    """No line is wider than the screen; every word is still there, long digests too."""
    text = f"HEAD\n  - {'word ' * 40}\n    Chain: {'a1' * 32}\n\nend\n"
    wrapped = lines(text, columns)
    assert max(map(len, wrapped)) <= columns
    assert "".join(wrapped).replace(" ", "") == text.replace(" ", "").replace("\n", "")
    assert lines(text, None) == text.splitlines()


def test_every_case_on_the_way_can_be_reported(store, capsys, tmp_path):
    """The demo's job stopped after each of its entries: a record each time, none with a traceback."""
    from diagtree.report.job import formats
    from diagtree.report.job_record import CaseFacts, job_record
    from diagtree.terminal.run_walk import reopen

    with open_store(store) as opened:
        saved = reopen(opened, opened.resolve("1"))
    facts = CaseFacts("2026-0001", "open", saved.events[0].at, saved.events[-1].at, "", "d", "h")
    for count in range(1, len(saved.events) + 1):
        record = job_record(saved.walk, saved.events[:count], facts, saved.events[-1].at)
        for form in formats():
            assert form.render(record)
        assert (record.conclusion.words.startswith("Corrected")) is (count == len(saved.events))
    assert Path(store).exists()
