"""Any series of acts at the session, beside a simple car: nothing that needs a dead car is shown on a live one."""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta
from functools import cache

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from diagtree.check.walks.bystander import Bystander
from diagtree.check.walks.laws import hold
from diagtree.errors import AnswerError
from diagtree.knowledge.files import load
from diagtree.knowledge.library import read_library
from diagtree.knowledge.words import MAKE_SAFE, Power
from diagtree.walk.answers import (
    Answer,
    Back,
    Changed,
    Chosen,
    DidNot,
    DoNow,
    Leave,
    NotDone,
    Note,
    RecordTest,
    Ticked,
    Typed,
)
from diagtree.walk.context import Walk
from diagtree.walk.event_json import event_from_json, event_to_json
from diagtree.walk.events import Begun, Event
from diagtree.walk.fold import fold
from diagtree.walk.prompts import Choice, Fields, Kind, Prompt, Tick
from diagtree.walk.respond import respond, resume
from diagtree.walk.session import next_prompt
from diagtree.walk.state import State
from diagtree.walk.why import why
from tests.walk.knowledge import TEXTS

BEGUN = datetime(2026, 11, 25, 10, tzinfo=UTC)
READINGS = ("12", "99", "100", "1.2 k", "10,1k", "OL", "230", "206,9", "1990")


@cache
def walks() -> tuple[Walk, ...]:
    """Return the walks under test: a small folder with every trap, and the shipped tree on both cars."""
    shipped = load()
    return (
        Walk.begin(read_library(TEXTS), "first", "petrel-9"),
        Walk.begin(read_library(TEXTS), "first"),
        Walk.begin(shipped, "ac-fails-dc-works", "petrel-2"),
        Walk.begin(shipped, "ac-fails-dc-works", "marlin-1"),
    )


