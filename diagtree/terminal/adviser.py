"""What the sums advise while a walk goes on: beside the question where it matters, in full when `why` is asked.

At every step only the first advice is drawn up, which takes a blink; the search with its arrays is loaded when `why`
is asked. A walk never fails because the sums cannot be done.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from diagtree.errors import DiagtreeError
from diagtree.walk.prompts import Kind, Prompt

if TYPE_CHECKING:
    from diagtree.reason.next_act import Advised, Present
    from diagtree.reason.plan import Act
    from diagtree.terminal.run_walk import SavedWalk
    from diagtree.walk.route import Route

AHEAD = 0.03  # seconds in which a second test is looked ahead, at every step of the tree
SEARCH = 1.5  # seconds of search when `why` is asked
WHOLE, BETTERED = 0.25, 1.0  # seconds until which the best strategy alone is searched, and bettered; then every act
AT_CONCLUSION = 0.2  # seconds for the same before a part is ordered
_AT = (Kind.OUTCOME, Kind.READING, Kind.CONDITIONS, Kind.OPEN, Kind.CLOSE, Kind.PROCEDURE, Kind.CONCLUSION)


@dataclass(slots=True)
class Adviser:
    """Draws up advice for one walk. It is told once a step, however many questions lead to it."""

    told_at: int = -1

    def beside(self, saved: SavedWalk, prompt: Prompt) -> Prompt:
        """Return `prompt` with the advice that stands beside it unasked; the same where there is none."""
        state = saved.state
        if prompt.kind not in _AT or state.running is not None or self.told_at == len(state.items):
            return prompt
        self.told_at = len(state.items)
        try:
            lines = tuple(self._beside(saved))
        except DiagtreeError:  # a house without a cost that the sums need: the walk goes on without them
            return prompt
        return replace(prompt, about=(*prompt.about, *lines)) if lines else prompt

    def advice(self, saved: SavedWalk) -> Iterator[Sequence[str]]:
        """Give what to do next, as lines: at once, then better after some search where that changes anything."""
        from diagtree.reason.first_advice import FirstAdvice
        from diagtree.reason.next_act import first_acts, next_acts
        from diagtree.reason.plan import Solver
        from diagtree.terminal.deadline import within
        from diagtree.terminal.views import advice as view
        from diagtree.walk.advice import case_of, tree_says
        from diagtree.walk.route import ToChoose, ToDecide, ToTest, route

        found = route(saved.walk, saved.state)
        if found.danger or saved.state.voltage_found or not isinstance(found.goal, ToTest | ToDecide | ToChoose):
            return
        currency = view.currency_of(saved.walk)
        try:
            case = case_of(saved.walk, saved.state, found)
            quick = FirstAdvice(case.problem)
            acts = first_acts(case, quick, out_of_time=within(AHEAD))
            exact = all(act.expected_cost == act.at_least for act in acts)
            yield view.first(acts, exact, currency)
            if not exact:
                acts = next_acts(
                    case, Solver(case.problem), whole=within(WHOLE), bettered=within(BETTERED),
                    out_of_time=within(SEARCH), too_late=within(SEARCH), advice=quick,
                )
                yield view.searched(acts, currency)
            says = tree_says(saved.walk, found)
            if says is None or says.kind == "test":
                yield tuple(self._compared(saved, found, acts, unasked=False))
            else:
                yield tuple(self._before_order(saved, found, case, says, acts, unasked=False))
        except DiagtreeError as error:
            yield (f"What is worth most now cannot be worked out: {error}",)

    def _beside(self, saved: SavedWalk) -> Iterator[str]:
        from diagtree.reason.first_advice import FirstAdvice
        from diagtree.reason.next_act import first_acts
        from diagtree.terminal.deadline import within
        from diagtree.walk.advice import case_of, tree_says
        from diagtree.walk.route import route

        found = route(saved.walk, saved.state)
        says = tree_says(saved.walk, found)
        if says is None:
            return
        case = case_of(saved.walk, saved.state, found)
        ahead = AHEAD if says.kind == "test" else AT_CONCLUSION
        acts = first_acts(case, FirstAdvice(case.problem), out_of_time=within(ahead), explained=0)
        if says.kind == "test":
            yield from self._compared(saved, found, acts)
        else:
            yield from self._before_order(saved, found, case, says, acts)

    def _before_order(
        self, saved: SavedWalk, found: Route, case: Present, says: Act, acts: Sequence[Advised], *,
        unasked: bool = True,
    ) -> Iterator[str]:
        """Give what to know before the part is ordered: a test that could overturn it, or another act that is best."""
        from diagtree.reason.next_act import before_order, undecided
        from diagtree.walk.advice import compare

        better = compare(saved.walk, found, acts)
        overturn = before_order(acts, case, says.id or "")
        what = "the part is ordered" if says.kind == "correct" else "this advice is given"
        if overturn is not None:
            yield f"Before {what}: {overturn.words} (`do {overturn.test}`)."
        elif better is not None and better.evidence.kind == "test":
            pass  # what is told next answers it
        elif undecided(acts, says.id or ""):
            so_far = "at first sight; `why` searches on" if unasked else "after this search either; see the gap above"
            yield f"Whether a test is worth doing before {what} is not clear {so_far}."
        else:
            yield f"No test that is left is worth doing before {what}."
        yield from self._compared(saved, found, acts, unasked=unasked)

    @staticmethod
    def _compared(saved: SavedWalk, found: Route, acts: Sequence[Advised], *, unasked: bool = True) -> Iterator[str]:
        """Give that the evidence says otherwise than the tree; the case remembers that it was told."""
        from diagtree.walk.advice import compare, comparison_lines, shown

        one = compare(saved.walk, found, acts)
        if one is None:
            return
        event = shown(one, saved.clock())
        before = saved.state.advised
        if unasked and one.evidence.kind == "refer" and before is not None and before[1].evidence == event.evidence:
            return  # a house that gives cars away cheaply: told once, not at every step
        if before is None or before[0] != len(saved.state.items) or before[1].evidence != event.evidence:
            saved.add((event,))
        yield from comparison_lines(one)
