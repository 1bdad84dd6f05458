"""Rounds on small made-up knowledge, and all that may happen in one, counted with its exact chance."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from copy import deepcopy
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from diagtree.knowledge.library import read_library
from diagtree.quiz.choices import Choice
from diagtree.quiz.events import Event, Tested
from diagtree.quiz.modes import PRACTICE, Mode
from diagtree.quiz.respond import respond
from diagtree.quiz.round import Round, deal
from diagtree.quiz.state import State, start, step
from diagtree.walk.context import Walk
from tests.documents import Document, texts
from tests.oracles.expectimax import Expectimax


def distinct(document: Document) -> dict[str, Any]:
    """Return the document with another work for every correction: the same work would mend two causes at once."""
    found = deepcopy(dict(document))
    for cause, said in found["causes"].items():
        if "correction" in said:
            said["correction"]["do"] = f"Mend {cause}."
    return found


def walk_of(document: Document) -> Walk:
    """Return a walk on `document`, whatever a check would say of it (a hand-over leads to a tree that is not there)."""
    library = read_library(texts(distinct(document)))
    return Walk(library, document["tree"]["tree"], None, library.house)


def played(document: Document, cause: str | None = None, seed: str = "1", mode: Mode = PRACTICE) -> Round:
    return silent(deal(walk_of(document), seed, mode, cause=cause))


def silent(dealt: Round) -> Round:
    """Return the round as if the owner had said nothing unasked: it begins where a plan and a price begin."""
    return Round(dealt.walk, replace(dealt.dealt, told=()))


@dataclass(frozen=True)
class Seen:
    """What a trainee has seen of a round: the choices, what the tests showed, which corrections were in vain."""

    lines: tuple[str, ...] = ()

    def after(self, choice: Choice, event: Event) -> Seen:
        shown = event.outcome if isinstance(event, Tested) else ""
        return Seen((*self.lines, f"{choice.words}={shown}"))


Policy = Callable[[Round, State, Seen], Choice]
"""From what is seen to a choice. It is asked with a round whose hidden cause it must not look at."""


@dataclass(frozen=True)
class Happening:
    """One way a round may go, with its chance over cars and outcomes, and its events with the states before them."""

    chance: Fraction
    money: float
    made: tuple[tuple[State, Event], ...]


def happenings(document: Document, policy: Policy) -> Iterator[Happening]:
    """Yield every way a round may go under `policy`: over all causes by share, over all outcomes by the figures.

    The chances are the oracle's, in fractions; only the events are the quiz's.
    """
    oracle = Expectimax(document)
    whole = sum(oracle.shares.values())
    walk = walk_of(document)
    public = silent(deal(walk, "1", cause=next(iter(oracle.shares))))
    for cause, share in oracle.shares.items():
        hidden = silent(deal(walk, "1", cause=cause))
        hidden.__dict__["solver"] = public.solver
        yield from _onward(oracle, public, hidden, policy, start(hidden), Seen(), share / whole, ())


def _onward(
    oracle: Expectimax, public: Round, hidden: Round, policy: Policy, state: State, seen: Seen, chance: Fraction,
    made: tuple[tuple[State, Event], ...],
) -> Iterator[Happening]:
    if state.ended is not None:
        yield Happening(chance, state.money, made)
        return
    assert len(made) < 60, "the policy never ends"
    choice = policy(public, state, seen)
    event = respond(hidden, state, choice)
    ways: list[tuple[Fraction, Event]] = [(Fraction(1), event)]
    if isinstance(event, Tested) and event.test not in state.outcomes:
        outcomes = oracle.document["tests"][event.test]["outcomes"]
        ways = [
            (oracle.chance(event.test, hidden.dealt.cause, outcome), replace(event, outcome=outcome))
            for outcome in outcomes
        ]
    elif isinstance(event, Tested):
        ways = [(Fraction(1), replace(event, outcome=state.outcomes[event.test]))]
    for part, one in ways:
        if part:
            yield from _onward(
                oracle, public, hidden, policy, step(hidden, state, one), seen.after(choice, one), chance * part,
                (*made, (state, one)),
            )