class WalkMachine(RuleBasedStateMachine):
    """The session is given every sort of answer in any order; the physical car listens only to what was done."""

    def __init__(self) -> None:
        super().__init__()
        self.car = Bystander()
        self.minutes = 0.0
        self.events: list[Event] = []
        self.state = State()
        self.walk = walks()[0]
        self._asked: tuple[State, str, Prompt | None] | None = None

    @property
    def at(self) -> str:
        return (BEGUN + timedelta(minutes=self.minutes)).isoformat()

    @initialize(which=st.sampled_from((0, 0, 0, 1, 2, 3)))
    def begin(self, which: int) -> None:
        self.walk = walks()[which]
        make_safe = self.walk.catalogue.procedures.get(MAKE_SAFE)
        self.car = Bystander(len(make_safe.steps) if make_safe else 0, self.walk.absence_holds)
        house = self.walk.house
        begun = Begun(self.at, self.walk.tree, self.walk.vehicle, house.rate, house.referral, house.comeback)
        self.events = [begun]
        self.state = fold(self.walk, self.events)

    @property
    def prompt(self) -> Prompt | None:
        if self._asked is None or self._asked[0] is not self.state or self._asked[1] != self.at:
            self._asked = (self.state, self.at, next_prompt(self.walk, self.state, self.at))
        return self._asked[2]

    def give(self, answer: Answer) -> None:
        """Give an answer that may be refused: then nothing has happened; else it happens to the car as well."""
        prompt = self.prompt
        if prompt is None:
            with pytest.raises(AnswerError, match="closed"):
                respond(self.walk, self.state, answer, self.at)
            return
        try:
            events = respond(self.walk, self.state, answer, self.at)
        except AnswerError:
            return
        self.car.happened(prompt, answer)
        self.events += events
        self.state = fold(self.walk, events, self.state)

    @rule(data=st.data(), good=st.integers(0, 9))
    def answer(self, data: st.DataObject, good: int) -> None:
        prompt = self.prompt
        if prompt is not None:
            self.give(data.draw(proper_answers(prompt, mostly_good=good > 0)))

    @rule(data=st.data(), count=st.integers(1, 8))
    def go_on(self, data: st.DataObject, count: int) -> None:
        """Answer several prompts as a walk that gets somewhere would."""
        for _ in range(count):
            prompt = self.prompt
            if prompt is not None:
                self.give(data.draw(proper_answers(prompt, mostly_good=True)))
                self.never_shown_live()

    @rule(data=st.data())
    def march_to_a_dead_test(self, data: st.DataObject) -> None:
        """Choose a test that needs a dead car, and do all that the session asks until it is shown."""
        dead = [name for name, test in self.walk.catalogue.tests.items() if test.needs.power is Power.DEAD]
        wanted = data.draw(st.sampled_from(sorted(dead)))
        for _ in range(4):
            if self.prompt is not None and self.prompt.kind in (Kind.LOOK, Kind.COMPLAINT, Kind.ALREADY):
                self.give(data.draw(proper_answers(self.prompt, mostly_good=True)))
        self.give(DoNow(wanted))
        for _ in range(40):
            prompt = self.prompt
            if prompt is None or prompt.kind in (Kind.OUTCOME, Kind.READING, Kind.DANGER):
                break
            self.give(data.draw(proper_answers(prompt, mostly_good=True)))
            self.never_shown_live()

    @rule(data=st.data())
    def end_the_case(self, data: st.DataObject) -> None:
        """Refer the car wherever that can be chosen, and go towards hand-back; a change may come in between."""
        for _ in range(data.draw(st.integers(1, 12))):
            prompt = self.prompt
            if prompt is None:
                return
            options = prompt.form.options if isinstance(prompt.form, Choice) else ()
            if any(option.id == "refer" for option in options):
                self.give(Chosen(("refer",)))
            else:
                self.give(data.draw(proper_answers(prompt, mostly_good=True)))
            self.never_shown_live()

    @rule(count=st.integers(0, 4))
    def undo(self, count: int) -> None:
        self.give(Back(count))

    @rule()
    def not_done(self) -> None:
        self.give(NotDone("no time"))

    @rule()
    def did_not(self) -> None:
        self.give(DidNot("not done"))

    @rule(data=st.data(), powered=st.booleans())
    def changed(self, data: st.DataObject, powered: bool) -> None:
        names = sorted(self.walk.catalogue.access)
        opened = data.draw(st.lists(st.sampled_from(names), max_size=2, unique=True))
        closed = data.draw(st.lists(st.sampled_from(names), max_size=2, unique=True))
        self.give(Changed(powered, tuple(opened), tuple(closed), ""))

    @rule(data=st.data(), note=st.sampled_from(["", "the night shift, 22:10"]))
    def record_test(self, data: st.DataObject, note: str) -> None:
        test = self.walk.test(data.draw(st.sampled_from(sorted(self.walk.catalogue.tests))))
        outcome = data.draw(st.sampled_from(test.outcome_ids()))
        values = {item.name: data.draw(st.sampled_from(READINGS)) for item in test.reads}
        self.give(RecordTest(test.id, None if test.reads else outcome, values, note, data.draw(st.booleans())))

    @rule(data=st.data())
    def do_now(self, data: st.DataObject) -> None:
        self.give(DoNow(data.draw(st.sampled_from(sorted(self.walk.catalogue.tests)))))

    @rule(text=st.text(max_size=20))
    def note(self, text: str) -> None:
        self.give(Note(text))

    @rule(text=st.text(max_size=12))
    def junk(self, text: str) -> None:
        before, prompt = self.state, self.prompt
        for answer in (Chosen((text,)), Typed({text: text}), Ticked(text), DoNow(text), RecordTest(text)):
            if prompt is not None and not fits_by_chance(prompt, answer):
                with pytest.raises(AnswerError):
                    respond(self.walk, before, answer, self.at)
        assert self.state == before

    @precondition(lambda self: self.state.closed is None)
    @rule()
    def leave_and_resume(self) -> None:
        assert self.prompt is None or respond(self.walk, self.state, Leave(), self.at) == ()
        self.car.came_back()
        back = resume(self.state, self.at)
        self.events += back
        self.state = fold(self.walk, back, self.state)

    @rule()
    def kill_and_replay(self) -> None:
        """A killed process leaves the stored events; replayed, they give the same state and the same prompt."""
        stored = json.loads(json.dumps([event_to_json(event) for event in self.events]))
        again = fold(self.walk, [event_from_json(data) for data in stored])
        assert again == self.state
        assert next_prompt(self.walk, again, self.at) == self.prompt

    @rule(minutes=st.sampled_from((1, 30, 45, 61, 600)))
    def time_passes(self, minutes: int) -> None:
        self.minutes += minutes
        self.car.now = self.minutes

    @invariant()
    def never_shown_live(self) -> None:
        """No dead-only act on a live car, nor on one of which nobody has freshly proven that it is not; see `hold`."""
        hold(self.walk, self.car, self.prompt, self.state)

    @invariant()
    def always_a_reason(self) -> None:
        prompt = self.prompt
        if prompt is not None and prompt.kind not in (Kind.LOOK, Kind.COMPLAINT, Kind.ALREADY):
            assert why(self.walk, self.state)


