"""One made-up walk through the real session, held to the laws at every prompt."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from diagtree.check.walks.bystander import Bystander
from diagtree.check.walks.laws import BrokenLaw, hold
from diagtree.check.walks.person import Person
from diagtree.check.walks.said import Said, Waited
from diagtree.errors import AnswerError
from diagtree.knowledge.place import Place
from diagtree.knowledge.words import MAKE_SAFE, Conclude
from diagtree.walk.answers import Chosen, Leave, Typed
from diagtree.walk.context import Walk
from diagtree.walk.event_json import event_from_json, event_to_json
from diagtree.walk.events import Begun, Event
from diagtree.walk.fold import fold
from diagtree.walk.prompts import Kind, Prompt
from diagtree.walk.respond import respond, resume
from diagtree.walk.route import ToTest, route
from diagtree.walk.session import next_prompt

MOST_CALM, MOST = 400, 40
"""Answers after which a walk that does what it is asked must be over; after which any other is let go."""

_MORNING = datetime(2026, 1, 5, 8, tzinfo=UTC)  # any day will do: only how much time goes by matters


class Walker:
    """Plays one walk. `said` is what was said so far, each with its prompt; `at` where in the tree it stands."""

    def __init__(self, walk: Walk) -> None:
        make_safe = walk.catalogue.procedures.get(MAKE_SAFE)
        self.walk = walk
        self.car = Bystander(len(make_safe.steps) if make_safe else 0, walk.absence_holds)
        self.said: list[tuple[Said, str]] = []
        self.concluded: str | None = None
        self.at: Place = walk.tree_of(walk.tree).at
        house = walk.house
        begun = Begun(self._now, walk.tree, walk.vehicle, house.rate, house.referral, house.comeback)
        self._events: list[Event] = [begun]
        self._state = fold(walk, self._events)

    @property
    def _now(self) -> str:
        return (_MORNING + timedelta(minutes=self.car.now)).isoformat()

    def play(self, person: Person) -> None:
        """Let `person` answer until the case is closed. Raises BrokenLaw."""
        for _ in range(MOST_CALM if person.calm else MOST):
            prompt = next_prompt(self.walk, self._state, self._now)
            hold(self.walk, self.car, prompt, self._state)
            self._place()
            if prompt is None:
                break
            self._give(person.says(prompt), prompt)
        else:
            if person.calm:
                raise BrokenLaw(f"the walk does not come to an end in {MOST_CALM} answers: what is asked was done")
        self._replayed()

    def _give(self, said: Said, prompt: Prompt) -> None:
        self.said.append((said, f"{prompt.kind.value} {prompt.key}"))
        if isinstance(said, Waited):
            self.car.now += said.minutes
            return
        if isinstance(said, Leave):
            self._add(resume(self._state, self._now))
            self.car.came_back()
            return
        try:
            events = respond(self.walk, self._state, said, self._now)
        except AnswerError:
            return
        stood = self._step()
        self.car.happened(prompt, said)
        self._add(events)
        if prompt.kind in (Kind.READING, Kind.OUTCOME) and isinstance(said, Typed | Chosen):
            self._must_have_moved(stood, prompt.key)

    def _must_have_moved(self, stood: str | None, test: str) -> None:
        """A dead end stands still: the step is answered, and the walk asks the same again."""
        answered = self._state.last is not None and self._state.last.test == test
        if answered and stood is not None and self._step() == stood:
            raise BrokenLaw(f"step `{stood}` is answered, and the walk does not go on from it")

    def _add(self, events: tuple[Event, ...]) -> None:
        self._events += events
        self._state = fold(self.walk, events, self._state)

    def _step(self) -> str | None:
        goal = route(self.walk, self._state).goal
        return goal.step if isinstance(goal, ToTest) else None

    def _place(self) -> None:
        found = route(self.walk, self._state)
        if found.step is not None:
            self.at = self.walk.tree_of(found.tree).steps[found.step].at
        if isinstance(found.ending, Conclude) and found.tree == self.walk.tree:
            self.concluded = found.ending.cause

    def _replayed(self) -> None:
        """A killed process leaves the stored events: replayed, they must give the same state and the same prompt."""
        stored = [event_from_json(event_to_json(event)) for event in self._events]
        again = fold(self.walk, stored)
        if again != self._state:
            raise BrokenLaw("the events of the case, stored and read again, give another state")
