"""A round's account: paid and expected, regrets, the dearest decision, and how well stated chances came true."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from diagtree.quiz.choices import Kind
from diagtree.quiz.events import Event
from diagtree.quiz.hint import best_act
from diagtree.quiz.round import Round
from diagtree.quiz.score import RIGHT, Decision, judged
from diagtree.quiz.state import STOPPED, UNSAFE, Statement, fold, start
from diagtree.reason.calibration import Parts, log_loss, two_class
from diagtree.reason.next_words import act_words
from diagtree.reason.plan_state import never
from diagtree.records import dataclass


@dataclass(frozen=True, slots=True)
class Dearest:
    """The decision that lost most, and what would have been better, with the reason.

    proven : it lost for certain. Otherwise it did by the best figures found, and no other is proven to have lost.
    told : what a hint, or the guide where the tree ends, had said there, where that is another act than what is better
        by now; None else.
    """

    decision: Decision
    better: str
    proven: bool = True
    told: str | None = None


@dataclass(frozen=True, slots=True)
class Result:
    """The account of a round, as far as it went. Money of the house, minutes in the bay.

    expected, expected_at_least : what the best strategy costs on average from the start, and its proven lower limit.
    regret : the sum over the decisions; at_least, at_most : its proven limits. by_the_tree, by_hints : the parts of it
        that acts of a guided tree and acts that a hint had told lost, which is no fault of who followed them (what the
        hints themselves cost is not among it). by_caution : what looking for dangers lost: the sums leave danger out,
        so it is no fault either. asking : what the hints themselves cost. own : the rest.
    regret_minutes : bay minutes beyond those of the best strategy; tree_minutes, hint_minutes, caution_minutes,
        asking_minutes, own_minutes : of the same parts.
    luck : what was paid beyond expectation: paid - expected - regret. Below 0: the car was a kind one. None where the
        round was cut short or still runs: what the rest would have cost is not known.
    points : 100 * expected / (expected + own + asking); 0 where an unsafe act ended the round; None where it was
        stopped or still runs.
    """

    ended: str | None
    money: float
    minutes: float
    expected: float
    expected_at_least: float
    expected_minutes: float
    regret: float
    at_least: float
    at_most: float
    regret_minutes: float
    by_the_tree: float
    tree_minutes: float
    by_hints: float
    hint_minutes: float
    by_caution: float
    caution_minutes: float
    asking: float
    asking_minutes: float
    points: float | None
    decisions: tuple[Decision, ...]
    dearest: Dearest | None
    statements: tuple[Statement, ...]
    unsafe: int
    refused: int
    hints: int

    @property
    def own(self) -> float:
        """What the trainee's own decisions at the car lost. [money]"""
        return self.regret - self.by_the_tree - self.by_hints - self.by_caution - self.asking

    @property
    def own_minutes(self) -> float:
        """What the trainee's own decisions at the car lost. [min]"""
        told = self.tree_minutes + self.hint_minutes + self.caution_minutes
        return self.regret_minutes - told - self.asking_minutes

    @property
    def luck(self) -> float | None:
        """What chance made of it; no merit and no fault of the trainee's."""
        if self.ended in (None, STOPPED, UNSAFE):
            return None
        return self.money - self.expected - self.regret


@dataclass(frozen=True, slots=True)
class Sureness:
    """How well stated chances came true, over any number of rounds.

    two_class : the Brier score of each named cause, right or wrong, in its parts. [-]
    log_loss : mean of -ln(chance stated for what came true); infinite where a certainty was wrong. [-]
    evidence : the Brier score that saying what the evidence said would have had. [-]
    """

    count: int
    two_class: Parts
    log_loss: float
    evidence: float


def account(
    played: Round, events: Sequence[Event], allow: Callable[[], Callable[[], bool]] = lambda: never, *,
    known: Sequence[Decision] | None = None,
) -> Result:
    """Return the account of a round after `events`.

    allow : called for every search that is wanted; returns its `out_of_time`.
    known : the decisions' scores where they were told one by one already (`score.decision`); else they are found here.
    """
    best = played.solver.solve(start(played).case, allow())
    if known is None:
        state, found = judged(played, tuple(events), allow)
    else:
        state, found = fold(played, events), tuple(known)
    tree, hints = [one for one in found if one.as_the_tree_says], [one for one in found if one.as_hinted]
    looks, asked = [one for one in found if one.for_danger], [one for one in found if one.choice.kind is Kind.HINT]
    own = [one for one in found if one.own and one.choice.kind is not Kind.HINT]
    return Result(
        state.ended, state.money, state.minutes, best.expected_cost, best.lower_bound, best.expected_minutes,
        _lost(found), sum(one.at_least for one in found), sum(one.at_most for one in found), _longer(found),
        _lost(tree), _longer(tree), _lost(hints), _longer(hints), _lost(looks), _longer(looks),
        _lost(asked), _longer(asked), points(state.ended, best.expected_cost, _lost(own) + _lost(asked)), found,
        _dearest(played, events, own, allow),
        state.statements, state.unsafe, state.refused, state.hints,
    )  # fmt: skip


def _lost(decisions: Sequence[Decision]) -> float:
    return sum(one.regret for one in decisions)


def _longer(decisions: Sequence[Decision]) -> float:
    return sum(one.regret_minutes for one in decisions)


def points(ended: str | None, expected: float, regret: float) -> float | None:
    """Return a round's points, 0 to 100; None where there are none. regret : of one's own decisions and hints."""
    if ended is None or ended == STOPPED:
        return None
    if ended == UNSAFE:
        return 0.0
    whole = expected + regret
    return 100.0 * expected / whole if whole > 0 else 100.0


def sureness(statements: Sequence[Statement]) -> Sureness | None:
    """Return how well the statements of one or many rounds came true; None where there are none."""
    if not statements:
        return None
    stated, came = [one.stated for one in statements], [one.came_true for one in statements]
    both = [{"right": chance, "wrong": 1.0 - chance} for chance in stated]
    true = ["right" if one else "wrong" for one in came]
    evidence = two_class([one.evidence for one in statements], came).score
    return Sureness(len(statements), two_class(stated, came), log_loss(both, true), evidence)


def _dearest(
    played: Round, events: Sequence[Event], own: Sequence[Decision], allow: Callable[[], Callable[[], bool]]
) -> Dearest | None:
    if not own:
        return None
    worst = max(own, key=lambda one: (not one.right, one.regret if one.right else one.at_least))
    if worst.regret <= RIGHT:
        return None
    before = fold(played, events[: worst.place])
    better = best_act(played, before, allow())
    word = before.word
    told = act_words(word.act) if word is not None and word.act != better.act else None
    return Dearest(worst, better.words, not worst.right, told)
