"""Be led through a complaint, test by test, to its cause, correction and proof."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import click

from diagtree.terminal.commands import FINDINGS, FINE
from diagtree.terminal.options import Costs, costs_options, json_option, vehicle_option
from diagtree.terminal.setting import Setting

if TYPE_CHECKING:
    from diagtree.terminal.answers_text import AnswersFile
    from diagtree.terminal.dialogue import Dialogue
    from diagtree.terminal.run_walk import SavedWalk
    from diagtree.walk.prompts import Prompt


@click.command("walk")
@click.argument("what", required=False, metavar="[TREE|CASE]")
@click.option("--answers", metavar="FILE", help="Answers from a file (`-`: standard input); nobody is asked.")
@click.option("--by", metavar="WHO", envvar="DIAGTREE_BY", help="Who is at the car, by role; goes on the record.")
@vehicle_option
@costs_options
@json_option
@click.pass_obj
def walk(
    setting: Setting, what: str | None, answers: str | None, by: str | None, vehicle: str | None, costs: Costs,
    as_json: bool,
) -> int:  # fmt: skip
    """Be led through a complaint, test by test, to its cause, correction and proof.

    TREE begins a case, CASE (a number like 2026-0042, or 42) goes on with one. Without either, a list to choose from.
    Every answer is saved before the next question; Ctrl-C leaves, and the walk goes on at the same question.
    """
    from diagtree.cases.case_number import is_number
    from diagtree.terminal.start_walk import Wanted, start

    wanted = Wanted(what, vehicle, costs, by)
    with setting.cases(existing=what is not None and is_number(what)) as store:
        if answers is not None:
            from diagtree.terminal.drivers.answers_file import AnswersFileDriver
            from diagtree.terminal.read_answers_file import read_answers_file

            file = read_answers_file(answers)
            car = replace(wanted, vehicle=vehicle or file.vehicle)
            saved = start(setting, store, car, None, lambda walk: AnswersFileDriver(file, walk.catalogue))
            return _from_file(setting, saved, file, as_json)
        dialogue = setting.dialogue(talk=as_json)
        saved = start(setting, store, wanted, dialogue if setting.is_terminal else None)
        return _with_person(setting, saved, dialogue, as_json)


def _from_file(setting: Setting, saved: SavedWalk, file: AnswersFile, as_json: bool) -> int:
    from diagtree.terminal.drivers.answers_file import AnswersFileDriver
    from diagtree.terminal.run_walk import play
    from diagtree.terminal.views import result

    if file.script:
        prompt = _from_script(setting, saved, file)
    else:
        driver = AnswersFileDriver(file, saved.walk.catalogue)
        prompt = play(saved, driver)
        for line in driver.unused():
            setting.talk(f"diagtree: warning: {line}")
    if as_json:
        setting.document(result.document(saved))
    else:
        for line in result.lines(saved, prompt):
            setting.say(line)
    return _status(saved)


def _from_script(setting: Setting, saved: SavedWalk, file: AnswersFile) -> Prompt | None:
    from diagtree.terminal.drivers.script import ScriptDriver
    from diagtree.terminal.run_walk import play
    from diagtree.walk.respond import resume

    driver = ScriptDriver(file.script, lambda line: setting.talk(f"diagtree: {line}"))
    saved.clock = driver.clock(saved.clock)
    prompt = play(saved, driver)
    while prompt is not None and not driver.over:  # left, and come back to
        saved.add(resume(saved.state, saved.clock()))
        prompt = play(saved, driver)
    return prompt


def _with_person(setting: Setting, saved: SavedWalk, dialogue: Dialogue, as_json: bool) -> int:
    from diagtree.terminal.run_walk import last_answers, play, saved_words
    from diagtree.terminal.views import result
    from diagtree.walk.approach import confirmed_words

    dialogue.tell(f"Case {saved.case}. Every answer is saved; `help` lists what else may be typed.")
    if answers := last_answers(saved):
        dialogue.tell("The latest answers:", *answers)
    if confirmed := confirmed_words(saved.walk, saved.state):
        dialogue.tell(confirmed)
    if play(saved, dialogue) is None:
        closed = saved.state.closed
        dialogue.tell(f"Case {saved.case} is closed ({closed}). The record: `{saved.command(f'report {saved.case}')}`")
    else:
        words = saved_words(saved)
        dialogue.tell(words[:1].upper() + words[1:])
    if as_json:
        setting.document(result.document(saved))
    return _status(saved)


def _status(saved: SavedWalk) -> int:
    """Return 1 where the last proof of a fix failed and nothing was proven since, else 0."""
    from diagtree.walk.events import ProofJudged

    results = [item.result for item in saved.state.items if isinstance(item, ProofJudged)]
    return FINDINGS if results and results[-1] != "fixed" else FINE


COMMAND = walk
