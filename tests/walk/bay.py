"""A technician for tests: gives answers to the session one after the other, and does the usual between them."""

from __future__ import annotations

from collections.abc import Mapping
from random import Random

from diagtree.walk.answers import Answer, Chosen, Ticked, Typed
from diagtree.walk.context import Walk
from diagtree.walk.events import Begun, Event
from diagtree.walk.fold import fold
from diagtree.walk.prompts import Choice, Fields, Kind, Prompt, Tick
from diagtree.walk.respond import respond
from diagtree.walk.session import next_prompt
from diagtree.walk.state import State

AT = "2026-11-25T10:00:00+00:00"


class Bay:
    """One walk of one car. `asked` keeps the kind and key of every prompt that was answered."""

    def __init__(self, walk: Walk) -> None:
        self.walk = walk
        house = walk.house
        begun = Begun(AT, walk.tree, walk.vehicle, house.rate, house.referral, house.comeback)
        self.events: list[Event] = [begun]
        self.state: State = fold(walk, self.events)
        self.asked: list[tuple[Kind, str]] = []

    @property
    def open_prompt(self) -> Prompt | None:
        """The prompt that is due; None where the case is closed."""
        return next_prompt(self.walk, self.state, AT)

    @property
    def prompt(self) -> Prompt:
        """The prompt that is due."""
        prompt = self.open_prompt
        assert prompt is not None, f"the case is closed: {self.state.closed}"
        return prompt

    def give(self, answer: Answer) -> None:
        """Answer the prompt that is due."""
        prompt = self.prompt
        events = respond(self.walk, self.state, answer, AT)
        self.asked.append((prompt.kind, prompt.key))
        self.events += events
        self.state = fold(self.walk, events, self.state)

    def choose(self, *options: str) -> None:
        """Choose options by their ids."""
        self.give(Chosen(options))

    def type(self, **values: str) -> None:
        """Type values by the names of their fields."""
        self.give(Typed(values))

    def until(self, *wanted: Kind | str, answers: Mapping[str, str] | None = None) -> Prompt:
        """Do the usual until a prompt of a wanted kind (or about a wanted key) is due, and return that.

        answers : what to choose at prompts by their key, where the usual will not do.
        """
        for _ in range(120):
            prompt = self.prompt
            if any(item is prompt.kind if isinstance(item, Kind) else item == prompt.key for item in wanted):
                return prompt
            self.give(usual(prompt, answers or {}))
        raise AssertionError(f"{wanted} was never due; asked: {self.asked[-12:]}")

    def finish(self) -> None:
        """Do the usual until the case is closed."""
        for _ in range(120):
            prompt = self.open_prompt
            if prompt is None:
                return
            self.give(usual(prompt, {}))
        raise AssertionError(f"the case never closes; asked: {self.asked[-12:]}")

    def limits_shown(self) -> str:
        """Everything that the prompt due shows, in one text."""
        prompt = self.prompt
        fields = prompt.form.fields if isinstance(prompt.form, Fields) else ()
        words = (prompt.heading, prompt.ask, *prompt.how, *prompt.about, *prompt.cautions, *prompt.told)
        return "\n".join((*words, *(field.text for field in fields)))


def usual(prompt: Prompt, answers: Mapping[str, str]) -> Answer:
    """Return an answer with which a job goes on: done, nothing found, no voltage."""
    form = prompt.form
    if isinstance(form, Tick):
        return Ticked(form.word, form.good[0] if form.good else "shift lead" if form.says else "")
    if isinstance(form, Choice):
        known = [option.id for option in form.options]
        if prompt.key in answers:
            return Chosen((answers[prompt.key],))
        return Chosen(("no" if prompt.kind is Kind.OUTCOME and "no" in known else known[0],))
    if prompt.kind is Kind.COMPLAINT:
        return Typed({"words": "it stops"})
    if prompt.kind is Kind.ABSENCE:
        return Typed({field.name: "0.3" for field in form.fields})
    raise AssertionError(f"no usual answer to {prompt.kind} `{prompt.key}`")


def wandering(prompt: Prompt, random: Random) -> Answer:
    """Return any proper answer: with it, walks come to every kind of prompt."""
    form = prompt.form
    if isinstance(form, Tick):
        return Ticked(form.word, form.good[0] if form.good else "shift lead" if form.says else "")
    if isinstance(form, Choice):
        options = [option.id for option in form.options]
        rarely = prompt.kind in (Kind.LOOK, Kind.ALREADY) and random.random() < 0.9
        return Chosen((options[0] if rarely else random.choice(options),))
    typed = {
        Kind.ABSENCE: {field.name: random.choice(["0.3", "-0,4", "0.3", "0.3", "80"]) for field in form.fields},
        Kind.COMPLAINT: {"words": "it stops", "cuts_out_after": random.choice(["", "25"])},
        Kind.FACT: {"value": random.choice(["compare", "ntc r25=10000 beta=3435"]), "source": "manual"},
        Kind.PROOF: {
            **{field.name: "31 degC" for field in form.fields},
            "minutes": random.choice(["5", "120"]),
            "watched": "5",
            "power": "7,2",
            "cut_out": random.choice(["yes", "no"]),
        },
    }.get(prompt.kind)
    return Typed(typed or {field.name: random.choice(["12", "99", "1.2 k", "OL", "230"]) for field in form.fields})
