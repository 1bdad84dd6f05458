"""What to play, where nothing was said: the trainee chooses, and is told what would serve best."""

from __future__ import annotations

from collections.abc import Sequence

from diagtree.cases.quiz_store import RoundRow
from diagtree.knowledge.library import Library
from diagtree.physics.nearest import did_you_mean
from diagtree.quiz.drill_round import MODES as DRILLS
from diagtree.quiz.modes import EXAM, GUIDED, MODES, PRACTICE
from diagtree.quiz.progress_schedule import standings
from diagtree.quiz.subject import SAFETY, SUBJECTS
from diagtree.terminal.face import Block, Face, Look
from diagtree.terminal.interrupted import Interrupted
from diagtree.terminal.quiz_names import is_number
from diagtree.terminal.quiz_start import LEFT, decided_by

_CHOOSE = "A word after it chooses the complaint, as in `1 NAME`; `complaints` lists them. Else those you played least."
ALL = (PRACTICE.id, GUIDED.id, EXAM.id, *DRILLS)
_WORDS = {
    "reading": "readings and signals: in limit or not, what do they mean",
    "safety": "what may be done now, making safe, absence of voltage",
}


def suggested(rows: Sequence[RoundRow], now: str) -> tuple[str, str]:
    """Return the mode that would serve best now, and why.

    A newcomer is guided. Then safety, wherever it is the neediest subject; else a drill and a car by turns.
    """
    done = [row for row in rows if row.ended and row.summary.get("ended") != LEFT]
    if not done:
        return GUIDED.id, "you are new here: the tree leads"
    first = standings(decided_by(done), SUBJECTS, now)[0]
    why = f"{first.subject}: {first.words}"
    if first.subject == SAFETY:
        return "safety", why
    return (PRACTICE.id, f"the last round was a drill; {why}") if done[-1].mode in DRILLS else ("reading", why)


def ask_mode(
    face: Face, rows: Sequence[RoundRow], now: str, trainees: Sequence[str], library: Library
) -> tuple[str, str | None]:
    """Return the mode that the person chooses, and the complaint's tree where they named one.

    rows : the person's rounds. trainees : everybody with rounds on this machine. Raises Interrupted where they leave.
    """
    mode, why = suggested(rows, now)
    face.show(
        [
            Block(Look.HEADING, "Quiz"),
            Block(Look.ASK, "What do you want to play?"),
            *(Block(Look.OPTION, f"{one}: {_words(one)}", f"  {number}  ") for number, one in enumerate(ALL, 1)),
            Block(Look.SAID, f"Now worth most: {mode} ({why}).", "  "),
            Block(Look.SAID, _CHOOSE, "  "),
            *([Block(Look.SAID, _others(trainees), "  ")] if trainees and not rows else []),
        ]
    )
    while True:
        word = face.ask("Number or word").casefold()
        if word in ("leave", "q"):
            raise Interrupted
        if word in ("help", "h", "?", "back", "b"):
            first = "There is nothing to go back to yet. " if word in ("back", "b") else ""
            face.show([Block(Look.SAID, f"{first}Type a number or a word of the list. leave, q: leave.", "  ")])
            continue
        if word == "complaints":
            trees = library.trees.values()
            face.show([Block(Look.OPTION, f"{tree.id}: {tree.title}", "  ") for tree in trees])
            continue
        first, _, tree = word.partition(" ")
        if is_number(first) and 1 <= int(first.rstrip(".)")) <= len(ALL):
            first = ALL[int(first.rstrip(".)")) - 1]
        if first not in ALL:
            hint = did_you_mean(first, ALL)
            refused = f"`{first[:40]}` is none of them; type 1 to {len(ALL)}{hint}"
        elif tree and tree not in library.trees.named:
            refused = f"there is no complaint `{tree[:40]}`{did_you_mean(tree, sorted(library.trees.named))}"
        else:
            return first, tree or None
        face.show([Block(Look.REFUSED, f"{refused}", "! ")])


def _others(trainees: Sequence[str]) -> str:
    return f"There are rounds of {', '.join(trainees)}. If that is you, leave and say --trainee NAME."


def _words(mode: str) -> str:
    return MODES[mode].words if mode in MODES else _WORDS[mode]
