"""What a test of the simulated car comes to: its readings judged as a walk judges them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field, replace

from diagtree.errors import AnswerError
from diagtree.knowledge.limits import MissingName, UnknownFact
from diagtree.knowledge.words import Test
from diagtree.quiz.round import Round
from diagtree.records import dataclass
from diagtree.walk.judging import read, verdict
from diagtree.walk.verdict_text import verdict_lines

COMPARED = "No number here: a maker's value is not known for this car. A comparison on the car itself was made."


@dataclass(frozen=True, slots=True)
class Answer:
    """One answer. `chances` : of each outcome where the reading is close to a limit. `told` : what it means."""

    outcome: str
    readings: Mapping[str, str] = field(default_factory=dict)
    chances: Mapping[str, float] = field(default_factory=dict)
    told: tuple[str, ...] = ()


def answer(played: Round, test: Test, time: int) -> Answer:
    """Return what the car shows at `test`; `time` counts how often it was done before."""
    shown = played.car.answer(test.id, time)
    if shown.outcome is not None:
        return Answer(shown.outcome)
    try:
        found = verdict(played.walk, test, read(played.walk, test, shown.readings), {})
    except (UnknownFact, MissingName, AnswerError):
        return Answer(_drawn(played, test, time), told=(COMPARED,))
    judged = found.judged
    chances = dict(judged.chances) if judged.close else {}
    return Answer(judged.outcome, dict(shown.readings), chances, verdict_lines(test, found))


def _drawn(played: Round, test: Test, time: int) -> str:
    """Return the outcome by the catalogue's per cents: the car's own draw, as if the test had no number."""
    car = played.car
    plain = replace(car.catalogue, tests={**car.catalogue.tests, test.id: replace(test, reads=())})
    outcome = replace(car, catalogue=plain).answer(test.id, time).outcome
    assert outcome is not None
    return outcome
