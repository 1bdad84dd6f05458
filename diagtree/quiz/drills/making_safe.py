"""The order of making safe: so much is done, what comes next? The order is the procedure's on this car."""

from __future__ import annotations

from collections.abc import Sequence

from diagtree.errors import WrongUse
from diagtree.knowledge.words import MAKE_SAFE, Procedure, ProcedureStep
from diagtree.quiz.drills import Dice, Drill, Option, Question
from diagtree.quiz.subject import SAFETY
from diagtree.walk.context import Walk

_MOST_OPTIONS = 4
_REASONS = {
    "unplug": "A plugged-in car can be woken by the charge point at any time.",
    "switch-off": "Contactors open without load when the car is off; a key in reach switches it on again.",
    "disconnect": "Without 12 V the contactors cannot close; the service disconnect opens the circuit itself.",
    "secure": "What is not locked is switched on again by somebody who means well.",
    "wait": "Capacitors keep their charge after the disconnect.",
    "prove-tester": "A broken tester shows 0 V: it is proven on a known source before and after.",
    "absence": "Only a measurement with a proven tester shows that the car is dead.",
}


def _ask(walks: Sequence[Walk], subject: str, dice: Dice) -> Question:
    walk = dice.pick([walk for walk in walks if _procedure(walk) is not None], "car")
    procedure = _procedure(walk)
    if procedure is None:
        raise WrongUse("no car here has a procedure for making safe to ask about")
    due = int(dice.chance("due") * len(procedure.steps))
    step = procedure.steps[due]
    others = _others(procedure, due, dice)
    offered = dice.shuffled([due, *others], "order")
    vehicle = walk.catalogue.vehicle
    return Question(
        drill="making-safe",
        subject=subject,
        about=MAKE_SAFE,
        heading=vehicle.name if vehicle else "A car",
        situation=_done(procedure, due),
        ask="What comes next?",
        options=tuple(Option(f"step{number + 1}", _words(procedure.steps[number])) for number in offered),
        right=frozenset({f"step{due + 1}"}),
        why=(
            _REASONS.get(step.kind, "The procedure has it in this place."),
            f"Order: {_order(procedure)}, tester again (EN 50110-1: disconnect, secure, prove dead).",
            "The maker's procedure for the car comes first; until all of it is done the car counts as live.",
        ),
        hint=("In short: disconnect, secure against switching on, prove dead.",),
    )


def _order(procedure: Procedure) -> str:
    return ", ".join(dict.fromkeys(one.kind.replace("-", " ") for one in procedure.steps))


def _others(procedure: Procedure, due: int, dice: Dice) -> list[int]:
    """Return wrong steps to offer: of other kinds than the right one, one of a kind, so that only one can be right.

    Those that the question shows as done are not offered.
    """
    found: dict[str, int] = {}
    for number in dice.shuffled(range(len(procedure.steps)), "others"):
        kind = procedure.steps[number].kind
        if kind != procedure.steps[due].kind and number not in _shown(due):
            found.setdefault(kind, number)
    return list(found.values())[: _MOST_OPTIONS - 1]


def _done(procedure: Procedure, due: int) -> tuple[str, ...]:
    if due == 0:
        return ("The car is to be made safe. Nothing is done yet.",)
    shown = (procedure.steps[number] for number in _shown(due))
    return ("The car is being made safe. Done last:", *(f"- {_words(step)}" for step in shown))


def _shown(due: int) -> range:
    return range(max(0, due - 2), due)


def _words(step: ProcedureStep) -> str:
    return step.do or step.kind.replace("-", " ")


def _procedure(walk: Walk) -> Procedure | None:
    found = walk.catalogue.procedures.get(MAKE_SAFE)
    return found if found is not None and len({step.kind for step in found.steps}) > 1 else None


def _subjects(walks: Sequence[Walk]) -> frozenset[str]:
    return frozenset({SAFETY}) if any(_procedure(walk) is not None for walk in walks) else frozenset()


DRILL = Drill(id="making-safe", mode="safety", subjects=_subjects, ask=_ask)
