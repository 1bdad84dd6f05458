"""The loop that ties session, driver and store together: whatever was answered is saved before the next question."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from diagtree.cases.store import CaseId, CaseStore
from diagtree.errors import AnswerError, StoreError
from diagtree.knowledge.library import read_library
from diagtree.knowledge.words import Test
from diagtree.terminal.adviser import Adviser
from diagtree.terminal.clock import now
from diagtree.terminal.drivers import Driver, Scene
from diagtree.terminal.interrupted import Interrupted
from diagtree.walk.answers import Leave
from diagtree.walk.context import Walk
from diagtree.walk.event_json import event_from_json, event_to_json
from diagtree.walk.events import Answered, Begun, CaseClosed, Event
from diagtree.walk.fold import fold
from diagtree.walk.prompts import Prompt
from diagtree.walk.session import next_prompt
from diagtree.walk.state import State

CLOSED = "closed"
Clock = Callable[[], str]


@dataclass(slots=True)
class SavedWalk:
    """A walk whose events are in the store: what is in memory was saved before."""

    walk: Walk
    store: CaseStore
    case: CaseId
    clock: Clock = now
    events: list[Event] = field(default_factory=list)
    state: State = field(default_factory=State)
    adviser: Adviser = field(default_factory=Adviser)
    command: Callable[[str], str] = "diagtree {}".format  # the line that runs a command on the same store

    def add(self, events: Sequence[Event]) -> None:
        """Save events, then take them into account. Raises CaseChangedElsewhere where another window went on."""
        closed = any(isinstance(event, CaseClosed) for event in events)
        body = [event_to_json(event) for event in events]
        self.store.append(self.case, len(self.events), body, status=CLOSED if closed else None)
        self.events.extend(events)
        self.state = fold(self.walk, events, self.state)

    def prompt(self) -> Prompt | None:
        """Return what is due, None when the case is closed."""
        return next_prompt(self.walk, self.state, self.clock())

    def _why(self) -> Sequence[str]:
        from diagtree.walk.why import why  # only where it is asked

        return why(self.walk, self.state)

    def _doubt(self, test: str, typed: Mapping[str, str]) -> tuple[str, str] | None:
        from diagtree.walk.another_order import doubt  # after the first reading

        found = doubt(self.walk, self.state.facts, self.walk.test(test), typed)
        return None if found is None else (found.field, found.question)

    def _since(self) -> float | None:
        from diagtree.walk.approach import minutes_since_act

        return minutes_since_act(self.events, self.clock())

    def scene(self) -> Scene:
        """Return what may be looked up at the present question."""
        answered = {item.test: item.outcome for item in self.state.items if isinstance(item, Answered)}
        return Scene(
            why=self._why,
            advice=lambda: self.adviser.advice(self),
            tests=_InOrder(self.walk),
            answered=answered,
            access=self.walk.catalogue.access,
            open_now=self.state.opened,
            doubt=self._doubt,
            since=self._since,
            standing=(self.state.arrangement, self.state.proven_at, self.state.voltage_found),
        )


def begin(
    walk: Walk, store: CaseStore, *, by: str | None = None, clock: Clock = now, title: str = ""
) -> SavedWalk:
    """Open a case for `walk` and return it; the case keeps the knowledge it begins with.

    title : what lists call it, where that is more than the tree's own title.
    """
    at = clock()
    tree = walk.tree_of(walk.tree)
    meta = {"title": title or tree.title, "vehicle": walk.vehicle or "", "revision": tree.revision}
    case = store.begin(walk.tree, walk.library.texts, meta, at, by)
    saved = SavedWalk(walk, store, case, clock)
    house = walk.house
    saved.add([Begun(at, walk.tree, walk.vehicle, house.rate, house.referral, house.comeback)])
    return saved


def reopen(store: CaseStore, case: CaseId, *, clock: Clock = now) -> SavedWalk:
    """Return a case as it was saved, on the knowledge it began with. Nothing is added to it."""
    events = [event_from_json(body) for body in store.events(case)]
    begun = next((event for event in events if isinstance(event, Begun)), None)
    if begun is None:
        raise StoreError(f"case {case} was cut off before its first question and holds no answers; begin a new one")
    walk = Walk.begin(read_library(store.knowledge(case), f"case {case}: "), begun.tree, begun.vehicle)
    walk = walk.with_costs(begun.rate, begun.referral, begun.comeback)
    return SavedWalk(walk, store, case, clock, events, fold(walk, events))


def resume(store: CaseStore, case: CaseId, *, clock: Clock = now) -> SavedWalk:
    """Return a case to go on with: what was dead may be live by now, so that is told to the session first."""
    from diagtree.walk.respond import resume as resumed

    saved = reopen(store, case, clock=clock)
    if events := resumed(saved.state, clock()):
        saved.add(events)
    return saved


def play(saved: SavedWalk, driver: Driver, command: str = "walk") -> Prompt | None:
    """Answer prompts until the case is closed (None) or the driver leaves (the prompt it left at).

    command : that of diagtree with which one goes on.

    Raises Interrupted, saying how to go on, where the person goes; a mistake of ours carries the case's number.
    """
    try:
        while (prompt := saved.prompt()) is not None:
            if driver.advised:
                prompt = saved.adviser.beside(saved, prompt)
            answer = driver.answer(prompt, saved.scene())
            if isinstance(answer, Leave):
                return prompt
            from diagtree.walk.respond import respond  # after the first question: nobody waits for it

            try:
                events = respond(saved.walk, saved.state, answer, saved.clock())
            except AnswerError as error:
                if error.kept:
                    saved.add(error.kept)  # type: ignore[arg-type]
                driver.refused(str(error))
                continue
            saved.add(events)
    except (Interrupted, KeyboardInterrupt) as gone:
        raise Interrupted(saved_words(saved, command)) from gone
    except Exception as error:
        error.diagtree_case = saved.case  # type: ignore[attr-defined]
        raise
    return None


def saved_words(saved: SavedWalk, command: str = "walk") -> str:
    """Return that everything is saved, and how to go on."""
    return f"case {saved.case} is saved; go on with `{saved.command(f'{command} {saved.case}')}`"


def last_answers(saved: SavedWalk, most: int = 3) -> tuple[str, ...]:
    """Return the latest answers of a case as lines, for somebody who comes back to it."""
    answered = [item for item in saved.state.items if isinstance(item, Answered)]
    return tuple(f"{item.test}: {item.outcome}" for item in answered[-most:])


class _InOrder(Mapping[str, Test]):
    """Every test, those that this complaint's causes show first.

    The order is worked out when somebody lists them: a prompt that nobody asks that of must not read every entry.
    """

    def __init__(self, walk: Walk) -> None:
        self._walk = walk

    def __getitem__(self, test: str) -> Test:
        return self._walk.catalogue.tests[test]

    def __contains__(self, test: object) -> bool:
        return test in self._walk.catalogue.tests

    def __iter__(self) -> Iterator[str]:
        from diagtree.reason.problem import planned_tests

        walk = self._walk
        first = planned_tests(walk.tree_of(walk.tree), walk.catalogue)
        return iter(dict.fromkeys((*first, *walk.catalogue.tests)))

    def __len__(self) -> int:
        return len(self._walk.catalogue.tests)
