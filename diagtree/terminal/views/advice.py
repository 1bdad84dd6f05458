"""What to do next, in a few lines inside a walk."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from diagtree.reason.next_words import act_words
from diagtree.reason.plan import Act

if TYPE_CHECKING:
    from diagtree.reason.next_act import Advised

MOST = 3


def first(acts: Sequence[Advised], exact: bool) -> tuple[str, ...]:
    """Return the first advice: with its reason where no search can better it."""
    if not acts:
        return ()
    if exact:
        return (f"Worth most now: {proven(acts)}", *_ranked(acts))
    shown = enumerate(telling(acts)[:MOST], 1)
    return ("Worth most now, at first sight (a search goes on):", *(_line(*one) for one in shown))


def searched(acts: Sequence[Advised]) -> tuple[str, ...]:
    """Return the advice after some search, with what is not proven."""
    return (f"After the search: {proven(acts)}", *_ranked(acts)) if acts else ()


def telling(acts: Sequence[Advised]) -> Sequence[Advised]:
    """Return the acts without tests that change nothing to speak of; all of them where nothing else is left."""
    return [act for act in acts if not act.idle] or acts


def proven(acts: Sequence[Advised]) -> str:
    """Return how good the best act is known to be: no policy is cheaper than the lowest limit of any act."""
    best, least = acts[0], min(act.at_least for act in acts)
    if best.expected_cost - least <= 1e-9 * abs(best.expected_cost):
        return "proven, nothing is cheaper."
    gap = best.expected_cost - least
    return f"nothing is below {least:,.0f} (gap {gap:,.0f}, {gap / best.expected_cost:.0%})."


def _ranked(acts: Sequence[Advised]) -> Iterator[str]:
    for number, act in enumerate(telling(acts)[:MOST], 1):
        yield _line(number, act)
        if number == 1:
            yield f"   {act.why}"
            yield from (f"   - {after.words}" for after in act.after)


def _line(number: int, act: Advised) -> str:
    words = act_words(Act(act.kind, act.id))
    return f"{number}. {words}: whole case {act.expected_cost:,.0f}, this act {act.money:,.0f}, {act.minutes:g} min"
