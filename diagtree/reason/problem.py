"""A complaint on one car as bare numbers: what price, plan and next act compute on (docs/meaning.md)."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import field

from diagtree.errors import WrongUse
from diagtree.knowledge.house import House
from diagtree.knowledge.words import SOMETHING_ELSE, Catalogue, Cause, Test, Tree
from diagtree.reason.arrangement import LIVE, Arrangement, Layout, Need, minutes_of
from diagtree.records import dataclass


@dataclass(frozen=True, slots=True)
class ProblemTest:
    """A test: `chance[o][c]` is P(outcome o | cause c), mistakes included (docs/meaning.md, "Evidence")."""

    id: str
    outcomes: tuple[str, ...]
    chance: tuple[tuple[float, ...], ...]
    minutes: float
    labour: float
    need: Need


@dataclass(frozen=True, slots=True)
class ProblemCorrection:
    """The correction of cause number `cause` and its proof. Minutes in the bay, labour minutes, price of the parts."""

    cause: int
    minutes: float
    labour: float
    price: float
    need: Need
    proof_minutes: float
    proof_labour: float


@dataclass(frozen=True, slots=True)
class ProblemAdvice:
    """The advice for cause number `cause`."""

    cause: int
    minutes: float
    labour: float


@dataclass(frozen=True)
class Problem:
    """Causes with their weights (shares as written, never normalised), and the acts.

    `corrections` and `advices` are in the order of `causes`; `something-else`, if listed, has neither.
    """

    causes: tuple[str, ...]
    weights: tuple[float, ...]
    tests: tuple[ProblemTest, ...]
    corrections: tuple[ProblemCorrection, ...]
    advices: tuple[ProblemAdvice, ...]
    house: House
    layout: Layout
    _moves: dict[tuple[Arrangement, Need], tuple[Arrangement, float]] = field(default_factory=dict, repr=False)

    def moved(self, now: Arrangement, need: Need) -> tuple[Arrangement, float]:
        """Return the arrangement that a job with this `need` is done in, and the minutes it takes to get there."""
        key = (now, need)
        if key not in self._moves:
            moves = self.layout.moves(now, need)
            self._moves[key] = (self.layout.after(now, moves), minutes_of(moves))
        return self._moves[key]

    def to_live(self, now: Arrangement) -> tuple[Arrangement, float]:
        """Return the arrangement in which a proof charge runs, and the minutes to get there."""
        return self.moved(now, LIVE)

    def end_minutes(self, now: Arrangement) -> float:
        """Return the minutes of the end of a case from here: all put back, car live, hand-back."""
        return minutes_of(self.layout.end(now)) + self.layout.hand_back_minutes

    def money(self, labour_minutes: float) -> float:
        """Return what `labour_minutes` cost in this house."""
        return labour_minutes / 60 * self.house.rate


def chance_of(test: Test, cause: Cause | None, outcome: str) -> float:
    """Return P(outcome | test, cause); `cause` is None for something-else.

    (1 - m) * stated + m / k, with m the test's mistake as a fraction and k the number of its listed outcomes.
    """
    count = len(test.outcomes)
    if cause is None:
        return 1 / count
    mistake = test.mistake / 100
    return (1 - mistake) * stated_chance(test, cause, outcome) + mistake / count


def stated_chance(test: Test, cause: Cause, outcome: str) -> float:
    """Return the chance the knowledge states for `outcome`, before mistakes: 0 to 1."""
    shown = cause.shows.get(test.id)
    if shown is None:
        return 1.0 if outcome == test.healthy else 0.0
    return shown.get(outcome, 0.0) / 100


def planned_tests(tree: Tree, catalogue: Catalogue) -> tuple[str, ...]:
    """Return the tests a plan may use: those of the tree's steps, and all that some listed cause shows; by id."""
    used = {step.test for step in tree.steps.values()}
    for cause_id in tree.causes:
        if cause_id in catalogue.causes:
            used.update(catalogue.causes[cause_id].shows)
    return tuple(sorted(test_id for test_id in used if test_id in catalogue.tests))


def compile_problem(
    tree: Tree,
    catalogue: Catalogue,
    house: House,
    *,
    weights: Mapping[str, float] | None = None,
    without: Iterable[str] = (),
) -> Problem:
    """Return the numbers of `tree` on the car that `catalogue` was merged for.

    weights : instead of the tree's shares (an overlay, an earlier tree's evidence).
    without : tests that may not be used any more.
    Raises WrongUse where the house lacks a cost that the tree needs.
    """
    causes = tuple(tree.causes)
    shares = tree.causes if weights is None else weights
    known = [None if cause == SOMETHING_ELSE else catalogue.causes[cause] for cause in causes]
    if SOMETHING_ELSE in causes and house.referral is None:
        raise WrongUse(
            f"tree `{tree.id}` lists `something-else`: it needs the cost of a referral; "
            "set `referral:` in workshop.yaml or give --referral"
        )
    if house.comeback is None and any(cause is not None and cause.advise for cause in known):
        raise WrongUse(
            f"tree `{tree.id}` has causes that end in advice: it needs the cost of a comeback; "
            "set `comeback:` in workshop.yaml or give --comeback"
        )
    layout = Layout.of(catalogue)
    gone = set(without)
    tests = tuple(
        _test(catalogue.tests[test_id], known, layout)
        for test_id in planned_tests(tree, catalogue)
        if test_id not in gone
    )
    return Problem(
        causes=causes,
        weights=tuple(float(shares.get(cause, 0.0)) for cause in causes),
        tests=tests,
        corrections=tuple(_corrections(known, layout)),
        advices=tuple(
            ProblemAdvice(index, cause.advise.minutes, cause.advise.labour)
            for index, cause in enumerate(known)
            if cause is not None and cause.advise
        ),
        house=house,
        layout=layout,
    )


def _test(test: Test, causes: list[Cause | None], layout: Layout) -> ProblemTest:
    outcomes = test.outcome_ids()
    chance = tuple(tuple(chance_of(test, cause, outcome) for cause in causes) for outcome in outcomes)
    return ProblemTest(test.id, outcomes, chance, test.minutes, test.labour, layout.need_of(test))


def _corrections(causes: list[Cause | None], layout: Layout) -> Iterable[ProblemCorrection]:
    for index, cause in enumerate(causes):
        if cause is None or cause.correction is None or cause.proof is None:
            continue
        correction, proof = cause.correction, cause.proof
        yield ProblemCorrection(
            index,
            correction.minutes,
            correction.labour,
            correction.price,
            layout.need(correction.needs),
            proof.minutes,
            proof.labour,
        )
