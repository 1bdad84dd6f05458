"""The price of a tree as a document and as lines."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

from diagtree.reason.next_words import act_words
from diagtree.terminal.views.ending import ending_document, ending_words

if TYPE_CHECKING:
    from diagtree.reason.flips import Flip, Flips
    from diagtree.reason.price import Price, StepPrice

    Pages = Mapping[str | None, Price]

AS_WRITTEN = "(catalogue as written)"
NEVER = 0.0005  # a chance that would be shown as 0.0 %


def document(tree: str, car: str | None, price: Price, pages: Pages, guesses: Flips | None) -> dict[str, Any]:
    """Return the machine face of `price`."""
    found: dict[str, Any] = {"schema": 1, "tree": tree, "vehicle": car} | _figures(price)
    found["steps"] = {step: _step(figures) for step, figures in price.steps.items()}
    found["endings"] = [
        {"step": ending.step, "outcome": ending.outcome, **ending_document(ending.ending), **_step(ending.figures)}
        for ending in price.endings
    ]
    if pages:
        found["vehicles"] = {name or AS_WRITTEN: _figures(page) for name, page in pages.items()}
    if guesses is not None:
        now = guesses.now
        found["guesses"] = {
            "of": guesses.of, "solved_again": guesses.solved,
            "first_act": {"kind": now.kind, "id": now.id} if now else None,
            "flips": [_flip(flip) for flip in guesses.found],
            "heaviest": [
                {"kind": one.kind, "of": one.of, "value": one.value, "more": one.more} for one in guesses.heaviest
            ],
        }
    return found


def _figures(price: Price) -> dict[str, Any]:
    return {
        "expected_cost": price.expected_cost,
        "expected_minutes": price.expected_minutes,
        "best_cost": price.best_cost,
        "lower_bound": price.lower_bound,
        "exact": price.exact,
        "perfect_information": price.perfect_information,
        "wrong_part": dict(price.wrong_part),
        "comeback": price.comeback,
        "right_first": price.right_first,
        "referred": price.referred,
        "money_by_kind": dict(price.money),
        "minutes_by_kind": dict(price.minutes),
    }


def _step(figures: StepPrice) -> dict[str, float]:
    return {"reached": figures.reached, "cost": figures.cost, "regret": figures.regret}


def _flip(flip: Flip) -> dict[str, Any]:
    return {
        "kind": flip.kind, "of": flip.of, "value": flip.value, "at": flip.at,
        "becomes": {"kind": flip.becomes.kind, "id": flip.becomes.id}, "distance": flip.distance, "wrong": flip.wrong,
        "solved_again": flip.again, "gap": flip.gap,
    }


def lines(tree: str, car: str | None, price: Price, pages: Pages, guesses: Flips | None) -> Iterator[str]:
    """Give the price in words and columns."""
    yield f"{tree} on {car or AS_WRITTEN}, per car"
    yield f"  expected cost    {price.expected_cost:10,.2f}   in the bay {price.expected_minutes:,.0f} min"
    yield f"  best strategy    {price.best_cost:10,.2f}   {_proven(price)}"
    undercut = "" if price.perfect_information <= price.best_cost else ", where no cheap way out undercuts it"
    alone = f"each one's correction or advice alone; what is above is avoidable{undercut}"
    yield f"  known causes     {price.perfect_information:10,.2f}   {alone}"
    yield f"  right at the first correction or advice {_percent(price.right_first)}"
    if price.comeback >= NEVER:
        yield f"  wrong advice      {_percent(price.comeback):>7}"
    wrong = sorted(((chance, cause) for cause, chance in price.wrong_part.items() if chance >= NEVER), reverse=True)
    for chance, cause in wrong:
        yield f"  corrected in vain {_percent(chance):>7}  {cause}"
    yield ""
    yield "by kind               money    minutes"
    for kind, money in price.money.items():
        if money or price.minutes[kind]:
            yield f"  {kind:<14} {money:10,.2f} {price.minutes[kind]:10,.1f}"
    yield from _places(price)
    if pages:
        yield ""
        yield "vehicle                        cost       best  not below    min  right first"
        for name, page in pages.items():
            shown = f"{page.expected_cost:10,.2f} {page.best_cost:10,.2f} {page.lower_bound:10,.2f}"
            shown += f" {page.expected_minutes:6,.0f} {_percent(page.right_first):>12}"
            yield f"  {name or AS_WRITTEN:<23} {shown}"
    if guesses is not None:
        yield from _matter(guesses)


def _proven(price: Price) -> str:
    if price.exact:
        return "proven: nothing is cheaper"
    gap = price.best_cost - price.lower_bound
    avoidable = price.best_cost - price.perfect_information
    share = f", {min(1.0, gap / avoidable):.0%} of the avoidable" if avoidable > 0 else ""
    less = f"{gap / price.best_cost:.1%} less{share}"
    return f"cheapest found; another may cost less, none below {price.lower_bound:,.2f} ({less})"


def _places(price: Price) -> Iterator[str]:
    yield ""
    yield "reached   cost from here     regret  step"
    for step, figures in price.steps.items():
        yield f"{_row(figures)}  {step}"
    yield ""
    yield "reached   cost from here     regret  ending"
    for ending in price.endings:
        figures = ending.figures
        yield f"{_row(figures)}  {ending.step}: {ending.outcome} > {ending_words(ending.ending)}"


def _row(figures: StepPrice) -> str:
    if not figures.reached:
        return f"{'never':>7} {'no cause leads here':>27}"
    return f"{_percent(figures.reached):>7} {figures.cost:16,.2f} {figures.regret:10,.2f}"


def _matter(guesses: Flips) -> Iterator[str]:
    yield ""
    now = act_words(guesses.now) if guesses.now else "nothing"
    yield (
        f"The guesses that matter most, each changed alone ({guesses.of} looked through, {guesses.solved} solved "
        f"again; first act now: {now}):"
    )
    for flip in guesses.found:
        side = "up" if flip.at >= flip.value else "down"
        wrong = f"staying as now then costs up to {flip.wrong:,.2f} a car; {_sure(flip)}"
        yield (
            f"  {flip.kind} {flip.of}: {flip.value:g} as written; from {flip.at:,.4g} {side}, "
            f"{act_words(flip.becomes)} comes first ({wrong})"
        )
    if not guesses.found:
        yield (
            "  none changes the first act: no share, time or price between a quarter and four times what is written, "
            "no per cent from 0 to 100"
        )
    if any(flip.gap for flip in guesses.found) or not guesses.found:
        yield "  What is not proven: the strategies compared are the best found in the time."
    if guesses.heaviest:
        yield "What the cost hangs on most, all else the same:"
    for one in guesses.heaviest:
        yield f"  {one.kind} {one.of}: {one.value:g} as written; a tenth more costs a car {one.more:+,.2f}"


def _sure(flip: Flip) -> str:
    if not flip.again:
        return "by the policies known"
    return f"solved again, within {flip.gap:.0%}" if flip.gap else "solved again, exact"


def _percent(chance: float) -> str:
    return f"{100 * chance:.1f} %"
