"""Play a whole invented job, without typing: from the complaint to the proof and the record."""

from __future__ import annotations

import sys
from contextlib import contextmanager
from typing import TYPE_CHECKING

import click
from click.core import ParameterSource

from diagtree.terminal.commands import FINE
from diagtree.terminal.setting import Setting

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from diagtree.cases.store import CaseStore
    from diagtree.terminal.drivers import Driver
    from diagtree.terminal.face import Block
    from diagtree.terminal.run_walk import SavedWalk

_WORDS_A_SECOND = 4  # read comfortably
_LONGEST_PAUSE = 8.0


@click.command("demo")
@click.option("--slow", is_flag=True, help="In full, at the pace of somebody reading; Ctrl-C ends it.")
@click.pass_context
def demo(ctx: click.Context, slow: bool) -> int:
    """Play a whole invented job at an invented workshop, from the complaint to the proof and the record.

    It runs through the same session, store and report as a real job, in a case store of its own that is deleted
    afterwards; name one with --store before the command to keep the case. Nothing here is about a real car.
    """
    from diagtree.terminal.commands.report import lines

    setting: Setting = ctx.obj
    named = ctx.parent is not None and ctx.parent.get_parameter_source("store") is ParameterSource.COMMANDLINE
    with _store(setting, keep=named) as store:
        saved = _play(setting, store, slow)
        setting.say()
        for line in lines(_record(store, saved), setting.columns):
            setting.say(line)
    setting.say()
    setting.say("That was an invented job. Begin a real one with `diagtree triage` at the desk,")
    setting.say("or with `diagtree walk` in the bay.")
    return FINE


def _play(setting: Setting, store: CaseStore, slow: bool) -> SavedWalk:
    from diagtree.knowledge.words import TRIAGE
    from diagtree.terminal import run_walk
    from diagtree.terminal.answers_text import read_answers
    from diagtree.terminal.demo_job import ANSWERS, TREE
    from diagtree.terminal.drivers.answers_file import AnswersFileDriver
    from diagtree.terminal.drivers.watched import WatchedDriver
    from diagtree.walk.context import Walk

    library = setting.library()
    file = read_answers(ANSWERS, "the demo's answers")
    begins = TRIAGE if TRIAGE in library.trees else TREE
    walk = Walk.begin(library, begins, file.vehicle)
    answers = AnswersFileDriver(file, walk.catalogue)
    driver = WatchedDriver(answers, _show(setting), whole=slow, pause=_pause if slow else _at_once)
    saved = run_walk.begin(walk, store, by="adviser and technician (demo)")
    house = library.workshop.name if library.workshop else "the workshop"
    setting.say(f"{house}: case {saved.case}, {walk.tree_of(begins).title}")
    if begins == TRIAGE:
        _desk(setting, store, saved, driver)
    run_walk.play(saved, driver)
    return saved


def _desk(setting: Setting, store: CaseStore, saved: SavedWalk, driver: Driver) -> None:
    """Play what is asked at reception, show the job card, and come back to the case in the bay."""
    from diagtree.terminal.commands.triage import card_of, card_text
    from diagtree.terminal.drivers.desk import DeskDriver
    from diagtree.terminal.run_walk import play
    from diagtree.walk.respond import resume

    play(saved, DeskDriver(driver, hands_over=True))
    setting.say()
    setting.say_wrapped(card_text(card_of(store, saved)).splitlines())
    setting.say()
    setting.say("The car goes to the bay.")
    saved.add(resume(saved.state, saved.clock()))


def _show(setting: Setting) -> Callable[[Iterable[Block]], None]:
    if setting.has_screen:
        from diagtree.terminal.screen import Screen

        return Screen(setting.out).show
    from diagtree.terminal.drivers.plain import PlainFace

    return PlainFace(setting.out, sys.stdin).show


def _record(store: CaseStore, saved: SavedWalk) -> str:
    from diagtree.report.job import formats
    from diagtree.terminal.commands.report import record_of

    (text,) = (one for one in formats() if one.id == "text")
    return text.render(record_of(store, saved.case))


def _at_once(words: int) -> None:
    """Go on without a pause."""


def _pause(words: int) -> None:
    import time

    time.sleep(min(1 + words / _WORDS_A_SECOND, _LONGEST_PAUSE))


@contextmanager
def _store(setting: Setting, *, keep: bool) -> Iterator[CaseStore]:
    if keep:
        with setting.cases() as store:
            yield store
        return
    import tempfile
    from pathlib import Path

    with (
        tempfile.TemporaryDirectory(prefix="diagtree-demo-") as folder,
        Setting(store=str(Path(folder) / "cases.db")).cases() as store,
    ):
        yield store


COMMAND = demo
