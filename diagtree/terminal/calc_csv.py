"""`calc QUANTITY --csv FILE`: one result for every row of a file of readings.

The header names the inputs, a unit in brackets behind (`temperature [degC]`); a column whose name begins with `note`
is carried along. Cells may be typed as at the keyboard (`1.2 k`, `8.1 +/- 0.05`). Semicolons, tabs or commas part them;
with semicolons or tabs a decimal comma is read. Inputs that are the same for all rows stay on the command line.
"""

from __future__ import annotations

import csv
import io
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from diagtree.errors import DiagtreeError, WrongUse
from diagtree.records import dataclass
from diagtree.terminal.commands import FINDINGS, FINE

if TYPE_CHECKING:
    from diagtree.physics.quantity import Input
    from diagtree.report.bench_result import BenchResult
    from diagtree.terminal.calc_given import Given

MOST_TOLD = 10
_MOST_BYTES = 20_000_000


@dataclass(frozen=True, slots=True)
class Row:
    """One row of the file: its line, its cells by input, its notes by column, and its result."""

    line: int
    cells: Mapping[str, str]
    notes: Mapping[str, str]
    result: BenchResult


@dataclass(frozen=True, slots=True)
class Column:
    """One column: which input it holds (None for a note), its unit, and its name as written."""

    name: str | None
    unit: str
    head: str


def run(given: Given, as_json: bool) -> int:
    """Compute every row, and print a table, a JSON document, or write CSV. Raises WrongUse for what cannot be read."""
    from diagtree.terminal.views import calc_table as view
    from diagtree.terminal.write_whole import write_whole

    file, out = given.options["csv"], given.options.get("csv_out")
    if not file or out == "":
        raise WrongUse("name the file behind `--csv`, and behind `--csv-out`; `-` is standard input or output")
    rows = read_rows(given, _text(file), file if file != "-" else "standard input")
    status = FINDINGS if any(row.result.hazardous for row in rows) else FINE
    if as_json:
        given.setting.document(view.document(given.one, rows))
    if out is not None:
        text = view.csv_text(given.one, rows)
        if out == "-":
            for line in text.splitlines():
                given.setting.say(line)
            return status
        write_whole(Path(out), text, overwrite="overwrite" in given.options)
        given.setting.talk(f"{out}: {len(rows)} row{'' if len(rows) == 1 else 's'}")
    elif not as_json:
        from diagtree.terminal.calc_list import say_lines

        say_lines(given.setting, view.head(given.one))
        for line in view.table(given.one, rows):
            given.setting.say(line)
        say_lines(given.setting, view.foot(given.one, rows))
    return status


def read_rows(given: Given, text: str, file: str) -> tuple[Row, ...]:
    """Return the rows with their results. Raises WrongUse; every bad cell is told before, with line and column."""
    lines = _cells(text, file)
    if not lines:
        raise WrongUse(f"{file} is empty: the first line must name the inputs, like {_header(given)}")
    (line, heads), *body = lines
    columns = [_column(given, head, f"{file}:{line}, column {place}") for place, head in enumerate(heads, 1)]
    _check_columns(given, columns, f"{file}:{line}")
    found, wrong = [], []
    for line, cells in body:
        if len(cells) != len(columns):
            wrong.append(_ragged(file, line, cells, columns))
            continue
        try:
            found.append(_row(given, columns, line, cells, file))
        except DiagtreeError as error:
            wrong.append(str(error))
    for message in wrong[:MOST_TOLD]:
        given.setting.talk(message)
    if wrong:
        more = f", {MOST_TOLD} of them above" if len(wrong) > MOST_TOLD else ""
        rows = "1 row" if len(wrong) == 1 else f"{len(wrong)} rows"
        raise WrongUse(f"{file}: {rows} cannot be computed{more}; nothing was written: mend them and run again")
    if not found:
        raise WrongUse(f"{file} has a header and no rows: write one row for each set of readings")
    return tuple(found)


def _row(given: Given, columns: Sequence[Column], line: int, cells: Sequence[str], file: str) -> Row:
    typed = {
        column.name: _with_unit(cell, column.unit)
        for column, cell in zip(columns, cells, strict=True)
        if column.name is not None and cell.strip()
    }
    notes = {column.head: cell for column, cell in zip(columns, cells, strict=True) if column.name is None}
    by_name = _inputs(given)
    for place, column in enumerate(columns, 1):
        if column.name is None or column.name not in typed:
            continue
        try:
            given.read(by_name[column.name], typed[column.name])
        except DiagtreeError as error:
            raise WrongUse(f"{file}:{line}, column {place} ({column.head}): {error}") from error
    try:
        return Row(line, typed, notes, given.results({**given.inputs, **typed}))
    except DiagtreeError as error:
        raise WrongUse(f"{file}:{line}: {error}") from error


