"""List the cases; show, find, close or export one."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from diagtree.terminal.commands import FINE
from diagtree.terminal.options import json_option
from diagtree.terminal.setting import Setting

if TYPE_CHECKING:
    from collections.abc import Mapping

    from diagtree.cases.store import CaseId, CaseRow, CaseStore


@click.group("cases", invoke_without_command=True)
@click.option("--status", metavar="WORD", help="Only cases that are this: open, closed.")
@json_option
@click.pass_context
def cases(ctx: click.Context, status: str | None, as_json: bool) -> int:
    """List the cases, newest first; show, find, close or export one.

    CASE is a number as it is shown (2026-0042), or its last part (42).
    """
    if ctx.invoked_subcommand is None:
        with _looking(ctx.obj) as store:
            return _list(ctx.obj, store, store.cases(status=status), as_json)
    return FINE


@cases.command("list")
@click.option("--status", metavar="WORD", help="Only cases that are this: open, closed.")
@click.option("--tree", metavar="TREE", help="Only cases of this complaint.")
@click.option("--vehicle", metavar="ID", help="Only this car.")
@json_option
@click.pass_obj
def list_(setting: Setting, status: str | None, tree: str | None, vehicle: str | None, as_json: bool) -> int:
    """List the cases, newest first."""
    with _looking(setting) as store:
        return _list(setting, store, store.cases(status=status, tree=tree, vehicle=vehicle), as_json)


@cases.command("show")
@click.argument("case")
@json_option
@click.pass_obj
def show(setting: Setting, case: str, as_json: bool) -> int:
    """Show everything that was asked, read, done and decided in CASE."""
    from diagtree.terminal.views import cases as view

    with _looking(setting) as store:
        known = _known(store, case)
        row, events = store.row(known), store.events(known)
        breach = store.verify(known)
    if as_json:
        setting.document({"schema": 1, **view.record(row), "events_in_order": events})
    else:
        for line in (*view.head(row), "", *(view.event(body) for body in events)):
            setting.say(line)
    if breach is not None:
        setting.talk(f"diagtree: warning: case {known} is not as it was written: {breach}")
    return FINE


@cases.command("find")
@click.argument("words", nargs=-1, required=True)
@json_option
@click.pass_obj
def find(setting: Setting, words: tuple[str, ...], as_json: bool) -> int:
    """List the cases in which every one of WORDS occurs."""
    with _looking(setting) as store:
        return _list(setting, store, store.find(" ".join(words)), as_json)


@cases.command("close")
@click.argument("case")
@click.option("--because", metavar="TEXT", required=True, help="Why it ends here; goes on the record.")
@click.pass_obj
def close(setting: Setting, case: str, because: str) -> int:
    """Close CASE by hand, before its walk has come to an end."""
    from diagtree.errors import WrongUse
    from diagtree.terminal.clock import now
    from diagtree.terminal.run_walk import CLOSED, reopen
    from diagtree.walk.event_json import event_to_json
    from diagtree.walk.events import Noted

    if not because.strip():
        raise WrongUse("say why the case ends here: --because TEXT")
    with setting.cases(existing=True) as store:
        known = _known(store, case)
        saved = reopen(store, known)
        if store.row(known).status == CLOSED:
            raise WrongUse(f"case {known} is closed already")
        note = Noted(now(), f"closed by hand: {because.strip()}", "")
        store.append(known, len(saved.events), [event_to_json(note)], status=CLOSED)
    setting.say(f"case {known} is closed")
    if saved.state.opened:
        names = ", ".join(saved.walk.catalogue.access[item].name for item in saved.state.opened)
        setting.talk(f"diagtree: warning: by the record these are still open on the car: {names}")
    if saved.state.arrangement.dead or saved.state.isolation_begun:
        setting.talk("diagtree: warning: by the record the car is isolated, or partly; it was not re-energised here")
    return FINE


@cases.command("reopen")
@click.argument("case")
@click.pass_obj
def reopen_(setting: Setting, case: str) -> int:
    """Open CASE again where it was closed by hand."""
    from diagtree.errors import WrongUse
    from diagtree.terminal.clock import now
    from diagtree.terminal.run_walk import CLOSED, reopen

    with setting.cases(existing=True) as store:
        known = _known(store, case)
        if store.row(known).status != CLOSED:
            raise WrongUse(f"case {known} is open; go on with `{setting.command(f'walk {known}')}`")
        if (how := reopen(store, known).state.closed) is not None:
            raise WrongUse(f"case {known} came to its end ({how}); begin a new one with `diagtree walk`")
        store.set_status(known, "open", now())
    setting.say(f"case {known} is open; go on with `{setting.command(f'walk {known}')}`")
    return FINE


@cases.command("export")
@click.argument("case")
@click.option("--texts", is_flag=True, help="With the text of the knowledge that the case keeps.")
@click.pass_obj
def export(setting: Setting, case: str, texts: bool) -> int:
    """Print the whole of CASE as one JSON document, without the owner's name."""
    with _looking(setting) as store:
        setting.document(store.export(_known(store, case), texts=texts))
    return FINE


