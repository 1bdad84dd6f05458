"""A round of drills at the screen: a situation, a question, numbered answers, and why."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from diagtree.errors import AnswerError
from diagtree.quiz.drill_round import (
    DrillAnswered,
    DrillRound,
    DrillState,
    DrillStopped,
    Event,
    HintGiven,
    chosen,
    judge,
    step,
    to_json,
)
from diagtree.quiz.drills import Question
from diagtree.quiz.progress import to_summary
from diagtree.quiz.subject import MEANS, SUBJECTS
from diagtree.terminal.face import Block, Look
from diagtree.terminal.quiz_loop import Left, Taken, said
from diagtree.terminal.views.quiz_pictures import Pictures

_HELP = (
    "Type the number of an answer; where several are right, all of them with commas between: 2, 5.",
    "hint: the rule, before you answer; then a right answer is not counted.",
    "leave: go, the round is kept. stop: give the round up.",
)


class DrillTable:
    """One round of drills being played."""

    def __init__(self, played: DrillRound, state: DrillState, pictures: Pictures) -> None:
        self._played = played
        self._state = state
        self._pictures = pictures

    @property
    def over(self) -> bool:
        return self._question is None

    @property
    def label(self) -> str:
        question = self._question
        return "Answers, commas between" if question is not None and question.many else "Answer"

    def opening(self) -> Iterable[Block]:
        planned = self._played.planned
        done = len(self._state.answered)
        subjects = [one for one in SUBJECTS if one in planned.subjects]
        count = len(planned.subjects)
        yield Block(Look.HEADING, f"{planned.mode.capitalize()} drill, {count} question{'' if count == 1 else 's'}")
        yield Block(Look.ABOUT, "About: " + "; ".join(f"{one} ({MEANS[one]})" for one in subjects))
        if done:
            yield Block(Look.SAID, f"{done} answered before, {self._state.right} of them right.", "  ")

    def asked(self) -> Iterable[Block]:
        question = self._asked
        number, count = len(self._state.answered) + 1, len(self._played.planned.subjects)
        yield Block(Look.HEADING, f"{number} of {count}, {question.subject}: {question.heading}")
        yield from (Block(Look.ABOUT, line) for line in question.situation)
        yield Block(Look.ASK, question.ask)
        for place, option in enumerate(question.options, 1):
            yield Block(Look.OPTION, option.text, f"  {place}  ")
        yield Block(Look.KEYS, "hint, help, leave, stop")

    def take(self, line: str) -> Taken:
        word = line.casefold()
        if word in ("help", "h", "?"):
            return Taken(blocks=said(*_HELP))
        if word in ("leave", "q"):
            raise Left
        if word == "stop":
            return self._happened(DrillStopped(), said("The round is given up."))
        question = self._asked
        if word in ("hint", "why"):
            if self._state.hinted:
                return Taken(blocks=said(*question.hint))
            return self._happened(HintGiven(len(self._state.answered)), said(*question.hint))
        given = judge(question, self._state, chosen(question, line))
        return self._happened(given, _told(question, given))

    def closing(self) -> tuple[Sequence[Block], Mapping[str, Any]]:
        answered = self._state.answered
        # Right with the rule at hand says nothing of what is known: it counts neither way. Wrong is wrong.
        counted = [(one.subject, one.right) for one in answered if not (one.right and one.hinted)]
        helped, right = len(answered) - len(counted), sum(right for _, right in counted)
        more = f"; {helped} more right with the rule at hand, not counted" if helped else ""
        blocks = [Block(Look.HEADING, f"{right} of {len(counted)} right{more}")]
        for subject in SUBJECTS:
            found = [right for of, right in counted if of == subject]
            if found:
                line = self._pictures.bar_line(subject, sum(found) / len(found), f"{sum(found)} of {len(found)}")
                blocks.append(Block(Look.ABOUT, line))
        return blocks, {
            "ended": "stopped" if self._state.stopped else "done",
            "right": self._state.right,
            "asked": len(answered),
            "decided": to_summary(counted),
        }

    def document(self) -> Mapping[str, Any]:
        return {
            "vehicles": list(self._played.planned.vehicles),
            "subjects": list(self._played.planned.subjects),
            "asked": len(self._state.answered),
            "right": self._state.right,
            "answers": [
                {"about": one.about, "subject": one.subject, "given": list(one.given), "right": one.right,
                 "hinted": one.hinted}
                for one in self._state.answered
            ],
        }  # fmt: skip

    @property
    def _question(self) -> Question | None:
        return self._played.question(self._state)

    @property
    def _asked(self) -> Question:
        question = self._question
        if question is None:
            raise AnswerError("the round is over")
        return question

    def _happened(self, event: Event, blocks: tuple[Block, ...]) -> Taken:
        self._state = step(self._state, event)
        return Taken((to_json(event),), blocks, goes_on=not isinstance(event, HintGiven))


def _told(question: Question, given: DrillAnswered) -> tuple[Block, ...]:
    why = said(*question.why)
    if given.right:
        return (Block(Look.TOLD, "Right." if not given.hinted else "Right, with the rule at hand.", "= "), *why)
    right = [option.text for option in question.options if option.id in question.right]
    words = "; ".join(right).rstrip(".")
    return (Block(Look.REFUSED, f"Not right. It is: {words}{'' if words.endswith('?') else '.'}", "! "), *why)
