"""A tree as boxes that hang on each other: every step once, later references to it as stubs. Nothing is placed yet."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from textwrap import wrap

from diagtree.knowledge.words import (
    NOT_DONE,
    Catalogue,
    Conclude,
    HandOver,
    Power,
    Refer,
    Step,
    Target,
    Test,
    Tree,
    Where,
)
from diagtree.reason.graph import branches

STEP, REPAIR, ADVICE, REFERRAL, HAND_OVER, STUB = "step", "repair", "advice", "referral", "hand-over", "stub"
"""The kinds of boxes."""

WIDE, LABEL = 38, 17
"""Letters in a line of a box, and of an outcome's label."""


@dataclass(slots=True)
class Box:
    """One box. `said`: the outcomes that lead here, in lines. `step`: the step drawn, or the one that a stub names."""

    kind: str
    lines: list[str]
    said: list[str] = field(default_factory=list)
    step: str | None = None
    children: list[Box] = field(default_factory=list)

    def all(self) -> Iterator[Box]:
        """Give this box and all that hang on it, from the top of the picture down."""
        yield self
        for child in self.children:
            yield from child.all()


def grown(tree: Tree, catalogue: Catalogue) -> Box:
    """Return the box of the tree's first step, with all others hanging on it; each step on the shortest way to it."""
    led = {step.id: _led(step, catalogue.tests[step.test]) for step in tree.steps.values()}
    return _box(tree.start, tree, catalogue, led, _parents(tree, led))


def needs_words(test: Test) -> str:
    """Return where a test is done and on which car: `bay, dead`."""
    if test.place is not Where.BAY:
        return test.place.value
    return "bay" if test.needs.power is Power.ANY else f"bay, {test.needs.power.value}"


def ending_words(target: Target, catalogue: Catalogue) -> tuple[str, str]:
    """Return the kind of an ending, and its words."""
    match target:
        case Conclude(cause=name):
            cause = catalogue.causes[name]
            return (REPAIR, f"Repair: {cause.name}") if cause.correction else (ADVICE, f"Advise: {cause.name}")
        case HandOver(tree=other):
            return HAND_OVER, f"Hand over to: {other}"
        case Refer(to=whom):
            return REFERRAL, f"Refer to: {whom}"
    return STUB, str(target)


_Led = dict[Target, list[str]]


def _led(step: Step, test: Test) -> _Led:
    """Return where a step leads, each target once with its outcomes; `not-done` only where the author wrote it."""
    found: _Led = {}
    for outcome, target in branches(step, test).items():
        if outcome != NOT_DONE or (NOT_DONE in step.then and target not in found):
            found.setdefault(target, []).append(f"{outcome} (stop)" if outcome in test.stop else outcome)
    return found


def _parents(tree: Tree, led: Mapping[str, _Led]) -> dict[str, str]:
    """Return the step on which each step hangs: the one that is reached first, step by step."""
    parents = {tree.start: ""}
    waiting = deque([tree.start])
    while waiting:
        here = waiting.popleft()
        for target in led.get(here, {}):
            if isinstance(target, str) and target in tree.steps and target not in parents:
                parents[target] = here
                waiting.append(target)
    return parents


def _box(step_id: str, tree: Tree, catalogue: Catalogue, led: Mapping[str, _Led], parents: Mapping[str, str]) -> Box:
    test = catalogue.tests[tree.steps[step_id].test]
    box = Box(STEP, [f"{needs_words(test)}, {test.minutes:g} min", *wrap(test.ask, WIDE)], step=step_id)
    for target, outcomes in led[step_id].items():
        if not isinstance(target, str):
            kind, words = ending_words(target, catalogue)
            child = Box(kind, wrap(words, WIDE))
        elif parents.get(target) == step_id:
            child = _box(target, tree, catalogue, led, parents)
        else:
            child = Box(STUB, [], step=target)
        child.said = wrap(", ".join(outcomes), LABEL, break_on_hyphens=False, break_long_words=False)
        box.children.append(child)
    return box
