"""Print or write the job record of a case: every reading, limit, step and decision."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from diagtree.terminal.commands import FINE
from diagtree.terminal.setting import Setting
from diagtree.terminal.write_whole import write_whole

if TYPE_CHECKING:
    from diagtree.cases.store import CaseId, CaseStore
    from diagtree.report.job_record import JobRecord

_NARROWEST = 20  # columns that are left for text, however deep it is indented


@click.command("report")
@click.argument("case")
@click.option("--format", "wanted", metavar="FORMAT", help="text or markdown (default: by the file's suffix, or text).")
@click.option("--output", metavar="FILE", help="Write it to FILE, in UTF-8.")
@click.option("--overwrite", is_flag=True, help="FILE may be there already; it is replaced.")
@click.pass_obj
def report(setting: Setting, case: str, wanted: str | None, output: str | None, overwrite: bool) -> int:
    """Print or write the job record of CASE, open or closed: who measured what, when, with which meter.

    CASE is a number as it is shown (2026-0042), or its last part (42). The record does not say that the car is safe.
    """
    from diagtree.report.job import formats
    from diagtree.terminal.format_choice import chosen_format

    chosen = chosen_format(formats(), wanted, output)
    with setting.cases(existing=True) as store:
        record = record_of(store, _known(store, case))
    if record.case.breach:
        setting.talk(f"diagtree: warning: case {record.case.number} is not as it was written: {record.case.breach}")
    text = chosen.render(record)
    if output is None:
        for line in lines(text, setting.columns if chosen.id == "text" else None):
            setting.say(line)
        return FINE
    write_whole(Path(output).expanduser(), text, overwrite=overwrite)
    setting.talk(f"diagtree: the record of case {record.case.number} is in {output}")
    return FINE


def record_of(store: CaseStore, case: CaseId) -> JobRecord:
    """Return the record of a saved case, on the knowledge that the case keeps. Nothing is added to the case."""
    from diagtree.errors import WrongUse
    from diagtree.report.job_record import CaseFacts, job_record
    from diagtree.terminal.clock import now
    from diagtree.terminal.run_walk import reopen

    row, breach = store.row(case), store.verify(case)
    if row.events == 0:
        raise WrongUse(f"case {case} was opened, but nothing was entered: there is nothing to report")
    saved = reopen(store, case)
    facts = CaseFacts(
        number=case, status=row.status, opened=row.opened, changed=row.changed, by=row.by or "",
        digest=store.digest(case), head=store.head(case), breach=str(breach.what) if breach else "",
    )  # fmt: skip
    return job_record(saved.walk, saved.events, facts, now())


def lines(text: str, columns: int | None) -> list[str]:
    """Return the lines of a record, wrapped at words for a screen of so many columns; None leaves them as they are."""
    if columns is None:
        return text.splitlines()
    import textwrap

    found = []
    for line in text.splitlines():
        indent = len(line) - len(line.lstrip()) + 2
        deep = " " * min(indent, max(columns - _NARROWEST, 0))
        found += textwrap.wrap(line, columns, subsequent_indent=deep, break_on_hyphens=False) or [""]
    return found


def _known(store: CaseStore, typed: str) -> CaseId:
    from diagtree.errors import WrongUse

    case = store.resolve(typed)
    if case is None:
        raise WrongUse(f"there is no case `{typed}` in {store.path}; `diagtree cases` lists what there is")
    return case


COMMAND = report
