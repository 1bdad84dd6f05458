"""The reason for an act in one sentence."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from diagtree.reason.plan import Act, ActValue
from diagtree.reason.plan_costs import Step

Outcome = tuple[str, float, Mapping[str, float]]
"""An outcome, its chance, and the causes' chances after it."""


def act_words(act: Act) -> str:
    """Return an act as a command: `test ohms`, `correct hot-contact`, `refer the car`."""
    return "refer the car" if act.kind == "refer" else f"{act.kind} {act.id}"


def after_words(outcome: str, chance: float, chances: Mapping[str, float], then: Act | None) -> str:
    """Return what one outcome would change: `open (31 %): broken-sensor 92 %; then correct broken-sensor`."""
    cause, sure = _first(chances)
    words = f"{outcome} ({_percent(chance)}): {cause} {_percent(sure)}"
    return words if then is None else f"{words}; then {act_words(then)}"


def why_words(
    act: Act, chances: Mapping[str, float], after: Sequence[Outcome], step: Step, values: Sequence[ActValue],
    total: float,
) -> str:
    """Return why `act` stands where it stands among `values` (cheapest first), in one sentence."""
    if act.kind == "test":
        reason = _test(chances, after, step)
    elif act.kind == "refer":
        reason = "ends the case for this house at a known cost"
    else:
        sure = _percent(chances.get(act.id or "", 0.0))
        word = "its correction and proof" if act.kind == "correct" else "the advice"
        reason = f"{act.id} stands at {sure}; {word} costs {step.cost:,.0f}"
        if act.kind == "advise" and step.wrong_cost:
            reason += f", and {step.wrong_cost:,.0f} more if it was wrong"
    return f"{reason}; {_rank(act, values, total)}."


def _test(chances: Mapping[str, float], after: Sequence[Outcome], step: Step) -> str:
    lead, before = _first(chances)
    # What the test is done for: the outcome that puts another cause first, else the one that moves belief most,
    # both weighed by their chance.
    outcome, chance, then = max(
        after,
        key=lambda o: (_first(o[2])[0] != lead, o[1] * sum(abs(o[2][cause] - was) for cause, was in chances.items())),
    )
    cause, sure = _first(then)
    seen = f"{step.minutes:g} min; {outcome} ({_percent(chance)})"
    if cause == lead:
        if _percent(sure) == _percent(before):
            return f"{seen} leaves {lead} at {_percent(before)}"
        return f"{seen} moves {lead} from {_percent(before)} to {_percent(sure)}"
    return f"{seen} puts {cause} at {_percent(sure)} before {lead}"


def _rank(act: Act, values: Sequence[ActValue], total: float) -> str:
    own = next(value.bounds.upper for value in values if value.act == act)
    first = values[0]
    if act == first.act:
        if len(values) == 1:
            return "nothing else is left"
        dearer = (values[1].bounds.upper - own) / total
        return f"cheapest on the whole, by {_amount(dearer)} before `{act_words(values[1].act)}`"
    return f"on the whole {_amount((own - first.bounds.upper) / total)} dearer than `{act_words(first.act)}`"


def _first(chances: Mapping[str, float]) -> tuple[str, float]:
    return min(chances.items(), key=lambda item: (-item[1], item[0]))


def _amount(cost: float) -> str:
    return "less than 1" if cost < 1 else f"{cost:,.0f}"


def _percent(chance: float) -> str:
    if 0 < chance < 0.005:
        return "under 1 %"
    if 0.995 < chance < 1:
        return "over 99 %"
    return f"{100 * chance:.0f} %"
