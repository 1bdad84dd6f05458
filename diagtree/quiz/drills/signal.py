"""A level, a duty cycle or a coding resistor of the signal circuits: what does it mean? Judged by physics' verdicts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import inf

from diagtree.physics.quantity import Value, quantity
from diagtree.physics.verdict import Verdict, verdict
from diagtree.quiz.drills import Dice, Drill, Option, Question
from diagtree.quiz.subject import PILOT, PROXIMITY
from diagtree.records import dataclass
from diagtree.walk.context import Walk

_MOST_OPTIONS = 4
_TRIES = 30


@dataclass(frozen=True, slots=True)
class Spot:
    """What is asked of one verdict: `near` are the values around which readings fall, `spread` their share of it."""

    verdict: str
    subject: str
    input: str
    said: str
    near: tuple[float, ...]
    spread: float
    given: Mapping[str, Value]
    told: tuple[str, ...] = ()
    formula: str | None = None  # a quantity that gives the numbers


# Nominal values: SAE J1772 and IEC 61851-1 (levels, duty), IEC 61851-1 Table B.3 (coding). What they mean is not here.
_SPOTS = (
    Spot("pilot-state", PILOT, "voltage", "Positive level of the pilot at the station: {:.2f} V",
         (12.0, 9.0, 6.0, 3.0, 7.5, 10.5), 0.12, {"end": "station"}),
    Spot("pilot-state", PILOT, "voltage", "Level of the pilot at the inlet, a plug is in: {:.2f} V",
         (9.0, 6.0, 3.0, 0.1, 7.5), 0.12, {"end": "vehicle", "proximity": "connected"}),
    Spot("pilot-duty-meaning", PILOT, "duty", "Duty cycle of the pilot: {:.1f} %",
         (5.0, 8.0, 10.0, 16.0, 26.7, 50.0, 85.0, 93.0), 0.25, {}, formula="pilot-current"),
    Spot("proximity-coding", PROXIMITY, "resistance", "Proximity to earth in the type 2 plug: {:.0f} ohm",
         (60.0, 100.0, 220.0, 680.0, 1500.0, 4500.0), 0.5, {}, ("Three phases.",)),
)  # fmt: skip


def _ask(walks: Sequence[Walk], subject: str, dice: Dice) -> Question:  # noqa: ARG001 - the same on every car
    spot = dice.pick([spot for spot in _SPOTS if spot.subject == subject], "spot")
    asked = verdict(spot.verdict)
    value = _value(spot, dice, 0)
    means = _means(asked, spot, value)
    others = dict.fromkeys(_means(asked, spot, _value(spot, dice, number)) for number in range(1, _TRIES))
    offered = [means, *[one for one in others if one != means][: _MOST_OPTIONS - 1]]
    words = dice.shuffled(offered, "order")
    return Question(
        drill="signal",
        subject=subject,
        about=spot.verdict,
        heading=asked.meaning[:1].upper() + asked.meaning[1:],
        situation=(spot.said.format(value), *spot.told),
        ask="What does it mean?",
        options=tuple(Option(f"answer{number}", one) for number, one in enumerate(words, 1)),
        right=frozenset({f"answer{words.index(means) + 1}"}),
        why=(*_rule(asked, spot), f"Source: {asked.source}."),
        hint=_rule(asked, spot),
    )


def _rule(asked: Verdict, spot: Spot) -> tuple[str, ...]:
    if spot.formula is None:
        return (f"Rule: {asked.rule}.",)
    return (f"Rule: {asked.rule}.", f"Formula: {quantity(spot.formula).formula}.")


def _value(spot: Spot, dice: Dice, number: int) -> float:
    near = dice.pick(spot.near, "near", number)
    value = near * (1 + (2 * dice.chance("value", number) - 1) * spot.spread)
    known = next(one for one in verdict(spot.verdict).inputs if one.name == spot.input)
    value = min(max(value, -inf if known.low is None else known.low), inf if known.high is None else known.high)
    # As shown, so that what is read on the screen is what is judged.
    return float(spot.said.format(value).split(": ")[1].split(" ")[0])


def _means(asked: Verdict, spot: Spot, value: float) -> str:
    return asked.compute(**{spot.input: value}, **spot.given)


def _subjects(walks: Sequence[Walk]) -> frozenset[str]:
    return frozenset(spot.subject for spot in _SPOTS) if walks else frozenset()


DRILL = Drill(id="signal", mode="reading", subjects=_subjects, ask=_ask)