def _column(given: Given, head: str, place: str) -> Column:
    from diagtree.physics.typed_inputs import named

    name, _, rest = head.strip().partition("[")
    unit = rest.strip().removesuffix("]").strip()
    if rest and not head.strip().endswith("]"):
        raise WrongUse(f"{place}: `{head}` has an open bracket; write the unit as `temperature [degC]`")
    if name.strip().lower().startswith("note"):
        return Column(None, "", head.strip())
    if not name.strip():
        raise WrongUse(
            f"{place} has no name: name the input, or delete the column; the header is like {_header(given)}"
        )
    inputs = _inputs(given)
    try:
        found = named(name, tuple(inputs.values()), given.one.id)
    except DiagtreeError as error:
        raise WrongUse(f"{place}: {error}; a column that is none begins with `note`") from error
    _check_unit(inputs[found], unit, place)
    return Column(found, unit, head.strip())


def _check_unit(item: Input, text: str, place: str) -> None:
    from diagtree.physics.ranges import KINDS
    from diagtree.physics.units import unit

    if not text:
        return
    if item.unit in KINDS:
        raise WrongUse(f"{place}: `{item.name}` is no number and has no unit; leave `[{text}]` out")
    try:
        found = unit(text)
    except DiagtreeError as error:
        raise WrongUse(f"{place}: `[{text}]`: {error}") from error
    if found.dimension.without_percent() != unit(item.unit).dimension.without_percent():
        raise WrongUse(
            f"{place}: `[{text}]` is {found.dimension}, but `{item.name}` is in {item.unit or 'plain numbers'}"
        )


def _check_columns(given: Given, columns: Sequence[Column], place: str) -> None:
    names = [column.name for column in columns if column.name is not None]
    for name in names:
        if names.count(name) > 1:
            raise WrongUse(f"{place}: `{name}` is there twice; one column for each input")
        if name in given.inputs:
            raise WrongUse(f"{place}: `{name}` is typed on the command line too; give it once")
    if not names:
        raise WrongUse(f"{place}: no column names an input; the header is like {_header(given)}")


def _inputs(given: Given) -> dict[str, Input]:
    """Return what a column may hold: the inputs, and the value that is solved for or a reading."""
    from diagtree.physics.quantity import Input
    from diagtree.physics.verdict import Verdict

    found = {item.name: item for item in given.one.inputs}
    if not isinstance(given.one, Verdict):
        name = "value" if "solve" in given.options else "reading"
        high = None if name == "value" else float("inf")
        found.setdefault(name, Input(name, given.one.unit, given.one.meaning, high=high))
    return found


def _with_unit(cell: str, unit: str) -> str:
    """Return a cell with the unit of its header, where it has none of its own."""
    text = cell.strip()
    bare = text.removeprefix("+").removeprefix("-")
    has_own = any(letter.isalpha() for letter in bare.replace("e", "").replace("E", "")) or "%" in bare
    if not unit or has_own:
        return text
    number, mark, spread = text.partition("+/-")
    return f"{number.strip()} {unit} +/- {spread.strip()} {unit}" if mark else f"{text} {unit}"


def _ragged(file: str, line: int, cells: Sequence[str], columns: Sequence[Column]) -> str:
    hint = "are cells missing?"
    if len(cells) > len(columns):
        hint = "decimal commas need semicolons between the cells, or the number in quotes"
    return f"{file}:{line}: {len(cells)} cells where the header has {len(columns)}: {hint}"


def _header(given: Given) -> str:
    needed = [item for item in given.one.inputs if item.default is None and item.name not in given.inputs]
    heads = (
        f"{item.name} [{item.unit}]" if item.unit not in ("word", "text", "facts", "") else item.name for item in needed
    )
    return f"`{';'.join(heads) or given.one.inputs[0].name}`"


def _cells(text: str, file: str) -> list[tuple[int, list[str]]]:
    """Return the lines that are neither empty nor a remark (`# ...`), each with its number, cut into cells."""
    first = next((line for line in text.splitlines() if line.strip() and not line.startswith("#")), "")
    # Whatever parts the header parts the rows; a comma inside a number is no rival to a semicolon or tab.
    mark = next((mark for mark in (";", "\t") if mark in first), ",")
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=mark, skipinitialspace=True, strict=True)
    found = []
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells) and not cells[0].startswith("#"):
                found.append((reader.line_num, cells))
    except csv.Error as error:
        raise WrongUse(f"{file}:{reader.line_num}: this line is no row of a CSV file ({error})") from error
    return found


def _text(file: str) -> str:
    """Return a file's text. Raises WrongUse where it cannot be read."""
    try:
        if file == "-":
            data = sys.stdin.buffer.read(_MOST_BYTES + 1) if hasattr(sys.stdin, "buffer") else sys.stdin.read().encode()
        else:
            with Path(file).open("rb") as stream:
                data = stream.read(_MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        raise WrongUse(f"{file} cannot be read: {reason}; name a CSV file, or `-` for standard input") from error
    if len(data) > _MOST_BYTES:
        raise WrongUse(f"{file} is larger than {_MOST_BYTES // 1_000_000} MB: split it")
    for encoding in ("utf-8-sig", "cp1252"):
        try:
            return data.decode(encoding)
        except UnicodeDecodeError:
            continue
    raise WrongUse(f"{file} is no text: save it as CSV in UTF-8")
