"""The end of a round on a simulated car: paid and expected, luck apart, the dearest decision, how sure."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from diagtree.quiz.choices import Kind
from diagtree.quiz.result import Result
from diagtree.quiz.round import Round
from diagtree.quiz.score import Decision
from diagtree.quiz.state import FIXED, STOPPED, UNSAFE
from diagtree.terminal.face import Block, Look
from diagtree.terminal.views.quiz_car import PERHAPS, advice, cause_name, lost_words, money
from diagtree.terminal.views.quiz_pictures import Pictures

_ENDS = {
    FIXED: "Fixed and proven",
    "advised": "Advised and handed over",
    "referred": "Given to somebody else",
    STOPPED: "Given up",
    UNSAFE: "Over: an unsafe act ends an exam",
}
_ROUNDING = 0.5  # money


def blocks(
    played: Round, result: Result, pictures: Pictures, follower: tuple[float, float] | None
) -> list[Block]:
    """Return the account of a round. follower : money and minutes of one who follows the tree on this very car."""
    return [
        Block(Look.HEADING, f"{_ENDS.get(result.ended or '', 'The round')}: {_points(result)}"),
        Block(Look.ABOUT, f"What was wrong: {cause_name(played, played.dealt.cause)}.{_same_work(result)}"),
        *_sum(played, result),
        *_follower(played, result, follower),
        *_course(played, result, pictures),
        *_dearest(played, result),
        *_certain(played, result),
        *_sure(played, result),
        *_unsafe(result),
    ]


def _sum(played: Round, result: Result) -> Iterator[Block]:
    """Give what was spent as the sum that it is, a part a line."""
    cut = result.luck is None
    yield Block(
        Look.ABOUT,
        f"You spent {money(played, result.money)} and {result.minutes:g} min"
        f"{'. How the rest would have gone is not counted. So far:' if cut else ', which is made up of:'}",
    )
    best = "the best way found, on average over cars with this complaint"
    parts = [] if cut else [(result.expected, f"{best} ({result.expected_minutes:.0f} min)")]
    parts.append((result.own, f"lost by your own decisions{_minutes(result.own_minutes)}"))
    if result.hints:
        count = f"{result.hints} hint{'' if result.hints == 1 else 's'}"
        parts.append((result.asking, f"the price of {count}{_minutes(result.asking_minutes)}: it costs points"))
    for lost, minutes, who, there in (
        (result.by_the_tree, result.tree_minutes, "the tree's steps", played.mode.guide),
        (result.by_hints, result.hint_minutes, "what hints told you to do", result.hints > 0),
        (result.by_caution, result.caution_minutes, "looking for dangers", result.by_caution >= _ROUNDING),
    ):
        if there:
            fault = "" if lost < _ROUNDING else ": not your fault, costs no points"
            parts.append((lost, f"lost by {who}{_minutes(minutes)}{fault}"))
    if result.luck is not None:
        car = "a dearer car than the average" if result.luck > 0 else "a kinder car than the average"
        parts.append((result.luck, f"luck: {car}, no merit and no fault"))
    written = [money(played, round(amount) + 0.0) for amount, _ in parts]
    width = max(map(len, written))
    for amount, (_, words) in zip(written, parts, strict=True):
        yield Block(Look.ABOUT, words, f"  {amount:>{width}}  ")


def _minutes(minutes: float) -> str:
    if abs(minutes) < 1:
        return ""
    return f" (and {minutes:.0f} min)" if minutes > 0 else f" (but {-minutes:.0f} min quicker)"


def _follower(played: Round, result: Result, follower: tuple[float, float] | None) -> Iterator[Block]:
    if follower is None:
        return
    spent, minutes = follower
    same = abs(spent - result.money) < 1 and abs(minutes - result.minutes) < 1
    as_much = "the same" if same else f"{money(played, spent)} and {minutes:g} min"
    yield Block(Look.ABOUT, f"Who follows the tree spends {as_much} on this very car.")


def _course(played: Round, result: Result, pictures: Pictures) -> Iterator[Block]:
    lost = [one.regret for one in result.decisions if one.choice.kind is not Kind.HINT]
    if len(lost) < 2 or result.regret - result.asking < 1:
        return
    course = pictures.course(lost, 0.0, max(lost))
    count, dearest = len(lost), money(played, max(lost))
    yield Block(Look.ABOUT, f"Lost by each of {count} decisions, {dearest} at most: {course}")


def _dearest(played: Round, result: Result) -> Iterator[Block]:
    if result.dearest is None:
        return
    one = result.dearest.decision
    lost = lost_words(played, one.regret, one.regret_minutes)
    unsure = "" if result.dearest.proven else f"{PERHAPS} "
    yield Block(Look.SAID, f"Your dearest decision: `{one.choice.words}`, {unsure}{lost}.", "- ")
    yield from advice(played, result.dearest.better, "Better there: ")
    if result.dearest.told is not None:
        yield Block(Look.SAID, f"(You had been told `{result.dearest.told}`; a longer search found this.)", "    ")


def _certain(played: Round, result: Result) -> Iterator[Block]:
    """Give how far the figures are certain, once, where they are not."""
    if result.at_most - result.at_least < 1 and result.expected_at_least >= result.expected - _ROUNDING:
        return
    least, most = money(played, result.at_least), money(played, result.at_most)
    yield Block(
        Look.ABOUT,
        f"How certain that is: the search was short. Surely all decisions together lost between {least} and {most}, "
        f"and the best way there is costs at least {money(played, result.expected_at_least)} on average.",
    )


def _sure(played: Round, result: Result) -> Iterator[Block]:
    for said in result.statements:
        came = "it was so" if said.came_true else "it was not"
        words = (
            f"Of {cause_name(played, said.cause)} you were {100 * said.stated:.0f} % sure, {came}; "
            f"the evidence said {100 * said.evidence:.0f} %."
        )
        yield Block(Look.SAID, words, "- ")


def _unsafe(result: Result) -> Iterator[Block]:
    if result.unsafe:
        words = f"Unsafe acts: {result.unsafe}. On a real car one is enough; in an exam it ends the round at 0 points."
        yield Block(Look.REFUSED, words, "! ")


def _points(result: Result) -> str:
    if result.points is None:
        return "no points"
    if not result.unsafe or result.ended == UNSAFE:
        return f"{result.points:.0f} of 100 points"
    acts, them = ("1 unsafe act", "it") if result.unsafe == 1 else (f"{result.unsafe} unsafe acts", "them")
    return f"{acts}, in an exam 0 points; without {them} {result.points:.0f} of 100 points"


def _same_work(result: Result) -> str:
    """Return a remark where the car was put right under another cause's name."""
    other = result.ended == FIXED and result.statements and not result.statements[-1].came_true
    return " The repair that you named another cause for is the same work." if other else ""


