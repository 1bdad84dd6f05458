"""What the answers say about the causes (docs/meaning.md, "Evidence").

Source: Bayes' rule. The mistake term is ours: a given share of results is drawn at random over the outcomes.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import field
from math import exp, inf, log

from diagtree.knowledge.words import NOT_DONE, SOMETHING_ELSE, Catalogue, Cause, Test, Tree
from diagtree.reason.problem import chance_of, planned_tests, stated_chance
from diagtree.records import dataclass

REACHED = 0.02275  # chance of an outcome just within the expanded uncertainty of a reading (two standard deviations)


@dataclass(frozen=True, slots=True)
class Answered:
    """One answer to a test.

    outcome : that of the reading itself, or `not-done`.
    chances : for a close reading, each outcome's chance, summing to 1; empty where the outcome is certain.
    takes_back : whether earlier answers to the same test are taken back as mistakes.
    """

    test: str
    outcome: str
    chances: Mapping[str, float] = field(default_factory=dict)
    takes_back: bool = False

    @property
    def weighed(self) -> Mapping[str, float]:
        """Each outcome that counts, with its chance."""
        return self.chances or {self.outcome: 1.0}


@dataclass(frozen=True, slots=True)
class Belief:
    """Each cause's chance after the answers, in the order of the shares; they sum to 1. [-]

    conflict : tests whose answers no listed cause allows together; () where some cause allows them all.
    impossible : no cause that is left can have given these answers; then every chance is 0.
    exhausted : every listed cause that has a share was struck out; at most something-else is left.
    """

    chances: Mapping[str, float]
    conflict: tuple[str, ...] = ()
    impossible: bool = False
    exhausted: bool = False

    @property
    def alive(self) -> tuple[str, ...]:
        """The causes with a chance above 0."""
        return tuple(cause for cause, chance in self.chances.items() if chance > 0)

    def ranked(self) -> tuple[tuple[str, float], ...]:
        """Return the causes with their chances, likeliest first, equal ones by id."""
        return tuple(sorted(self.chances.items(), key=lambda item: (-item[1], item[0])))


@dataclass(frozen=True, slots=True)
class Telling:
    """What a test would tell now.

    outcomes : each outcome's chance. [-]
    posterior : each outcome's chances of the causes after it (absent for an outcome that cannot come).
    groups : causes alive that this test cannot tell apart stand together; one group only: it parts nothing.
    """

    test: str
    outcomes: Mapping[str, float]
    posterior: Mapping[str, Mapping[str, float]]
    groups: tuple[tuple[str, ...], ...]

    @property
    def parts(self) -> bool:
        """Whether any outcome would change what is believed."""
        return len(self.groups) > 1


def counted(answered: Sequence[Answered], catalogue: Catalogue) -> tuple[Answered, ...]:
    """Return the answers that count, one a test, in the order in which the tests were first answered.

    `not-done` never counts. A test answered again counts once: the later answer if it takes the earlier back as a
    mistake, else the one that is not healthy; of two that are not healthy, the later.
    """
    kept: dict[str, Answered] = {}
    for answer in answered:
        earlier = kept.get(answer.test)
        if answer.outcome == NOT_DONE:
            if answer.takes_back:
                kept.pop(answer.test, None)
        elif earlier is None or answer.takes_back or answer.outcome != catalogue.tests[answer.test].healthy:
            kept[answer.test] = answer
    return tuple(kept.values())


def bearing(tree: Tree, answered: Sequence[Answered], catalogue: Catalogue) -> tuple[Answered, ...]:
    """Return the answers that are evidence in `tree`: to tests of its steps, or that some cause on its list shows.

    The others (asked in a tree that handed over, or done anyway) stay on the record. Here nobody has said what they
    would be: counted, they would part nothing but something-else from the list, for which each outcome is 1 / k.
    """
    bear = frozenset(planned_tests(tree, catalogue))
    return tuple(answer for answer in answered if answer.test in bear)


def answer_chance(test: Test, cause: Cause | None, answer: Answered) -> float:
    """Return P(answer | cause), over a close reading's outcomes by their chances; `cause` None: something-else."""
    return sum(chance * chance_of(test, cause, outcome) for outcome, chance in answer.weighed.items())


def allowed(cause: Cause, answered: Sequence[Answered], catalogue: Catalogue) -> bool:
    """Return whether `cause` allows all these answers: a stated per cent above 0 for each, mistakes left out."""
    return all(_allows(cause, answer, catalogue.tests[answer.test]) for answer in counted(answered, catalogue))


