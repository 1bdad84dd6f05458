"""Cars thrown one by one and walked along a tree: their mean cost nears the price that is computed in one sum.

The walker knows nothing of chances of states: it has one cause, throws each outcome, and pays as it goes.
"""

from __future__ import annotations

from math import sqrt
from random import Random
from statistics import fmean, stdev
from typing import Any

import pytest

from diagtree.reason.price import price
from tests.documents import words
from tests.oracles.expectimax import Expectimax
from tests.reason.test_next_act import workshop

CARS = 6000
ERRORS = 4  # standard errors; the dice are fixed, so the test falls the same way every time


class Walker:
    """Walks single cars of one document, and pays what each costs."""

    def __init__(self, document: Any) -> None:
        self.document = document
        self.twin = Expectimax(document)
        self.tree = document["tree"]

    def pay(self, minutes: Any) -> float:
        return float(self.twin.labour(minutes))

    def cost(self, cause: str, dice: Random) -> float:
        now: Any = (False, frozenset())
        answers: dict[str, str] = {}
        spent, target = 0.0, self.tree["start"]
        while isinstance(target, str):
            step = self.tree["steps"][target]
            test = step.get("test", target)
            now, moved = self.twin.garage.bring(now, *self.twin.needs_of_test(test))
            spent += self.pay(moved + self.twin.bound(self.document["tests"][test]))
            outcomes = self.document["tests"][test]["outcomes"]
            chances = [float(self.twin.chance(test, cause, outcome)) for outcome in outcomes]
            answers[test] = dice.choices(outcomes, chances)[0]
            target = step["then"][answers[test]]
        if "refer" in target:
            act: tuple[str, str | None] | None = ("refer", None)
        else:
            corrected = "correction" in self.document["causes"][target["conclude"]]
            act = ("correct" if corrected else "advise", target["conclude"])
        return spent + self.end(cause, answers, now, act, dice)

    def end(self, cause: str, answers: dict[str, str], now: Any, act: Any, dice: Random) -> float:
        """Do `act`; where it is in vain, what is best then, until the case is over."""
        spent, struck, house = 0.0, frozenset[str](), self.document["house"]
        while True:
            kind, about = act
            if kind == "refer":
                return spent + self.pay(self.twin.garage.end(now)) + float(house["referral"])
            said = self.document["causes"].get(about)
            if kind == "advise":
                spent += self.pay(self.twin.garage.end(now) + self.twin.bound(said["advise"]))
                return spent + (0.0 if about == cause else float(house["comeback"]))
            if kind == "test":
                now, moved = self.twin.garage.bring(now, *self.twin.needs_of_test(about))
                spent += self.pay(moved + self.twin.bound(self.document["tests"][about]))
                outcomes = self.document["tests"][about]["outcomes"]
                chances = [float(self.twin.chance(about, cause, outcome)) for outcome in outcomes]
                answers = answers | {about: dice.choices(outcomes, chances)[0]}
            else:
                work = said["correction"]
                wanted = self.twin.garage.with_below(work["needs"].get("open", ()))
                now, moved = self.twin.garage.bring(now, work["needs"]["power"], wanted)
                spent += self.pay(moved + self.twin.bound(work))
                spent += sum(part["price"] for part in work.get("parts", ()))
                now, moved = self.twin.garage.bring(now, "live", frozenset())
                spent += self.pay(moved + self.twin.bound(said["proof"]))
                if about == cause:
                    return float(spent + self.pay(self.twin.garage.end(now)))
                struck |= {about}
            act = self.twin.best(answers, struck, now)[1]


def doubtful(**house: Any) -> Any:
    """Return the two causes of `workshop`, tests that err, advice that may be wrong, and something else."""
    document = workshop(referral=900, comeback=1100, **house)
    document["tests"]["ohms"]["mistake"] = 20
    document["tests"]["looks"] |= {"mistake": 30, "minutes": 3, "attended": 2}
    document["causes"]["sensor"]["shows"]["looks"] = {"bad": 70, "fine": 30}
    document["causes"]["point"] = {
        "name": "point", "where": "outside", "shows": {"ohms": {"fine": 60, "bad": 40}},
        "advise": {"do": "Have it checked.", "minutes": 12},
    }
    tree = document["tree"]
    tree["causes"] = {"harness": 35, "sensor": 30, "point": 25, "something-else": 10}
    tree["start"] = "looks"
    tree["steps"] = {
        "looks": {"then": {"fine": "ohms", "bad": {"conclude": "sensor"}}},
        "ohms": {"then": {"fine": {"conclude": "point"}, "bad": {"conclude": "harness"}}},
    }
    return document


@pytest.mark.parametrize("mistake", [0, 20, 60])
def test_the_mean_cost_of_thrown_cars_nears_the_price(mistake: int) -> None:
    document = doubtful()
    document["tests"]["ohms"]["mistake"] = mistake
    known, walker, dice = words(document), Walker(document), Random(mistake)
    computed = price(known.tree, known.catalogue, known.house).expected_cost
    shares = document["tree"]["causes"]
    spent = [walker.cost(cause, dice) for cause in dice.choices(list(shares), list(shares.values()), k=CARS)]
    for cars in (CARS // 16, CARS):
        error = stdev(spent[:cars]) / sqrt(cars)
        assert abs(fmean(spent[:cars]) - computed) <= ERRORS * error
    assert stdev(spent) / sqrt(CARS) <= 0.02 * computed  # near enough that a mistake of some per cent would show
