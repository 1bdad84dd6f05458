"""A round on a simulated car at the screen: one act a line, and what came of it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from functools import cached_property
from typing import Any

from diagtree.errors import AnswerError
from diagtree.quiz.choices import SURE, Choice, read_sure
from diagtree.quiz.event_json import event_to_json
from diagtree.quiz.events import Event, Moved
from diagtree.quiz.guide import Suggestion, suggestion
from diagtree.quiz.permitted import demand_known, objection
from diagtree.quiz.respond import respond
from diagtree.quiz.result import Result, account
from diagtree.quiz.round import Round
from diagtree.quiz.score import Decision, decision, judged
from diagtree.quiz.state import ADVISED, FIXED, REFERRED, State, fold, start, step
from diagtree.quiz.trainees import tree_follower, yardstick
from diagtree.reason.plan_improve import improved
from diagtree.terminal.deadline import within
from diagtree.terminal.face import Block, Look
from diagtree.terminal.quiz_loop import Left, Taken, said
from diagtree.terminal.quiz_names import Listed, act_typed, several
from diagtree.terminal.views import quiz_car as view
from diagtree.terminal.views import quiz_result
from diagtree.terminal.views.quiz_pictures import Pictures

A_DECISION = 0.5  # seconds of search for what a decision cost
A_HINT = 1.0  # seconds of search for the best act
BEYOND_THE_TREE = 0.2  # seconds of search for each act where the tree says no more
THE_FIRST = 1.0  # seconds more for the first decision of a sitting: nothing is known yet to lean on
THE_WHOLE = 2.0  # seconds of search for what best play costs from the start: the points hang on it
THE_END = 6.0  # seconds of search for the rest of the account, and a little more


class CarTable:
    """One round being played. events : all so far, `Dealt` first."""

    def __init__(self, played: Round, events: Sequence[Event], pictures: Pictures) -> None:
        self._played = played
        self._events = list(events)
        self._state: State = fold(played, events)
        self._pictures = pictures
        self._listed = Listed()
        self._searched = False  # whether this sitting has searched for strategies
        self._told: set[str] = set()  # cautions and explanations of this sitting: each is read once
        self._pending: Choice | None = None  # a correction or an advice that waits for how sure
        self._suggested: Suggestion | None = None  # what the tree says, in a guided round
        # Scores as they were told; None where some were told in another sitting, or are not told at all.
        told_here = played.mode.feedback and len(events) == 1
        self._scored: Sequence[Decision] | None = () if told_here else None
        self._result: Result | None = None

    @property
    def over(self) -> bool:
        return self._state.ended is not None

    @property
    def label(self) -> str:
        return "How sure, 0 to 100 per cent" if self._pending is not None else "Act"

    def opening(self) -> Iterable[Block]:
        yield from view.opening(self._played)
        if len(self._events) > 1:
            yield from said("Gone on with. What is known so far:", *view.known(self._played, self._state))

    def asked(self) -> Iterable[Block]:
        yield Block(Look.ASK, view.standing(self._played, self._state))
        if self._played.mode.guide:
            found = self._suggested = suggestion(self._played, self._state, within(A_HINT))
            yield Block(Look.ABOUT, f"The tree: {view.suggested(self._played, found)}")
            yield from (Block(Look.HOW, line, "    ") for line in found.why)
            yield from view.cautions(self._played, found.choice, self._told)
        yield Block(Look.KEYS, view.keys(self._played))

    def take(self, line: str) -> Taken:
        word = line.casefold()
        if word in ("leave", "q"):
            raise Left
        if word in ("help", "h", "?"):
            return Taken(blocks=said(*view.help_lines(self._played)))
        if word in ("look", "status"):
            return Taken(blocks=said(*view.known(self._played, self._state)))
        if (found := self._listed.blocks(line, self._played, self._state)) is not None:
            return Taken(blocks=found)
        if self._pending is not None:
            return self._sure(line)
        if word == "go" and self._suggested is not None:
            return self._chosen(replace(self._suggested.choice, sure=None))
        return self._several([act_typed(one, self._played, self._listed) for one in several(line)])

    def _several(self, choices: Sequence[Choice]) -> Taken:
        """Do acts of one line in their order, up to the first that is not done."""
        for choice in choices:
            demand_known(self._played, choice)
        events: list[Mapping[str, Any]] = []
        blocks: list[Block] = []
        for choice in choices:
            taken = self._chosen(choice)
            events.extend(taken.events)
            blocks.extend(taken.blocks)
            if not isinstance(self._events[-1], Moved):
                break
        return Taken(tuple(events), tuple(blocks), goes_on=bool(events))

    def _chosen(self, choice: Choice) -> Taken:
        demand_known(self._played, choice)
        if choice.kind in SURE and choice.sure is None and objection(self._played, self._state, choice) is None:
            self._pending = choice
            return Taken(blocks=said(f"{view.cause_name(self._played, choice.id)}: before that, say how sure you are."))
        return self._happened(choice)

    def closing(self) -> tuple[Sequence[Block], Mapping[str, Any]]:
        from diagtree.quiz.progress import to_summary
        from diagtree.quiz.progress_round import decided_in

        result = self.result
        decided = decided_in(self._played, self._events, result.decisions)
        summary = {
            "ended": result.ended,
            "points": result.points,
            "regret": result.regret,
            "regret_minutes": result.regret_minutes,
            "by_the_tree": result.by_the_tree,
            "by_hints": result.by_hints,
            "money": result.money,
            "expected": result.expected,
            "minutes": result.minutes,
            "tree": self._played.dealt.tree,
            "vehicle": self._played.dealt.vehicle,
            "unsafe": result.unsafe,
            "hints": result.hints,
            "statements": [[one.stated, one.came_true, one.evidence] for one in result.statements],
            "decided": to_summary(decided),
        }
        return quiz_result.blocks(self._played, result, self._pictures, self._follower), summary

    def document(self) -> Mapping[str, Any]:
        return quiz_result.document(self._played, self.result, self._follower)

    @cached_property
    def _follower(self) -> tuple[float, float] | None:
        """What a follower of the tree would have spent on this car; None where the round was cut short."""
        if self._state.ended not in (FIXED, ADVISED, REFERRED):
            return None
        return yardstick(self._played, tree_follower, lambda: within(BEYOND_THE_TREE))

    @property
    def result(self) -> Result:
        """The account of the round as it stands."""
        if self._result is None:
            improved(self._played.solver, start(self._played).case, whole=within(THE_WHOLE / 2),
                     out_of_time=within(THE_WHOLE))  # fmt: skip
            each = max(0.1, THE_END / (len(self._events) + 2))
            known = self._scored
            if known is None:
                _, known = judged(self._played, tuple(self._events), lambda: within(each))
            self._result = account(self._played, self._events, lambda: within(each), known=known)
        return self._result

    def _sure(self, line: str) -> Taken:
        assert self._pending is not None
        if line.casefold() in ("back", "b"):
            self._pending = None
            return Taken(blocks=said("Not done."))
        try:
            choice = replace(self._pending, sure=read_sure(line))
        except AnswerError as error:
            raise AnswerError(f"{error}; `back` if something else is to be done first") from None
        self._pending = None
        return self._happened(choice)

    def _happened(self, choice: Choice) -> Taken:
        guided = self._suggested.event if self._suggested is not None else None
        # What the guide said is kept, so that the account holds nobody to another word.
        before = self._state if guided is None else step(self._played, self._state, guided)
        event = respond(self._played, before, choice, within(A_HINT))
        happened: tuple[Event, ...] = (event,) if guided is None else (guided, event)
        self._suggested = None  # it was for the state before
        self._events.extend(happened)
        place = len(self._events) - 1
        self._state = step(self._played, before, event)
        blocks = list(view.told(self._played, event, self._pictures, self._told))
        if self._played.mode.feedback:
            time = A_DECISION + (0.0 if self._searched else THE_FIRST)
            self._searched = True
            scored = decision(self._played, before, event, place, within(time))
            if scored is not None:
                blocks.extend(view.judged(self._played, scored, self._told))
                if self._scored is not None:
                    self._scored = (*self._scored, scored)
        if self.over and self._scored is None:
            blocks.append(Block(Look.SAID, "The account takes some seconds.", "  "))
        return Taken(tuple(event_to_json(one) for one in happened), tuple(blocks), goes_on=True)
