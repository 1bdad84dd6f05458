"""At the desk: the owner's words to the right complaint, and a job card."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from diagtree.terminal.commands import FINE
from diagtree.terminal.options import Costs, costs_options, json_option, vehicle_option
from diagtree.terminal.setting import Setting
from diagtree.terminal.write_whole import demand_free, write_whole

if TYPE_CHECKING:
    from diagtree.cases.store import CaseId, CaseStore
    from diagtree.report.job_card_values import JobCard
    from diagtree.terminal.run_walk import SavedWalk
    from diagtree.terminal.start_walk import Wanted


@click.command("triage")
@click.argument("words", nargs=-1, metavar="[WORDS...|CASE]")
@click.option("--answers", metavar="FILE", help="Answers from a file (`-`: standard input); nobody is asked.")
@click.option("--by", metavar="WHO", envvar="DIAGTREE_BY", help="Who is at the desk, by role; goes on the record.")
@click.option("--output", metavar="FILE", help="Write the job card to FILE, as Markdown.")
@click.option("--overwrite", is_flag=True, help="FILE may be there already; it is replaced.")
@click.option("--whole", is_flag=True, help="Show the whole card on the screen, not only its front.")
@vehicle_option
@costs_options
@json_option
@click.pass_obj
def triage(
    setting: Setting, words: tuple[str, ...], answers: str | None, by: str | None, output: str | None,
    overwrite: bool, whole: bool, vehicle: str | None, costs: Costs, as_json: bool,
) -> int:  # fmt: skip
    """Take the owner's words to the right complaint, ask what needs no tools, and make the job card.

    WORDS are the owner's own; without them they are asked for. CASE (a number: 2026-0042, or 42) goes on with a case
    that began here, or shows its card again. Every answer is saved before the next question; in the bay
    `diagtree walk CASE` goes on, and nothing is asked twice.
    """
    from diagtree.cases.case_number import is_number
    from diagtree.terminal.start_walk import Wanted

    if output is not None:
        demand_free(Path(output).expanduser(), overwrite=overwrite)
    wanted = Wanted(None, vehicle, costs, by)
    with setting.cases(existing=is_number(" ".join(words))) as store:
        if answers is not None:
            saved = _from_file(setting, store, wanted, answers, " ".join(words))
        else:
            saved = _with_person(setting, store, wanted, words, as_json)
        card = card_of(store, saved)
        if card.go_on:
            card = replace(card, go_on=setting.command(f"walk {saved.case}"))
        if output is not None:
            _write(setting, card, Path(output).expanduser(), overwrite)
        if as_json:
            from diagtree.report.job_card_document import document

            setting.document(document(card))
        elif output is None:
            on_screen = setting.is_terminal and answers is None and not whole
            setting.say_wrapped(_front(setting, card) if on_screen else card_text(card).splitlines())
    return FINE


def _from_file(setting: Setting, store: CaseStore, wanted: Wanted, answers: str, words: str) -> SavedWalk:
    from diagtree.cases.case_number import is_number
    from diagtree.errors import WrongUse
    from diagtree.knowledge.words import TRIAGE
    from diagtree.terminal.drivers.answers_file import AnswersFileDriver
    from diagtree.terminal.drivers.desk import DeskDriver
    from diagtree.terminal.read_answers_file import read_answers_file
    from diagtree.terminal.run_walk import play
    from diagtree.terminal.start_walk import start

    file = read_answers_file(answers)
    if is_number(words):
        raise WrongUse(f"`{words}` is a case's number, not an owner's words; answers from a file begin a new case")
    if words:
        from diagtree.knowledge.place import Place
        from diagtree.terminal.answers_text import Said

        file = replace(file, complaint={**file.complaint, "words": Said(words, Place("the command line"))})
    said = file.complaint.get("words")
    title = _title(said.text if said else "")
    car = replace(wanted, what=TRIAGE, vehicle=wanted.vehicle or file.vehicle, title=title)
    saved = start(setting, store, car, None, lambda walk: AnswersFileDriver(file, walk.catalogue))
    driver = AnswersFileDriver(file, saved.walk.catalogue)
    play(saved, DeskDriver(driver, hands_over=True))
    for line in driver.unused():
        setting.talk(f"diagtree: warning: {line}")
    return saved


def _with_person(
    setting: Setting, store: CaseStore, wanted: Wanted, words: tuple[str, ...], as_json: bool
) -> SavedWalk:
    from diagtree.knowledge.words import TRIAGE
    from diagtree.terminal.drivers.desk import DeskDriver, at_desk
    from diagtree.terminal.run_walk import last_answers, play, reopen
    from diagtree.terminal.start_walk import case_meant, start
    from diagtree.walk.events import Noted
    from diagtree.walk.hearing import OWNERS_WORDS

    dialogue = setting.dialogue(talk=as_json)
    case = case_meant(store, words[0]) if len(words) == 1 else None
    if case is not None:
        before = reopen(store, case)
        _demand_desk(before, case)
        prompt = before.prompt()
        if prompt is None or not at_desk(prompt, before.scene()):
            return before  # nothing left to ask at the desk: its card is shown again
    begun = replace(wanted, what=case or TRIAGE, title=_title(" ".join(words)))
    saved = start(setting, store, begun, dialogue if setting.is_terminal else None)
    dialogue.tell(f"Case {saved.case}. Every answer is saved; `help` lists what else may be typed.")
    if case is not None and (given := last_answers(saved)):
        dialogue.tell("The latest answers:", *given)
    said = _kept_words(saved) if case else " ".join(words)
    if said and not case:
        saved.add((Noted(saved.clock(), said, OWNERS_WORDS),))  # kept before the first question, whatever comes then
    if said:
        dialogue.remember(said)
    play(saved, DeskDriver(dialogue, words=said), command="triage")
    return saved


def _title(words: str) -> str:
    """Return what lists call the case: the owner's words, cut to fit a line; "" where there are none yet."""
    from diagtree.cases.listing import LONGEST_TITLE, cut

    return cut(words, LONGEST_TITLE)


def _kept_words(saved: SavedWalk) -> str:
    """Return the words that were said with the command when the case began."""
    from diagtree.walk.hearing import words_before

    return next(iter(words_before(saved.state)), "")


def _demand_desk(saved: SavedWalk, case: CaseId) -> None:
    from diagtree.errors import WrongUse
    from diagtree.knowledge.words import TRIAGE

    if saved.walk.tree != TRIAGE:
        raise WrongUse(f"case {case} did not begin at the desk; go on with `diagtree walk {case}`")


def card_of(store: CaseStore, saved: SavedWalk) -> JobCard:
    """Return the job card of a case as it stands."""
    from diagtree.report.job_card_build import job_card

    return job_card(saved.walk, saved.state, saved.case, saved.clock(), by=store.row(saved.case).by or "")


def card_text(card: JobCard) -> str:
    """Return the card for a terminal."""
    from diagtree.report.job_card.text import render

    return render(card)


def _front(setting: Setting, card: JobCard) -> tuple[str, ...]:
    """Return what fits on one screen: the whole card would scroll its first part away."""
    from diagtree.report.job_card_front import front

    whole = setting.command(f"triage {card.case} --whole")
    return (*front(card), f"All of it: `{whole}`; a file: `--output card.md`.")


def _write(setting: Setting, card: JobCard, path: Path, overwrite: bool) -> None:
    from diagtree.report.job_card.markdown import render

    write_whole(path, render(card), overwrite=overwrite)
    setting.talk(f"diagtree: the job card of case {card.case} is in {path}")


COMMAND = triage
