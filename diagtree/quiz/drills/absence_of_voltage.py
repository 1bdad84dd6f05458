"""Readings of the absence of voltage: which pairs are below their limit with the whole uncertainty?

Judged by `walk.absence`, the code that lets a walk go on or stops it.
"""

from __future__ import annotations

from collections.abc import Sequence

from diagtree.car.shown import shown
from diagtree.errors import WrongUse
from diagtree.knowledge.words import MAKE_SAFE, ProcedureStep
from diagtree.physics.meter import Accuracy, accuracy_for
from diagtree.physics.units import unit
from diagtree.quiz.drills import Dice, Drill, Option, Question
from diagtree.quiz.subject import SAFETY
from diagtree.walk.absence import AC_LIMIT, DC_LIMIT, AbsenceVerdict, Pair, measure, pairs
from diagtree.walk.context import Walk

NONE = "none"
_LIMITS = "Limits: 60 V DC, 30 V AC rms (UN R100, ISO 6469-3), or the car's own where that is lower; no sign counts."
_RANGE = 1000.0  # V; what a voltage tester shows at most
_BESIDE = 0.05  # of the limit, each way: where the uncertainty decides


def _ask(walks: Sequence[Walk], subject: str, dice: Dice) -> Question:
    walk = dice.pick([walk for walk in walks if _step(walk) is not None], "car")
    step = _step(walk)
    if step is None:
        raise WrongUse("no car here has a proof of the absence of voltage to ask about")
    wanted = pairs(walk, step, {})
    typed = _readings(wanted, dice)
    verdicts = measure(walk, wanted, typed)
    bad = frozenset(f"pair{number}" for number, one in enumerate(verdicts, 1) if not one.proven)
    vehicle = walk.catalogue.vehicle
    return Question(
        drill="absence-of-voltage",
        subject=subject,
        about=MAKE_SAFE,
        heading=vehicle.name if vehicle else "A car",
        situation=(
            "Made safe step by step, tester proven on the known source. The tester shows:",
            *(f"{pair.points}: {text}{'' if text == 'OL' else ' V'}" for pair, text in zip(wanted, typed, strict=True)),
            _tester(walk),
            *_own_limit(wanted),
        ),
        ask="Which pairs do not count as dead? Name all of them.",
        options=(
            *(Option(f"pair{number}", pair.points) for number, pair in enumerate(wanted, 1)),
            Option(NONE, "none: every pair is below its limit"),
        ),
        right=bad or frozenset({NONE}),
        why=(*(_told(one) for one in verdicts), *_so(bool(bad))),
        hint=(_LIMITS, "The whole uncertainty must fit below it: |reading| + U, U = 2 a / sqrt(3)."),
        many=True,
    )


def _readings(wanted: Sequence[Pair], dice: Dice) -> tuple[str, ...]:
    """Return what the tester shows, pair by pair, with the sign of the pair as it is written.

    The voltages round any ring of pairs add up to nothing (Kirchhoff's voltage law): from plus to minus stands what is
    from plus to chassis less what is from minus to chassis, but for the rounding of the display.
    """
    potentials: dict[str, float] = {}
    found: list[float] = []
    for number, pair in enumerate(wanted):
        volts, ends = _volts(pair, dice, number), _ends(pair.points)
        if ends is not None:
            first, second = ends
            if first in potentials and second not in potentials:
                potentials[second] = potentials[first] - volts
            base = potentials.setdefault(second, 0.0)
            volts = potentials.setdefault(first, base + volts) - base
        found.append(volts)
    return tuple("OL" if abs(volts) > _RANGE else shown(volts, unit("volt"), None, 0.5) for volts in found)


def _ends(points: str) -> tuple[str, str] | None:
    """Return the two points of a pair (`DC+ and chassis`); None where its words do not name two."""
    first, mark, second = points.partition(" and ")
    return (first.strip(), second.strip()) if mark and first.strip() != second.strip() else None


def _volts(pair: Pair, dice: Dice, number: int) -> float:
    """Return a voltage: mostly next to nothing, sometimes beside the limit, sometimes plainly too much, or OL."""
    kind, size = dice.chance("kind", number), dice.chance("size", number)
    if kind > 0.97:
        return 1.5 * _RANGE
    if kind < 0.55:
        volts = 0.1 + 6 * size
    elif kind < 0.85:
        volts = pair.limit * (1 + (2 * size - 1) * _BESIDE)
    else:
        volts = pair.limit + size * 300
    sign = -1 if dice.chance("sign", number) < 0.3 else 1  # a tester held the other way round
    return sign * volts


def _tester(walk: Walk) -> str:
    """Return the voltmeters of which one is the poorest at one reading or another: that counts (`walk.absence`)."""
    volts = unit("volt")
    found = dict.fromkeys(one for units in walk.meters.values() if (one := accuracy_for(units, volts)) is not None)
    poorest = [one for one in found if not any(_poorer(other, one) for other in found)]
    if not poorest:
        return "The house's list names no voltmeter: its readings count as exact."
    said = "; or ".join(f"{one.percent:g} % of the reading + {one.counts:g} counts" for one in poorest)
    if len(poorest) == 1:
        return f"The house's poorest voltmeter: {said}."
    return f"The house's poorest voltmeters: {said}; which was held is not told, the worse counts."


def _poorer(one: Accuracy, other: Accuracy) -> bool:
    return one != other and one.percent >= other.percent and one.counts >= other.counts


def _own_limit(wanted: Sequence[Pair]) -> tuple[str, ...]:
    limits = sorted({pair.limit for pair in wanted})
    if limits in ([DC_LIMIT], [AC_LIMIT, DC_LIMIT]):
        return ()
    return (f"This car's papers: dead below {limits[0]:g} V.",)


def _told(one: AbsenceVerdict) -> str:
    if one.reading.over_range:
        return f"{one.pair.points}: OL is above the tester's range, never nothing."
    size = abs(one.reading.value)
    total = f"{size:.4g} V + {one.expanded:.2g} V uncertainty = {size + one.expanded:.4g} V"
    return f"{one.pair.points}: {total}, {'below' if one.proven else 'not below'} {one.pair.limit:g} V."


def _so(stopped: bool) -> tuple[str, ...]:
    if stopped:
        return (_LIMITS, "The work stops: the car counts as live, and nobody talks the reading away.")
    return (_LIMITS, "The proof is whole only when the tester is proven on the known source once more (EN 50110-1).")


def _step(walk: Walk) -> ProcedureStep | None:
    procedure = walk.catalogue.procedures.get(MAKE_SAFE)
    steps = procedure.steps if procedure else ()
    return next((step for step in steps if step.kind == "absence" and step.between), None)


def _subjects(walks: Sequence[Walk]) -> frozenset[str]:
    return frozenset({SAFETY}) if any(_step(walk) is not None for walk in walks) else frozenset()


DRILL = Drill(id="absence-of-voltage", mode="safety", subjects=_subjects, ask=_ask)
