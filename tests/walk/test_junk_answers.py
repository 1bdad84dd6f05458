"""1,000 junk answers at every kind of prompt: each is refused by name, with what was expected, and nothing happens."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from copy import deepcopy
from dataclasses import dataclass
from functools import cache
from random import Random

import pytest

from diagtree.errors import AnswerError
from diagtree.knowledge.files import load
from diagtree.knowledge.library import read_library
from diagtree.walk.answers import (
    Answer,
    Back,
    Changed,
    Chosen,
    DidNot,
    DoNow,
    NotDone,
    Note,
    RecordTest,
    Ticked,
    Typed,
)
from diagtree.walk.context import Walk
from diagtree.walk.prompts import Choice, Field, Fields, Kind, Prompt, Tick
from diagtree.walk.respond import respond
from diagtree.walk.session import next_prompt
from diagtree.walk.state import State
from tests.walk.bay import AT, Bay, wandering
from tests.walk.knowledge import TEXTS, WITH_TRIAGE

EACH = 50
WORDS = ("qwertz", "done!", "y", "0", "-1", "99", "[bold]x[/]", "'; drop table", "no such", "\x1b[2J", "ü" * 60, "OL")
NO_NUMBERS = ("twelve", "1..2", "--4", "nan", "inf", "1,2,3", "0x10", "4 parsec", "1e99", "<5", "0L", "3 4", "?", "½")
NO_VOLTS = ("0.3 k", "3 mV", "1,200", "<1", "0L", "none", "1e-3", "dead", "0.3 ohm")
NO_FACTS = ("r25", "ntc", "3435 K", "ntc r25", "= 3", "10 k", "nan", "inf", "1e99", "unknown value")


@dataclass(frozen=True, slots=True)
class Junk:
    """An answer that cannot be taken, the words of it of which the message must name one, and what it must say."""

    answer: Answer
    named: tuple[str, ...]
    expected: tuple[str, ...]


@cache
def stands() -> dict[Kind, list[tuple[Walk, State]]]:
    """Return places in walks, by the kind of prompt that is due there: up to six of each."""
    shipped = load()
    walks = (
        Walk.begin(read_library(TEXTS), "first", "petrel-9"),
        Walk.begin(read_library(TEXTS), "first"),
        Walk.begin(shipped, "ac-fails-dc-works", "marlin-1"),
        Walk.begin(read_library(WITH_TRIAGE), "triage", "petrel-9"),
    )
    found: dict[Kind, list[tuple[Walk, State]]] = {kind: [] for kind in Kind}
    for seed in range(120):
        random, bay = Random(seed), Bay(walks[seed % 5 % 4])
        for _ in range(60):
            prompt = bay.open_prompt
            if prompt is None:
                break
            if len(found[prompt.kind]) < 6:
                found[prompt.kind].append((bay.walk, bay.state))
            with suppress(AnswerError):  # `fixed` after a charge that was too short, a value that is no sensor
                bay.give(wandering(prompt, random))
    return found


def test_every_kind_of_prompt_is_reached() -> None:
    """The junk below is tried at every kind of prompt that there is; 50 times at each makes 1,000."""
    assert not [kind for kind, places in stands().items() if not places]
    assert EACH * len(Kind) >= 1000


@pytest.mark.parametrize("kind", list(Kind))
def test_junk_is_refused_by_name_and_changes_nothing(kind: Kind) -> None:
    """Only AnswerError is raised; it names the answer or the field, and what was expected; the state stays."""
    random = Random(kind.value)
    for number in range(EACH):
        walk, state = random.choice(stands()[kind])
        prompt = next_prompt(walk, state, AT)
        assert prompt is not None
        offered = list(junk(walk, state, prompt, random))
        spoilt = offered[number % len(offered)]
        before = deepcopy(state)
        with pytest.raises(AnswerError) as raised:
            respond(walk, state, spoilt.answer, AT)
        said = str(raised.value)
        assert any(word in said for word in spoilt.named if word), (spoilt, said)
        assert any(word in said for word in spoilt.expected), (spoilt, said)
        assert state == before
        assert next_prompt(walk, state, AT) == prompt


def junk(walk: Walk, state: State, prompt: Prompt, random: Random) -> Iterator[Junk]:
    """Yield one junk answer of each sort that can be given at this prompt."""
    yield from _of_the_form(prompt, random)
    yield from _of_another_form(prompt, random)
    yield from _at_any_prompt(walk, state, prompt, random)


def _of_the_form(prompt: Prompt, random: Random) -> Iterator[Junk]:
    form = prompt.form
    word = random.choice(WORDS)
    if isinstance(form, Tick):
        yield Junk(Ticked(word), (f"`{word}`",), (f"`{form.word}`",))
        yield Junk(Ticked(""), ("``",), (f"`{form.word}`",))
        yield Junk(Ticked(form.word[:-1]), (f"`{form.word[:-1]}`",), (f"`{form.word}`",))
        yield Junk(Ticked(f"{form.word} {form.word}"), (f"`{form.word} {form.word}`",), (f"`{form.word}`",))
    elif isinstance(form, Choice):
        known = [option.id for option in form.options]
        first = known[0]
        yield Junk(Chosen((word,)), (f"`{word}`",), tuple(known))
        yield Junk(Chosen(()), ("choose",), (first,))
        yield Junk(Chosen((f"{first}x",)), (f"`{first}x`",), (f"`{first}`",))
        if form.many:
            yield Junk(Chosen(("nothing", known[1])), ("`nothing`",), ("one or the other",))
            yield Junk(Chosen((known[1], word)), (f"`{word}`",), tuple(known))
        else:
            yield Junk(Chosen((first, known[-1])), ("exactly one",), (first,))
    else:
        yield from _fields(prompt, form, word, random)


def _fields(prompt: Prompt, form: Fields, word: str, random: Random) -> Iterator[Junk]:
    good = wandering(prompt, Random(1))
    assert isinstance(good, Typed)
    names = [field.name for field in form.fields]
    yield Junk(Typed({**good.values, word: "1"}), (f"`{word}`",), tuple(names))
    for field in form.fields:
        if not field.optional:
            yield Junk(Typed({**good.values, field.name: " "}), (field.text,), ("nothing was typed",))
        for text in _wrong_texts(prompt, field, random):
            names_of_it = (f"`{text}`", field.text, field.name)
            yield Junk(Typed({**good.values, field.name: text}), names_of_it, ("type", "say"))
    if prompt.kind is Kind.READING:
        yield Junk(Typed(good.values, meter=f"meter {word}"), (f"`meter {word}`",), ("type", "meters", "choose"))


def _wrong_texts(prompt: Prompt, field: Field, random: Random) -> tuple[str, ...]:
    if field.words:
        return ("maybe", "n", "1")
    if field.plain:
        return (random.choice(NO_VOLTS), random.choice(NO_VOLTS))
    if prompt.kind is Kind.FACT and field.name == "value":
        return (random.choice(NO_FACTS), random.choice(NO_FACTS))
    if not field.number:
        return ()
    minus = ("-5",) if prompt.kind in (Kind.PROOF, Kind.COMPLAINT) else ()
    return (random.choice(NO_NUMBERS), random.choice(NO_NUMBERS), *minus)


def _of_another_form(prompt: Prompt, random: Random) -> Iterator[Junk]:
    word = random.choice(WORDS)
    others: tuple[Answer, ...] = (Chosen((word,)), Typed({word: "1"}), Ticked(word))
    wanted = {Choice: Chosen, Fields: Typed, Tick: Ticked}[type(prompt.form)]
    form = prompt.form
    expected = (
        tuple(option.id for option in form.options)
        if isinstance(form, Choice)
        else tuple(field.name for field in form.fields)
        if isinstance(form, Fields)
        else (f"`{form.word}`",)
    )
    for answer in others:
        if not isinstance(answer, wanted):
            yield Junk(answer, (word,), expected)


def _at_any_prompt(walk: Walk, state: State, prompt: Prompt, random: Random) -> Iterator[Junk]:
    word = random.choice(WORDS)
    access = next(iter(walk.catalogue.access))
    yield Junk(Note("  "), ("note",), ("type what",))
    yield Junk(Back(0), ("`back 0`",), ("from 1",))
    yield Junk(Back(-3), ("`back -3`",), ("from 1",))
    yield Junk(Back(999), ("`back 999`", "no answer to take back"), ("can be taken back", "yet"))
    yield Junk(Changed(), ("changed",), ("powered",))
    yield Junk(Changed(opened=(word,)), (f"`{word}`",), (access,))
    yield Junk(Changed(opened=(access,), closed=(access,)), (f"`{access}`",), ("how it is now",))
    if access not in state.arrangement.open:
        yield Junk(Changed(closed=(access,)), (f"`{access}`",), ("open now",))
    yield Junk(NotDone(""), ("not done", "left out"), ("reason", "answer it"))
    if not prompt.not_done:
        yield Junk(NotDone("no time"), ("left out",), ("answer it", "leave"))
    if not prompt.did_not:
        yield Junk(DidNot("no"), ("`did-not`",), ("making safe",))
    yield Junk(DoNow(word), (f"`{word}`", "answer this first"), (*walk.catalogue.tests, "after it"))
    yield from _recorded(walk, word)


def _recorded(walk: Walk, word: str) -> Iterator[Junk]:
    first = ("answer this first", f"`{word}`")
    yield Junk(RecordTest(word), first, (*walk.catalogue.tests, "after it"))
    for test in walk.catalogue.tests.values():
        if test.reads:
            name = test.reads[0].name
            named = ("answer this first", f"`{test.id}`", name, name.replace("_", " "))
            yield Junk(RecordTest(test.id, values={}, note="shift lead"), named, ("missing", "after it"))
            values = {item.name: "twelve" for item in test.reads}
            yield Junk(RecordTest(test.id, values=values, note="shift lead"), (*named, "twelve"), ("type", "after it"))
        else:
            named = ("answer this first", f"`{word}`")
            yield Junk(RecordTest(test.id, word, note="shift lead"), named, (*test.outcome_ids(), "after it"))
