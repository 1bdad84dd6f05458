"""The end of a round on a simulated car: paid and expected, luck apart, the dearest decision, how sure."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from diagtree.quiz.result import Result
from diagtree.quiz.round import Round
from diagtree.quiz.score import Decision
from diagtree.quiz.state import FIXED, STOPPED, UNSAFE
from diagtree.terminal.face import Block, Look
from diagtree.terminal.views.quiz_car import cause_name, lost_words, money, noise
from diagtree.terminal.views.quiz_pictures import Pictures

_ENDS = {
    FIXED: "Fixed and proven",
    "advised": "Advised and handed over",
    "referred": "Given to somebody else",
    STOPPED: "Given up",
    UNSAFE: "Over: an unsafe act ends an exam",
}


def blocks(
    played: Round, result: Result, pictures: Pictures, follower: tuple[float, float] | None
) -> list[Block]:
    """Return the account of a round. follower : money and minutes of one who follows the tree on this very car."""
    found = [Block(Look.HEADING, f"{_ENDS.get(result.ended or '', 'The round')}: {_points(result)}")]
    found.append(Block(Look.ABOUT, f"What was wrong: {cause_name(played, played.dealt.cause)}.{_same_work(result)}"))
    least = "" if result.expected_at_least >= result.expected - 0.5 else f", at least {result.expected_at_least:,.0f}"
    found.append(
        Block(
            Look.ABOUT,
            f"You spent {money(played, result.money)} and {result.minutes:g} min. Best play costs "
            f"{money(played, result.expected)} on average{least}.",
        )
    )
    if follower is not None:
        spent, minutes = follower
        led = f"The tree, followed on this very car, spends {money(played, spent)} and {minutes:g} min."
        found.append(Block(Look.ABOUT, led))
    whole = ", the tree's among them" if result.by_the_tree else ""
    proven = f" (proven{whole}: {result.at_least:,.0f} to {result.at_most:,.0f})"
    gap = "" if result.at_most - result.at_least < 1 else proven
    lost = f"Your decisions lost {lost_words(played, result.own, result.own_minutes)}{gap}"
    if played.mode.guide:
        led = lost_words(played, result.by_the_tree, result.regret_minutes - result.own_minutes)
        little = result.by_the_tree < noise(played)
        lost += ". The tree led about as well as the best play found" if little else (
            f". What the tree says lost {led} against the best play found, no fault of yours"
        )
    if result.luck is None:
        lost += "; what the rest of the way would have cost is not counted"
    else:
        gave = "took" if result.luck > 0 else "gave"
        lost += f"; luck {gave} {money(played, abs(result.luck))}, no merit and no fault"
    found.append(Block(Look.ABOUT, f"{lost}."))
    if result.decisions:
        course = pictures.course([one.regret for one in result.decisions], 0.0, _most(result))
        most = f", {money(played, _most(result))} at most" if result.regret >= 1 else ""
        found.append(Block(Look.ABOUT, f"Lost by each of {len(result.decisions)} decisions{most}: {course}"))
    if result.dearest is not None:
        one = result.dearest.decision
        lost = lost_words(played, one.regret, one.regret_minutes)
        unsure = "" if result.dearest.proven else " (not proven)"
        found.append(Block(Look.SAID, f"Dearest: `{one.choice.words}`, {lost}{unsure}.", "- "))
        found.append(Block(Look.SAID, f"Better there: {result.dearest.better}", "  "))
    for said in result.statements:
        came = "it was so" if said.came_true else "it was not"
        found.append(
            Block(
                Look.SAID,
                f"Of {cause_name(played, said.cause)} you were {100 * said.stated:.0f} % sure, {came}; "
                f"the evidence said {100 * said.evidence:.0f} %.",
                "- ",
            )
        )
    if result.unsafe:
        found.append(Block(Look.REFUSED, f"Unsafe acts: {result.unsafe}. On a real car one is enough.", "! "))
    return found


def _points(result: Result) -> str:
    if result.points is None:
        return "no points"
    unsafe = f", and {result.unsafe} unsafe act{'' if result.unsafe == 1 else 's'}" if result.unsafe else ""
    return f"{result.points:.0f} of 100 points{unsafe}"


def _same_work(result: Result) -> str:
    """Return a remark where the car was put right under another cause's name."""
    other = result.ended == FIXED and result.statements and not result.statements[-1].came_true
    return " The repair that you named another cause for is the same work." if other else ""


def _most(result: Result) -> float:
    return max(1.0, *(one.regret for one in result.decisions)) if result.decisions else 1.0


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
        "regret": result.regret,
        "regret_at_least": result.at_least,
        "regret_at_most": result.at_most,
        "regret_minutes": result.regret_minutes,
        "regret_by_the_tree": result.by_the_tree,
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
        "right": one.right,
    }