@cases.command("owner")
@click.argument("case")
@click.option("--name", metavar="TEXT", help="The owner's name.")
@click.option("--plate", metavar="TEXT", help="The car's plate.")
@click.option("--phone", metavar="TEXT", help="How to reach the owner.")
@click.option("--erase", is_flag=True, help="Erase all of it, for good.")
@json_option
@click.pass_obj
def owner(
    setting: Setting, case: str, name: str | None, plate: str | None, phone: str | None, erase: bool, as_json: bool
) -> int:  # fmt: skip
    """Show, keep or erase whose car CASE is about.

    It is kept apart from the record: found by `cases find`, in no job record and no export, and it can be erased, as a
    person may ask by law. An empty TEXT takes that line out.
    """
    from diagtree.errors import WrongUse

    said = {key: text for key, text in (("name", name), ("plate", plate), ("phone", phone)) if text is not None}
    if erase and said:
        raise WrongUse("either erase or keep: --erase goes without --name, --plate and --phone")
    if not (erase or said):
        with _looking(setting) as store:
            return _tell_owner(setting, store.personal(_known(store, case)), as_json)
    with setting.cases(existing=True) as store:
        known = _known(store, case)
        if erase:
            if not store.erase_personal(known):
                setting.talk("diagtree: another window reads the cases; the last traces go when it is closed")
            return _tell_owner(setting, {}, as_json)
        kept = store.personal(known) | {key: text.strip() for key, text in said.items()}
        kept = {key: text for key, text in kept.items() if text}
        store.set_personal(known, kept)
    return _tell_owner(setting, kept, as_json)


def _tell_owner(setting: Setting, kept: Mapping[str, str], as_json: bool) -> int:
    if as_json:
        setting.document({"schema": 1, "owner": dict(kept)})
        return FINE
    for key, text in kept.items():
        setting.say(f"{key}: {text}")
    if not kept:
        setting.say("nothing is kept of the owner")
    return FINE


def _looking(setting: Setting) -> CaseStore:
    """Return the store to look at: where it can only be read, or the disk is full, that is enough."""
    from diagtree.errors import StoreError

    try:
        return setting.cases(read_only=True)
    except StoreError:  # in need of an upgrade; says so itself where it is really wrong
        return setting.cases()


def _known(store: CaseStore, typed: str) -> CaseId:
    from diagtree.errors import WrongUse

    case = store.resolve(typed)
    if case is None:
        raise WrongUse(f"there is no case `{typed}` in {store.path}; `diagtree cases` lists what there is")
    return case


def _list(setting: Setting, store: CaseStore, rows: list[CaseRow], as_json: bool) -> int:
    from diagtree.terminal.views import cases as view

    if not rows and not store.path.exists():
        setting.talk(f"diagtree: no cases yet at {store.path}")
        if not as_json:
            return FINE
    if as_json:
        setting.document({"schema": 1, "cases": [view.record(row) for row in rows]})
        return FINE
    for line in view.table(rows, setting.columns):
        setting.say(line)
    return FINE


COMMAND = cases
