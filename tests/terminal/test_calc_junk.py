"""Whatever is typed at the bench calculator: an answer and status 0, or clear words and status 2. Never a traceback."""

from __future__ import annotations

import contextlib
import io
import json
from pathlib import Path

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from diagtree.physics.quantity import Input, Quantity, quantities
from diagtree.physics.ranges import amount, plain
from diagtree.physics.verdict import Verdict, verdicts
from diagtree.terminal.main import main
from tests.terminal.test_calc import arguments

ALL: tuple[Quantity | Verdict, ...] = (*quantities(), *verdicts())

JUNK = st.one_of(
    st.sampled_from(
        ["nan", "NaN", "-nan", "inf", "-inf", "infinity", "OL", "-OL", "1,2,3", "1.2.3", "", " ", "-", "--", "0", "-0",
         "-1", "1e400", "-1e-400", "1e308", "5e-324", "7.5 %", "-300", "0x10", "1_000", "١٢", "12 V 3", "8.1 +/- ",
         "+/- 1", "8.1 +/- -1", "8.1 +/- nan", "8.1 +/- 1 +/- 2", "8.1 ± 0.1", "ntc", "ntc r25=-1 beta=nan", "ntc 0:1",
         "ptc", "platinum r0=0", "vehicle", "inlet", "inlet.ac_sensor", "ntc r25=1e8 beta=10000", "A", "g", "none",
         "open", "ntc 0:100 25:100", "a\x00b", "\x1b[31m", "1 kk", "1 MK", "100 M", "0.1 u", "\ud800"]
    ),
    st.text(max_size=12),
    st.floats(allow_nan=True, allow_infinity=True).map(repr),
)  # fmt: skip


def run(*words: str) -> tuple[int, str, str]:
    """Return status, output and errors of one command line."""
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        status = main(["calc", *words])
    return status, out.getvalue(), err.getvalue()


def fine(status: int, out: str, err: str) -> None:
    """Pass an answer or one clear line; fail for a traceback or a mistake of ours."""
    assert status in (0, 1, 2), err  # 1: a voltage that is hazardous
    assert "Traceback" not in err
    assert "mistake in diagtree" not in err
    if status == 2:
        assert out == ""
        assert len(err.splitlines()) >= 1
    else:
        assert "nan" not in json.loads(out).get("value", 0.0).__repr__()


@settings(max_examples=700, suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(one=st.sampled_from(ALL), data=st.data())
def test_junk_is_answered_in_words(one: Quantity | Verdict, data: st.DataObject) -> None:
    words = arguments(one.worked[0].inputs)
    typed = {item.name: data.draw(JUNK) for item in one.inputs if data.draw(st.booleans())}
    for name, value in typed.items():
        words += [f"--{name.replace('_', '-')}={value}"]
    extra = data.draw(st.sampled_from([[], ["--reading", "1"], ["--meter", "multimeter"], ["--vehicle", "petrel-2"]]))
    fine(*run(one.id, *_last(words), *extra, "--json"))


@settings(max_examples=300, deadline=None)
@given(one=st.sampled_from([one for one in quantities() if one.inverses]), value=JUNK, data=st.data())
def test_junk_to_be_solved_is_answered_in_words(one: Quantity, value: str, data: st.DataObject) -> None:
    solve = data.draw(st.sampled_from(sorted(one.inverses)))
    inputs = {name: item for name, item in one.worked[0].inputs.items() if name != solve}
    fine(*run(one.id, "--solve", solve, f"--value={value}", *arguments(inputs), "--json"))


@settings(max_examples=200, deadline=None)
@given(
    words=st.lists(
        JUNK | st.sampled_from(["pilot", "card", "ntc", "--csv", "--solve", "--list", "--meter", "-"]), max_size=5
    )
)
@example(words=["card", "--out"])
@example(words=["card", "petrel-2", "--format", "\x00"])
def test_junk_alone_is_answered_in_words(words: list[str]) -> None:
    if "-" in words and "--csv" in words:
        return  # standard input
    status, _, err = run(*words)
    assert status in (0, 2), err
    assert "Traceback" not in err
    assert "mistake in diagtree" not in err


def numbers() -> list[tuple[str, Input]]:
    return [(one.id, item) for one in ALL for item in one.inputs if item.unit not in ("word", "text", "facts")]


@pytest.mark.parametrize(("name", "item"), numbers(), ids=lambda part: part if isinstance(part, str) else part.name)
@pytest.mark.parametrize("typed", ["nan", "1,2,3", "-1e30"])
def test_every_number_is_refused_by_its_name_with_what_to_type(name: str, item: Input, typed: str) -> None:
    one = next(one for one in ALL if one.id == name)
    words = arguments({**one.worked[0].inputs, item.name: 0.0})
    place = words.index(f"--{item.name.replace('_', '-')}")
    status, out, err = run(name, *words[:place], words[place], typed, *words[place + 2 :])
    if status == 0:
        assert (typed, item.low) == ("-1e30", None), "only an input without a lower bound takes any number"
        return
    assert (status, out) == (2, "")
    assert item.name.replace("_", "-") in err.replace("_", "-")
    assert "type" in err or "takes" in err
    if item.low is not None and typed == "-1e30":
        assert plain(item.low) in err or amount(item.low, item.unit) in err, err


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    head=st.sampled_from(["temperature", "temperature;reading", "temperature [degC],note", "reading\ttemperature", ""]),
    body=st.text(st.sampled_from(list("0123456789.,;\t\n\"' +-/eEkMOLnaif%CKx\r\x00#=")), max_size=60),
)
def test_a_file_of_anything_is_answered_or_told(head: str, body: str, tmp_path: Path) -> None:
    path = tmp_path / "any.csv"
    path.write_bytes(f"{head}\n{body}".encode())
    for face in (["--json"], ["--csv-out", "-"], []):
        status, out, err = run("platinum", "--sensor", "platinum r0=100", "--csv", str(path), *face)
        assert status in (0, 2), err
        assert "mistake in diagtree" not in err
        assert (out == "") is (status == 2)


def test_a_note_is_no_formula_of_a_spreadsheet(tmp_path: Path) -> None:
    path = tmp_path / "notes.csv"
    path.write_text("temperature,note\n18,=1+1\n")
    assert run("platinum", "--sensor", "platinum r0=100", "--csv", str(path), "--csv-out", "-")[1].endswith(",'=1+1\n")


def test_a_file_of_junk_is_told_by_line_and_column(tmp_path: Path) -> None:
    path = tmp_path / "bad.csv"
    path.write_bytes(b"\xff\xfe\x00;\x00\n\x00\x01")
    status, out, err = run("ntc", "--csv", str(path))
    assert (status, out) == (2, "")
    assert "bad.csv" in err


def _last(words: list[str]) -> list[str]:
    """Return the words with each input once, the last one of it."""
    groups: dict[str, list[str]] = {}
    name = ""
    for word in words:
        if word.startswith("--"):
            name = word.partition("=")[0]
            groups[name] = [word]
        else:
            groups[name].append(word)
    return [word for group in groups.values() for word in group]
