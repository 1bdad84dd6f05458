"""The best strategy and the price of a tree by explicit states in fractions: slow and obvious.

Written from the meaning of the format (docs/meaning.md) alone. It reads the document and imports nothing of the
package, so that a mistake there cannot be shared here.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

LIVE_CLOSED: tuple[bool, frozenset[str]] = (False, frozenset())
"""An arrangement: (dead?, what is open). A case begins live with nothing open."""

ORDER = {"test": 0, "correct": 1, "advise": 2, "refer": 3}


class Garage:
    """The arrangement rules, told one by one. Every method returns (new arrangement, minutes)."""

    def __init__(self, document: Mapping[str, Any]) -> None:
        self.access = document.get("access", {})
        self.procedures = document.get("procedures", {})

    def with_below(self, wanted: Any) -> frozenset[str]:
        """Return those accesses and all they are after, transitively."""
        found = set(wanted)
        while True:
            more = {below for key in found for below in self.access[key].get("after", ())} - found
            if not more:
                return frozenset(found)
            found |= more

    def dead_only(self, key: str) -> bool:
        return bool(self.access[key].get("power") == "dead")

    def open_up(self, now: Any, wanted: frozenset[str]) -> Any:
        dead, opened = now
        missing = wanted - opened
        return (dead, opened | missing), sum(Fraction(self.access[key]["open"]) for key in missing)

    def close_down(self, now: Any, closing: frozenset[str]) -> Any:
        dead, opened = now
        # Before each is closed, whatever open access is after it.
        closing = frozenset(key for key in opened if self.with_below([key]) & closing)
        return (dead, opened - closing), sum(Fraction(self.access[key]["close"]) for key in closing)

    def make_safe(self, now: Any) -> Any:
        if now[0]:
            return now, Fraction(0)
        procedure = self.procedures.get("make-safe", {"minutes": 0})
        now, minutes = self.open_up(now, self.with_below(procedure.get("needs", {}).get("open", ())))
        return (True, now[1]), minutes + Fraction(procedure["minutes"])

    def re_energise(self, now: Any) -> Any:
        if not now[0]:
            return now, Fraction(0)
        return (False, now[1]), Fraction(self.procedures.get("re-energise", {"minutes": 0})["minutes"])

    def bring(self, now: Any, power: str, wanted: frozenset[str]) -> Any:
        """Bring the arrangement to what a job needs. `power`: live, dead, any or road."""
        total = Fraction(0)
        if power in ("live", "road"):
            shut = frozenset(
                key for key in now[1]
                if power == "road" or self.dead_only(key) or self.access[key].get("refit-before-live")
            )
            now, minutes = self.close_down(now, shut)
            total += minutes
            now, minutes = self.re_energise(now)
            total += minutes
        elif power == "dead" or any(self.dead_only(key) for key in wanted - now[1]):
            now, minutes = self.make_safe(now)
            total += minutes
        now, minutes = self.open_up(now, wanted)
        return now, total + minutes

    def end(self, now: Any) -> Fraction:
        """Return the minutes of the end of a case."""
        _, minutes = self.bring(now, "road", frozenset())
        return Fraction(minutes) + Fraction(self.procedures.get("hand-back", {"minutes": 0})["minutes"])


@dataclass
class Tally:
    """Expected amounts over the weights that come along here (not normalised)."""

    cost: Fraction = Fraction(0)
    minutes: Fraction = Fraction(0)
    wrong_part: dict[str, Fraction] = field(default_factory=dict)
    comeback: Fraction = Fraction(0)
    right_first: Fraction = Fraction(0)

    def add(self, other: Tally) -> Tally:
        wrong = self.wrong_part
        if other.wrong_part:
            wrong = dict(wrong)
            for cause, amount in other.wrong_part.items():
                wrong[cause] = wrong.get(cause, Fraction(0)) + amount
        return Tally(
            self.cost + other.cost, self.minutes + other.minutes, wrong, self.comeback + other.comeback,
            self.right_first + other.right_first,
        )


class Expectimax:
    """Every state is (answers, struck causes, arrangement); every act is tried in every state."""

    def __init__(self, document: Mapping[str, Any], without: frozenset[str] = frozenset()) -> None:
        self.document = document
        self.garage = Garage(document)
        self.shares = {cause: Fraction(share) for cause, share in document["tree"]["causes"].items()}
        self.causes = document["causes"]
        self.rate = Fraction(document["house"]["rate"])
        used = {step.get("test", key) for key, step in document["tree"]["steps"].items()}
        for cause in self.shares:
            if cause != "something-else":
                used |= set(self.causes[cause].get("shows", {}))
        self.tests = sorted(used - without)
        self.weighed: dict[Any, dict[str, Fraction]] = {}
        self.totals: dict[Any, Fraction] = {}
        self.tied = False  # whether any state met has two acts that are equally good
        self.memo: dict[Any, tuple[Tally, tuple[str, str | None] | None]] = {}

    # -- chances and money

    def chance(self, test_id: str, cause: str, outcome: str) -> Fraction:
        test = self.document["tests"][test_id]
        k = len(test["outcomes"])
        if cause == "something-else":
            return Fraction(1, k)
        m = Fraction(test.get("mistake", 0)) / 100
        shows = self.causes[cause].get("shows", {})
        if test_id in shows:
            stated = Fraction(shows[test_id].get(outcome, 0)) / 100
        else:
            stated = Fraction(1 if outcome == test["healthy"] else 0)
        return (1 - m) * stated + m / k

    def weights(self, answers: Mapping[str, str], struck: frozenset[str]) -> dict[str, Fraction]:
        key = (tuple(sorted(answers.items())), struck)
        if key not in self.weighed:
            found = {}
            for cause, share in self.shares.items():
                weight = Fraction(0) if cause in struck else share
                for test_id, outcome in answers.items():
                    weight *= self.chance(test_id, cause, outcome)
                found[cause] = weight
            self.weighed[key] = found
        return self.weighed[key]

    def total(self, answers: Mapping[str, str], struck: frozenset[str]) -> Fraction:
        key = (tuple(sorted(answers.items())), struck)
        if key not in self.totals:
            self.totals[key] = Fraction(sum(self.weights(answers, struck).values()))
        return self.totals[key]

    def labour(self, minutes: Fraction) -> Fraction:
        return minutes / 60 * self.rate

    @staticmethod
    def bound(said: Mapping[str, Any]) -> Fraction:
        return Fraction(said.get("attended", said["minutes"]))

    def work(self, weight: Fraction, moved: Fraction, said: Mapping[str, Any], money: Fraction = Fraction(0)) -> Tally:
        """Return what one job with its arrangement takes, for all the cars that come along."""
        cost = self.labour(moved + self.bound(said)) + money
        return Tally(weight * cost, weight * (moved + Fraction(said["minutes"])))

    def end(self, weight: Fraction, now: Any) -> Tally:
        minutes = self.garage.end(now)
        return Tally(weight * self.labour(minutes), weight * minutes)

    def needs_of_test(self, test_id: str) -> tuple[str, frozenset[str]]:
        test = self.document["tests"][test_id]
        if test["place"] == "road":
            return "road", frozenset()
        needs = test.get("needs", {"power": "any"})
        return needs["power"], self.garage.with_below(needs.get("open", ()))

    # -- single acts; each returns the tally of the act and all that follows

    def do_test(self, test_id: str, answers: Mapping[str, str], struck: frozenset[str], now: Any) -> Tally:
        total = self.total(answers, struck)
        then, moved = self.garage.bring(now, *self.needs_of_test(test_id))
        tally = self.work(total, moved, self.document["tests"][test_id])
        for outcome in self.document["tests"][test_id]["outcomes"]:
            tally = tally.add(self.best({**answers, test_id: outcome}, struck, then)[0])
        return tally

    def do_correct(self, cause: str, answers: Mapping[str, str], struck: frozenset[str], now: Any) -> Tally:
        weights = self.weights(answers, struck)
        total = self.total(answers, struck)
        correction, proof = self.causes[cause]["correction"], self.causes[cause]["proof"]
        needs = correction["needs"]
        now, moved = self.garage.bring(now, needs["power"], self.garage.with_below(needs.get("open", ())))
        price = Fraction(sum(Fraction(part["price"]) for part in correction.get("parts", ())))
        tally = self.work(total, moved, correction, price)
        now, moved = self.garage.bring(now, "live", frozenset())
        tally = tally.add(self.work(total, moved, proof))
        right = weights.get(cause, Fraction(0)) if cause not in struck else Fraction(0)
        tally = tally.add(Tally(wrong_part={cause: total - right}, right_first=Fraction(0) if struck else right))
        return tally.add(self.end(right, now)).add(self.best(answers, struck | {cause}, now)[0])

    def do_advise(self, cause: str, answers: Mapping[str, str], struck: frozenset[str], now: Any) -> Tally:
        weights = self.weights(answers, struck)
        total = self.total(answers, struck)
        wrong = total - weights.get(cause, Fraction(0))
        comeback = Fraction(self.document["house"].get("comeback") or 0)
        tally = self.end(total, now).add(self.work(total, Fraction(0), self.causes[cause]["advise"]))
        right = Fraction(0) if struck else total - wrong
        return tally.add(Tally(wrong * comeback, comeback=wrong, right_first=right))

    def do_refer(self, answers: Mapping[str, str], struck: frozenset[str], now: Any) -> Tally:
        total = self.total(answers, struck)
        return self.end(total, now).add(Tally(total * Fraction(self.document["house"]["referral"])))

    # -- the best strategy

    def acts(self, answers: Mapping[str, str], struck: frozenset[str], now: Any) -> Iterator[tuple[str, str | None]]:
        yield from (("test", test_id) for test_id in self.tests if test_id not in answers)
        listed = sorted(cause for cause in self.shares if cause != "something-else")
        yield from (("correct", c) for c in listed if c not in struck and "correction" in self.causes[c])
        yield from (("advise", c) for c in listed if "advise" in self.causes[c])
        if self.document["house"].get("referral") is not None:
            yield "refer", None

    def value(self, act: tuple[str, str | None], answers: Mapping[str, str], struck: frozenset[str], now: Any) -> Tally:
        kind, key = act
        if kind == "refer":
            return self.do_refer(answers, struck, now)
        assert key is not None
        return {"test": self.do_test, "correct": self.do_correct, "advise": self.do_advise}[kind](
            key, answers, struck, now
        )

    def best(
        self, answers: Mapping[str, str], struck: frozenset[str] = frozenset(), now: Any = LIVE_CLOSED
    ) -> tuple[Tally, tuple[str, str | None] | None]:
        """Return what is to be expected under the best strategy, and its first act (None where no car comes along)."""
        key = (tuple(sorted(answers.items())), struck, now)
        if key not in self.memo:
            if not self.total(answers, struck):
                self.memo[key] = Tally(), None
            else:
                options = [(self.value(act, answers, struck, now), act) for act in self.acts(answers, struck, now)]
                self.memo[key] = min(options, key=lambda o: (o[0].cost, ORDER[o[1][0]], o[1][1] or ""))
                self.tied |= sum(option[0].cost == self.memo[key][0].cost for option in options) > 1
        return self.memo[key]


class ListedPaths:
    """The price of a tree: every path of answers is walked by itself, nothing is merged."""

    def __init__(self, document: Mapping[str, Any]) -> None:
        self.document = document
        self.steps = document["tree"]["steps"]
        self.start = Expectimax(document)
        self.steps_reached: dict[str, Fraction] = {}
        self.steps_cost: dict[str, Fraction] = {}
        self.steps_regret: dict[str, Fraction] = {}

    def walk(self, step_id: str, answers: Mapping[str, str], now: Any) -> Tally:
        weight = self.start.total(answers, frozenset())
        if not weight:
            return Tally()
        test_id = self.steps[step_id].get("test", step_id)
        if test_id in answers:
            raise ValueError(f"{test_id} comes twice")
        then, moved = self.start.garage.bring(now, *self.start.needs_of_test(test_id))
        tally = self.start.work(weight, moved, self.document["tests"][test_id])
        for outcome in self.document["tests"][test_id]["outcomes"]:
            target = self.steps[step_id]["then"][outcome]
            after = {**answers, test_id: outcome}
            ended = self.walk(target, after, then) if isinstance(target, str) else self.ending(target, after, then)
            tally = tally.add(ended)
        best = self.start.best(answers, frozenset(), now)[0].cost
        regret = self.start.do_test(test_id, answers, frozenset(), now).cost - best
        for table, amount in (
            (self.steps_reached, weight), (self.steps_cost, tally.cost), (self.steps_regret, regret)
        ):
            table[step_id] = table.get(step_id, Fraction(0)) + amount
        return tally

    def ending(self, target: Mapping[str, str], answers: Mapping[str, str], now: Any) -> Tally:
        """Tests answered on the path are used: the best strategy from here never offers them again."""
        if not self.start.total(answers, frozenset()):
            return Tally()
        (kind, name), = target.items()
        if kind == "conclude" and "advise" in self.document["causes"][name]:
            return self.start.do_advise(name, answers, frozenset(), now)
        if kind == "conclude":
            return self.start.do_correct(name, answers, frozenset(), now)
        if kind == "refer" and self.document["house"].get("referral") is not None:
            return self.start.do_refer(answers, frozenset(), now)
        return self.start.best(answers, frozenset(), now)[0]

    def price(self) -> dict[str, Any]:
        """Return the figures of a price per car."""
        tally = self.walk(self.document["tree"]["start"], {}, LIVE_CLOSED)
        total = sum(self.start.shares.values())
        return {
            "expected_cost": tally.cost / total,
            "expected_minutes": tally.minutes / total,
            "best_cost": self.start.best({})[0].cost / total,
            "wrong_part": {cause: amount / total for cause, amount in tally.wrong_part.items()},
            "comeback": tally.comeback / total,
            "right_first": tally.right_first / total,
            "steps": {
                step: {
                    "reached": reached / total,
                    "cost": self.steps_cost[step] / reached,
                    "regret": self.steps_regret[step] / reached,
                }
                for step, reached in self.steps_reached.items()
            },
        }
