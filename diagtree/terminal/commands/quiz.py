"""Practise on a simulated car with a hidden fault, or drill readings and safety; scored."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from diagtree.terminal.commands import FINE
from diagtree.terminal.options import Costs, costs_options, json_option, vehicle_option
from diagtree.terminal.setting import Setting

if TYPE_CHECKING:
    from diagtree.cases.quiz_store import QuizStore, RoundRow
    from diagtree.terminal.face import Face
    from diagtree.terminal.quiz_start import Begun, Wanted
    from diagtree.terminal.views.quiz_pictures import Pictures

_MODES = ("practice", "guided", "exam", "reading", "safety")


@click.command("quiz")
@click.option("--mode", type=click.Choice(_MODES), help="What to play; without it, a choice, or `practice`.")
@click.option("--tree", metavar="TREE", help="The complaint (default: one you played least).")
@vehicle_option
@click.option("--trainee", metavar="NAME", envvar="DIAGTREE_TRAINEE", help="Who plays (default: `trainee`).")
@click.option("--seed", metavar="WORD", help="The same seed is the same car; in an exam, the name of the paper.")
@click.option("--questions", type=click.IntRange(1, 100), default=10, help="Questions of a drill (default: 10).")
@click.option("--answers", metavar="FILE", help="Acts from a file, one a line (`-`: standard input); nobody is asked.")
@click.option("--new", is_flag=True, help="Put aside what was left of this mode, and begin another.")
@click.option("--history", is_flag=True, help="Show the trainee's progress; play nothing.")
@click.option(
    "--progress", metavar="FILE", envvar="DIAGTREE_QUIZ", help="The quiz's file (default: in your data folder)."
)
@costs_options
@json_option
@click.pass_obj
def quiz(
    setting: Setting, mode: str | None, tree: str | None, vehicle: str | None, trainee: str | None, seed: str | None,
    questions: int, answers: str | None, new: bool, history: bool, progress: str | None, costs: Costs, as_json: bool,
) -> int:  # fmt: skip
    """Practise on a simulated car with a hidden fault, or drill readings and safety; scored.

    practice: free choice of acts, every decision judged. guided: the tree leads. exam: no word before the end.
    reading, safety: questions. A round that was left goes on; nothing of it enters the workshop's cases. Without --tree
    and --seed the complaints that were played least come first; every other fault is of your weakest subject.
    """
    from diagtree.cases.quiz_store import open_quiz, tidy_name
    from diagtree.terminal.quiz_start import NOBODY, Wanted

    who = tidy_name(NOBODY if trainee is None else trainee)
    named = progress if _typed("progress") else None
    wanted = Wanted(who, mode, tree, vehicle, seed, questions, costs, new)
    with open_quiz(progress) as store:
        if history:
            return _history(setting, store, who, named, as_json)
        return _play(setting, store, wanted, answers, named, as_json)


def _typed(option: str) -> bool:
    """Return whether an option was typed, rather than taken from the environment, which stays by itself."""
    source = click.get_current_context().get_parameter_source(option)
    return source is click.core.ParameterSource.COMMANDLINE


def _command(setting: Setting, row: RoundRow, progress: str | None) -> str:
    from diagtree.terminal.quiz_start import command_of

    return command_of(row, setting.command("quiz", "trees"), progress)


def _play(
    setting: Setting, store: QuizStore, wanted: Wanted, answers: str | None, progress: str | None, as_json: bool
) -> int:
    from diagtree.terminal.clock import now
    from diagtree.terminal.quiz_loop import Left, play, saved_words

    face = _face(setting, answers, as_json)
    asks = answers is None and setting.is_terminal
    table, saved, row = _begun(setting, store, wanted, face if asks else None)
    saved.command = _command(setting, row, progress)
    try:
        play(table, saved, face, now)
    except Left:
        setting.talk(f"diagtree: {saved_words(saved)}")
        return FINE
    if left := getattr(face, "left", 0):
        setting.talk(f"diagtree: warning: the round was over before the last {left} of the acts in the file")
    if as_json:
        named = {"round": row.id, "trainee": row.trainee, "mode": row.mode, "seed": row.seed}
        setting.document({**named, **table.document()})
    return FINE


def _begun(setting: Setting, store: QuizStore, wanted: Wanted, face: Face | None) -> Begun:
    from dataclasses import replace

    from diagtree.terminal.clock import now
    from diagtree.terminal.quiz_mode import ask_mode
    from diagtree.terminal.quiz_start import begin, go_on, open_rounds, put_aside

    library = setting.library()
    pictures = _pictures(setting, drawn=setting.has_screen)
    waiting = open_rounds(store, wanted)
    if wanted.new:
        put_aside(store, open_rounds(store, replace(wanted, seed=None)), now())
    elif waiting:
        return go_on(store, waiting[-1], library, pictures)
    if wanted.mode is None and face is not None:
        mode, tree = ask_mode(face, store.rounds(wanted.trainee), now(), store.trainees(), library)
        wanted = replace(wanted, mode=mode, tree=wanted.tree or tree)
    return begin(store, wanted, library, pictures, now())


def _face(setting: Setting, answers: str | None, as_json: bool) -> Face:
    if answers is None:
        return setting.dialogue(talk=as_json).face
    from diagtree.terminal.quiz_acts import FileFace, read_acts

    return FileFace(setting.err if as_json else setting.out, read_acts(answers), answers)


def _history(setting: Setting, store: QuizStore, who: str, progress: str | None, as_json: bool) -> int:
    from diagtree.terminal.clock import now
    from diagtree.terminal.views import quiz_history as view

    rows = store.rounds(who)
    if as_json:
        setting.document(view.document(who, rows, now()))
        return FINE
    pictures = _pictures(setting, drawn=setting.has_screen or not (setting.plain or setting.out.isatty()))
    setting.say_wrapped(view.lines(who, rows, now(), pictures, lambda row: _command(setting, row, progress)))
    if not rows and (others := store.trainees()):
        setting.say(f"Others on this machine: {', '.join(others)}.")
    return FINE


def _pictures(setting: Setting, *, drawn: bool) -> Pictures:
    from diagtree.terminal.views.quiz_pictures import Pictures

    return Pictures.of(setting.out.encoding, drawn=drawn)


COMMAND = quiz
