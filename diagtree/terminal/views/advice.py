"""What to do next, in a few lines inside a walk."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from diagtree.reason.next_words import act_words
from diagtree.reason.plan import Act

if TYPE_CHECKING:
    from diagtree.reason.next_act import Advised
    from diagtree.walk.context import Walk

MOST = 3


def currency_of(walk: Walk) -> str:
    """Return the currency that the house reckons in; "" where it names none."""
    return walk.library.workshop.currency if walk.library.workshop else ""


def money(amount: float, currency: str) -> str:
    """Return an amount without decimals, in the house's currency where it has one."""
    return f"{amount:,.0f} {currency}".rstrip()


def first(acts: Sequence[Advised], exact: bool, currency: str = "") -> tuple[str, ...]:
    """Return the first advice: with its reason where no search can better it."""
    if not acts:
        return ()
    if exact:
        return (f"Worth most now: {proven(acts, currency)}", *_ranked(acts, currency))
    shown = enumerate(telling(acts)[:MOST], 1)
    return ("Worth most now, at first sight (a search goes on):", *(_line(*one, currency) for one in shown))


def searched(acts: Sequence[Advised], currency: str = "") -> tuple[str, ...]:
    """Return the advice after some search, with what is not proven."""
    return (f"After the search: {proven(acts, currency)}", *_ranked(acts, currency)) if acts else ()


def telling(acts: Sequence[Advised]) -> Sequence[Advised]:
    """Return the acts without tests that change nothing to speak of; all of them where nothing else is left."""
    return [act for act in acts if not act.idle] or acts


def proven(acts: Sequence[Advised], currency: str = "") -> str:
    """Return how good the best act is known to be: no policy is cheaper than the lowest limit of any act."""
    best, least = acts[0], min(act.at_least for act in acts)
    if best.expected_cost - least <= 1e-9 * abs(best.expected_cost):
        return "proven, nothing is cheaper."
    gap = best.expected_cost - least
    part = f"{gap / best.expected_cost:.0%}"
    return (
        f"the first is the cheapest found; a cheaper way may exist, none below {money(least, currency)} "
        f"({money(gap, currency)} or {part} less)."
    )


def _ranked(acts: Sequence[Advised], currency: str) -> Iterator[str]:
    for number, act in enumerate(telling(acts)[:MOST], 1):
        yield _line(number, act, currency)
        if number == 1:
            yield f"   {act.why}"
            yield from (f"   - {after.words}" for after in act.after)


def _line(number: int, act: Advised, currency: str) -> str:
    return f"{number}. {act_words(Act(act.kind, act.id))}: {costs(act, currency)}"


def costs(act: Advised, currency: str) -> str:
    """Return what the whole case costs from now on, on average, and what this act alone does."""
    whole, alone = money(act.expected_cost, currency), money(act.money, currency)
    return f"whole case {whole}, this act {alone}, {act.minutes:g} min"