def fits_by_chance(prompt: Prompt, answer: Answer) -> bool:
    """Whether a junk answer happens to be a real one here."""
    match answer, prompt.form:
        case Chosen(options=options), Choice(options=known):
            return options[0] in {option.id for option in known}
        case Typed(values=values), Fields(fields=fields):
            return all(field.optional for field in fields) and set(values) <= {field.name for field in fields}
        case Ticked(word=word), Tick(word=wanted, good=good):
            return word.strip().lower() == wanted and not good
        case _:
            return False


@st.composite
def proper_answers(draw: st.DrawFn, prompt: Prompt, *, mostly_good: bool) -> Answer:
    """Draw an answer of the prompt's form; with `mostly_good` one that lets the walk go on."""
    form = prompt.form
    if isinstance(form, Tick):
        return Ticked(form.word, form.good[0] if form.good else "shift lead" if form.says else "")
    if isinstance(form, Choice):
        options = [option.id for option in form.options]
        if form.many and not mostly_good:
            return Chosen(tuple(draw(st.lists(st.sampled_from(options[1:]), min_size=1, max_size=3, unique=True))))
        if prompt.kind in (Kind.LOOK, Kind.ALREADY) and mostly_good:
            return Chosen(("nothing",))
        safe = [option.id for option in form.options if not option.danger] or options
        return Chosen((draw(st.sampled_from(safe if mostly_good else options)),))
    if prompt.kind is Kind.ABSENCE:
        texts = ("0.3", "-0,4", "1") if mostly_good else ("0.3", "80", "OL", "-59.9", "0.3 k", "x", "29,9")
        return Typed({field.name: draw(st.sampled_from(texts)) for field in form.fields})
    if prompt.kind is Kind.FACT:
        values = ("compare", "ntc r25=10000 beta=3435", "platinum r0=1000", "nonsense here")
        return Typed({"value": draw(st.sampled_from(values)), "source": "manual"})
    if prompt.kind is Kind.PROOF:
        minutes = draw(st.sampled_from(("5", "45", "120")))
        given = {"minutes": minutes, "watched": "5", "power": "7,2", "cut_out": draw(st.sampled_from(("yes", "no")))}
        return Typed({field.name: given.get(field.name, "31 degC") for field in form.fields})
    if prompt.kind is Kind.COMPLAINT:
        return Typed({"words": "it stops", "cuts_out_after": draw(st.sampled_from(("", "25")))})
    return Typed({field.name: draw(st.sampled_from(READINGS)) for field in form.fields})


TestWalk = WalkMachine.TestCase
TestWalk.settings = settings(
    max_examples=150, stateful_step_count=25, deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much],
)
