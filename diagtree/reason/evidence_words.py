"""What argues for and against a cause, in numbers and in words a workshop can check against what it has seen."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from math import inf, log

from diagtree.knowledge.words import SOMETHING_ELSE, Catalogue, Test
from diagtree.reason.evidence import Answered, Belief, answer_chance, counted, posterior
from diagtree.records import dataclass

_OFTEN: tuple[tuple[float, str], ...] = (
    (0.01, "one in a hundred"), (0.02, "one in fifty"), (0.05, "one in twenty"), (0.1, "one in ten"),
    (0.2, "one in five"), (0.25, "a quarter of the"), (1 / 3, "a third of the"), (0.4, "two in five"),
    (0.5, "half the"), (0.6, "three in five"), (2 / 3, "two in three"), (0.75, "three in four"),
    (0.8, "four in five"), (0.9, "nine in ten"), (0.95, "nineteen in twenty"), (0.98, "49 in fifty"),
    (0.99, "99 in a hundred"),
)


@dataclass(frozen=True, slots=True)
class Argument:
    """What one answer says about one cause.

    here, elsewhere : P(answer | this cause) and P(answer | one of the others, as likely as they are by all the other
                      answers). [-]
    ratio : here / elsewhere, by which the odds of the cause changed: above 1 it speaks for the cause. [-]
    without : the chance the cause would have without this answer. [-]
    """

    test: str
    outcome: str
    here: float
    elsewhere: float
    ratio: float
    without: float
    words: str


def share_in_words(chance: float) -> str:
    """Return a chance as a count of cars: `half the`, `three in four`, `hardly any`, `practically all`."""
    if chance <= 0:
        return "no"
    if chance < 0.005:
        return "hardly any"
    if chance > 0.995:
        return "all" if chance >= 1 else "practically all"
    return min(_OFTEN, key=lambda named: abs(log(named[0] / (1 - named[0])) - log(chance / (1 - chance))))[1]


def cause_name(cause: str, catalogue: Catalogue) -> str:
    """Return what a cause is called in a sentence."""
    return "a cause that is not listed" if cause == SOMETHING_ELSE else catalogue.causes[cause].name


def doubt_words(belief: Belief) -> str:
    """Return a clear word where the answers cannot be as the knowledge has it, and what to do; "" otherwise."""
    at_fault = f" ({', '.join(belief.conflict)})" if belief.conflict else ""
    if belief.exhausted:
        return (
            "Every listed cause of this tree has been struck out. Check once more what was corrected and how it was "
            "proven; else the cause is none that this tree lists, and the car goes to somebody who knows it better."
        )
    if belief.impossible:
        return (
            f"No cause of this tree can have given these answers together{at_fault}. "
            "Measure again what is easiest to repeat, or take a mistyped answer back; until then every answer counts "
            "with doubt."
        )
    listed = [cause for cause in belief.alive if cause != SOMETHING_ELSE]
    if belief.conflict and listed:
        return f"No listed cause allows these answers together{at_fault}. One may be wrong: measure one again."
    if belief.conflict:
        return (
            f"No listed cause allows these answers together{at_fault}. Measure one again; if it stays, the cause is "
            "none that this tree lists."
        )
    return ""


def arguments(
    cause: str, shares: Mapping[str, float], answered: Sequence[Answered], catalogue: Catalogue,
    *, struck: Iterable[str] = (),
) -> tuple[Argument, ...]:
    """Return what each answer says about `cause`, the strongest first, whichever way it points."""
    counting, gone = counted(answered, catalogue), frozenset(struck)
    found = []
    for index, answer in enumerate(counting):
        others = counting[:index] + counting[index + 1:]
        before = posterior(shares, others, catalogue, struck=gone).chances
        found.append(_argument(cause, before, answer, catalogue))
    return tuple(sorted(found, key=lambda argument: (-_strength(argument.ratio), argument.test)))


def sentence(cause: str, test: Test, answer: Answered, catalogue: Catalogue) -> str:
    """Return how often cars with `cause` give this answer: `half the cars with a hot contact show ...`."""
    chance = answer_chance(test, None if cause == SOMETHING_ELSE else catalogue.causes[cause], answer)
    return f"{share_in_words(chance)} cars with {cause_name(cause, catalogue)} {_does(test, answer, chance)}"


def _argument(cause: str, before: Mapping[str, float], answer: Answered, catalogue: Catalogue) -> Argument:
    test = catalogue.tests[answer.test]
    chances = {
        other: answer_chance(test, None if other == SOMETHING_ELSE else catalogue.causes[other], answer)
        for other in before
    }
    # Summed over the others, not 1 minus this cause: near certainty the difference would be all rounding.
    mass = sum(weight for other, weight in before.items() if other != cause)
    elsewhere = sum(before[other] * chances[other] for other in before if other != cause) / mass if mass > 0 else 0.0
    here = chances[cause]
    ratio = here / elsewhere if elsewhere > 0 else (inf if here > 0 and mass > 0 else 1.0)
    words = sentence(cause, test, answer, catalogue)
    if mass > 0:
        words += f"; {share_in_words(elsewhere)} cars with another cause do"
    return Argument(answer.test, answer.outcome, here, elsewhere, ratio, before[cause], words)


def _does(test: Test, answer: Answered, chance: float) -> str:
    one = share_in_words(chance).startswith("one ")
    if len(answer.chances) > 1:
        return f"{'gives' if one else 'give'} such a reading (close to a limit) in {test.id}"
    # Not "pass" for the healthy outcome: inside a complaint that may well be one that is called `fails`.
    return f"{'shows' if one else 'show'} {answer.outcome} in {test.id}"


def _strength(ratio: float) -> float:
    if ratio in (0.0, inf):
        return inf
    return abs(log(ratio))