def _allows(cause: Cause, answer: Answered, test: Test) -> bool:
    # A close reading is allowed if any outcome within its uncertainty is.
    return any(
        stated_chance(test, cause, outcome) > 0
        for outcome, chance in answer.weighed.items() if chance >= REACHED or outcome == answer.outcome
    )


def posterior(
    shares: Mapping[str, float], answered: Sequence[Answered], catalogue: Catalogue, *, struck: Iterable[str] = ()
) -> Belief:
    """Return each cause's chance: in proportion to its share times the product of P(answer | cause).

    shares : weights of the causes, any scale. struck : causes whose correction did not bring the car back.
    Cost: causes x answered tests.
    """
    counting = counted(answered, catalogue)
    gone = frozenset(struck)
    # Logarithms: a hundred answers of 1 % each would underflow as a plain product.
    logs = {
        cause: _log_weight(share, _cause(cause, catalogue), counting, catalogue) if cause not in gone else -inf
        for cause, share in shares.items()
    }
    listed = [catalogue.causes[cause] for cause in shares if cause != SOMETHING_ELSE and cause not in gone]
    conflict = _conflict(listed, counting, catalogue)
    exhausted = bool(gone) and all(
        cause in gone for cause, share in shares.items() if share > 0 and cause != SOMETHING_ELSE
    )
    top = max(logs.values(), default=-inf)
    if top == -inf:
        return Belief(dict.fromkeys(shares, 0.0), conflict, impossible=True, exhausted=exhausted)
    weights = {cause: exp(value - top) for cause, value in logs.items()}
    total = sum(weights.values())
    return Belief({cause: weight / total for cause, weight in weights.items()}, conflict, exhausted=exhausted)


def _log_weight(share: float, cause: Cause | None, answers: Sequence[Answered], catalogue: Catalogue) -> float:
    total = log(share) if share > 0 else -inf
    for answer in answers:
        chance = answer_chance(catalogue.tests[answer.test], cause, answer)
        total += log(chance) if chance > 0 else -inf
    return total


def _conflict(listed: Sequence[Cause], answers: Sequence[Answered], catalogue: Catalogue) -> tuple[str, ...]:
    """Return the tests at fault where no listed cause allows all answers.

    Left out are answers that contradict nobody: those which every cause allows.
    """
    if not answers or not listed:
        return ()
    if any(all(_allows(cause, a, catalogue.tests[a.test]) for a in answers) for cause in listed):
        return ()
    return tuple(
        answer.test for answer in answers
        if not all(_allows(cause, answer, catalogue.tests[answer.test]) for cause in listed)
    )


def telling(belief: Mapping[str, float], test: Test, catalogue: Catalogue) -> Telling:
    """Return what `test` would tell a technician who believes `belief` (chances or weights of the causes)."""
    total = sum(belief.values()) or 1.0
    alive = {cause: weight / total for cause, weight in belief.items() if weight > 0}
    columns = {
        cause: tuple(chance_of(test, _cause(cause, catalogue), outcome) for outcome in test.outcome_ids())
        for cause in alive
    }
    outcomes: dict[str, float] = {}
    after: dict[str, dict[str, float]] = {}
    for index, outcome in enumerate(test.outcome_ids()):
        joint = {cause: chance * columns[cause][index] for cause, chance in alive.items()}
        outcomes[outcome] = sum(joint.values())
        if outcomes[outcome] > 0:
            after[outcome] = {cause: joint.get(cause, 0.0) / outcomes[outcome] for cause in belief}
    groups: dict[tuple[float, ...], list[str]] = {}
    for cause, column in columns.items():
        groups.setdefault(tuple(round(chance, 12) for chance in column), []).append(cause)
    return Telling(test.id, outcomes, after, tuple(tuple(group) for group in groups.values()))


def can_part(belief: Mapping[str, float], test: Test, catalogue: Catalogue) -> bool:
    """Return whether `test` can tell any two of the causes apart that `belief` holds possible: `telling(...).parts`."""
    outcomes = test.outcome_ids()
    first: tuple[float, ...] | None = None
    for cause_id, weight in belief.items():
        if weight > 0:
            cause = _cause(cause_id, catalogue)
            column = tuple([round(chance_of(test, cause, outcome), 12) for outcome in outcomes])
            if first is not None and column != first:
                return True
            first = column
    return False


def _cause(cause_id: str, catalogue: Catalogue) -> Cause | None:
    return None if cause_id == SOMETHING_ELSE else catalogue.causes[cause_id]
