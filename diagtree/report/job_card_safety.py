"""What a job card tells of dangers: the lines for the owner, and what the looks saw. All of it from the answers."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from diagtree.knowledge.words import NOT_DONE, Test, Where
from diagtree.reason.complaint_words import cause_of_complaint
from diagtree.walk.ask_ending import refer_target
from diagtree.walk.context import Walk
from diagtree.walk.danger_words import dangers_told
from diagtree.walk.dangers import BY_ID, NOTHING, STAND_BACK
from diagtree.walk.events import Answered, Looked
from diagtree.walk.hearing import dangers_said
from diagtree.walk.route import Route
from diagtree.walk.state import State

STOP_AT_ONCE = (
    "Until it is repaired: do not plug in, and call us, at a burnt smell, a hot, brown, cracked or wet plug or inlet.",
    "A shock or a tingle felt, an insulation or high-voltage message: do not plug in, do not drive; have it fetched.",
    "Smoke, hissing, a sweetish smell: get out, keep everybody away, call the fire service.",
)
NOT_SAFE = "Nothing here says that the car is safe."


def look(state: State) -> str:
    """Return what the looks found: a danger, `nothing`, or "" where nobody has looked yet."""
    found = [item.found for item in state.items if isinstance(item, Looked)]
    return next((one for one in reversed(found) if one != NOTHING), found[-1] if found else "")


def looked_words(walk: Walk, state: State, found: Route, outcomes: Mapping[str, str]) -> str:
    """Return the looks in words, with what was asked again and what later answers say against them; "" before any.

    outcomes : each answered test's outcome that counts.
    """
    looks = [_look_words(item.found) for item in state.items if isinstance(item, Looked)]
    if not looks:
        return ""
    told = dangers_said(found.said, found.complained)
    again = f"asked again, since the owner says {_quoted(word for one in told for word in one.words)}: "
    later = (f"later: {one}" for one in _later(walk, outcomes))
    return "; ".join((looks[0], *(f"{again}{one}" for one in looks[1:]), *later))


def _later(walk: Walk, outcomes: Mapping[str, str]) -> Iterator[str]:
    for test, outcome in outcomes.items():
        entry = walk.test(test)
        if _tells_danger(entry, outcome):
            yield f"{entry.ask} {outcome}" if outcome == "yes" else outcome


def _look_words(danger: str) -> str:
    return "nothing of the dangers asked for was seen" if danger == NOTHING else f"DANGER: {danger}"


def _quoted(words: Iterator[str]) -> str:
    return ", ".join(dict.fromkeys(f"`{word}`" for word in words))


def _tells_danger(test: Test, outcome: str) -> bool:
    """Return whether an answer names a danger of the first look: as its outcome, or `yes` to the question."""
    if outcome in test.stop:
        return True
    text = test.ask if outcome == "yes" else outcome
    return _warns(test, outcome) and bool(dangers_told((text,)))


def _warns(test: Test, outcome: str) -> bool:
    """Return whether an answer given at reception is not the healthy one of a test that has cautions."""
    return test.place is Where.RECEPTION and bool(test.mind) and outcome not in (test.healthy, NOT_DONE)


def safety(walk: Walk, state: State, found: Route, outcomes: Mapping[str, str]) -> tuple[str, ...]:
    """Return what the owner and the house are told, most urgent first."""
    seen = look(state)
    lines: list[str] = []
    if seen in BY_ID:
        lines += BY_ID[seen].stops
    elif found.danger:
        lines += [*STAND_BACK, f"Call: {refer_target(found)}."]
    for item in state.items:
        if isinstance(item, Answered) and item.outcome in walk.test(item.test).stop:
            lines += walk.test(item.test).mind
    for test, outcome in outcomes.items():
        entry = walk.test(test)
        if _warns(entry, outcome) and outcome not in entry.stop:
            lines.append(" ".join((f"{entry.ask.rstrip('.')}{'' if entry.ask.endswith('?') else ':'} `{outcome}`.",
                                   *entry.mind)))  # fmt: skip
    own = walk.catalogue.causes.get(cause_of_complaint(found.tree))
    if own is not None and own.advise is not None and not found.danger:
        lines.append(own.advise.do)
    return tuple(dict.fromkeys((*lines, *STOP_AT_ONCE, NOT_SAFE)))