def document(played: Round, result: Result, follower: tuple[float, float] | None) -> Mapping[str, Any]:
    """Return the account as JSON data."""
    dealt = played.dealt
    dearest = result.dearest
    return {
        "tree": dealt.tree,
        "vehicle": dealt.vehicle,
        "cause": dealt.cause,
        "story": dealt.story,
        "told": dict(dealt.told),
        "ended": result.ended,
        "points": result.points,
        "money": result.money,
        "minutes": result.minutes,
        "expected": result.expected,
        "expected_at_least": result.expected_at_least,
        "expected_minutes": result.expected_minutes,
        "regret": result.regret,
        "regret_at_least": result.at_least,
        "regret_at_most": result.at_most,
        "regret_minutes": result.regret_minutes,
        "regret_own": result.own,
        "regret_own_minutes": result.own_minutes,
        "price_of_hints": result.asking,
        "price_of_hints_minutes": result.asking_minutes,
        "regret_by_the_tree": result.by_the_tree,
        "regret_by_the_tree_minutes": result.tree_minutes,
        "regret_by_hints": result.by_hints,
        "regret_by_hints_minutes": result.hint_minutes,
        "regret_by_caution": result.by_caution,
        "regret_by_caution_minutes": result.caution_minutes,
        "luck": result.luck,
        "tree_follower": None if follower is None else {"money": follower[0], "minutes": follower[1]},
        "unsafe": result.unsafe,
        "refused": result.refused,
        "hints": result.hints,
        "decisions": [_decision(one) for one in result.decisions],
        "dearest": None
        if dearest is None
        else {
            "act": dearest.decision.choice.words, "regret": dearest.decision.regret,
            "regret_minutes": dearest.decision.regret_minutes, "proven": dearest.proven, "better": dearest.better,
            "told": dearest.told,
        },
        "statements": [
            {"cause": one.cause, "stated": one.stated, "came_true": one.came_true, "evidence": one.evidence}
            for one in result.statements
        ],
    }


def _decision(one: Decision) -> Mapping[str, Any]:
    return {
        "act": one.choice.words,
        "money": one.money,
        "minutes": one.minutes,
        "regret": one.regret,
        "at_least": one.at_least,
        "at_most": one.at_most,
        "regret_minutes": one.regret_minutes,
        "as_the_tree_says": one.as_the_tree_says,
        "as_hinted": one.as_hinted,
        "for_danger": one.for_danger,
        "right": one.right,
    }
