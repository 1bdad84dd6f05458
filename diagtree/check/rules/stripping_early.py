"""Covers off for what a look would have told.

Fires:

    --- catalogue/more.yaml
    tests:
      sensor-readout:
        ask: Does the scan tool show a likely inlet temperature?
        place: bay
        minutes: 3
        needs: {power: live}
        outcomes: [likely, unlikely]
        healthy: likely
        source: estimate, common practice

    --- vehicles/petrel-2.yaml
    vehicle: petrel-2
    differs:
      causes:
        sensor-open: {shows: {sensor-readout: {unlikely: 95, likely: 5}}}

Silent:

    --- catalogue/more.yaml
    tests:
      sensor-readout:
        ask: Does the scan tool show a likely inlet temperature?
        place: bay
        minutes: 3
        needs: {power: live}
        outcomes: [likely, unlikely]
        healthy: likely
        source: estimate, common practice

    --- vehicles/petrel-2.yaml
    vehicle: petrel-2
    differs:
      causes:
        sensor-open: {shows: {sensor-readout: {unlikely: 95, likely: 5}}}

    --- tree.yaml
    diagtree: 1
    tree: tree
    title: AC charging fails
    causes: {point-fault: 40, sensor-open: 30, something-else: 30}
    start: other-point
    steps:
      other-point:
        then: {yes: {conclude: point-fault}, no: sensor-readout}
      sensor-readout:
        then: {likely: {refer: the maker's helpline}, unlikely: sensor-resistance}
      sensor-resistance:
        then: {normal: {refer: the maker's helpline}, open: {conclude: sensor-open}}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.check.parting import Parting
from diagtree.check.rule import Found, Rule
from diagtree.check.subject import Subject, TreeOnCar
from diagtree.check.worth import cars_worth_a_price
from diagtree.knowledge.place import Level
from diagtree.knowledge.words import Test


def find(subject: Subject) -> Iterator[Found]:
    """Return each step that is the first to strip the car although a cheaper test would part as much, once a step."""
    told: set[tuple[str, str]] = set()
    for one in cars_worth_a_price(subject):
        parting = Parting(one)
        for step_id in one.flow.order:
            better = _better(parting, step_id) if (one.tree.id, step_id) not in told else None
            if better is not None:
                told.add((one.tree.id, step_id))
                yield Found(
                    one.tree.steps[step_id].at, _words(one, parting, step_id, better), one.witnesses.to_step(step_id)
                )


def _better(parting: Parting, step_id: str) -> Test | None:
    """Return the cheapest test that could stand here instead; None where there is none, or the car is open already."""
    flow, test = parting.flow, parting.flow.test(step_id)
    take = parting.take(test)
    open_already = any(parting.take(flow.catalogue.tests[done]).strips for done in parting.before[step_id])
    if not take.strips or test.stop or open_already:
        return None
    wanted = parting.parted(test, flow.alive[step_id])
    fit = [
        other
        for other in parting.others(step_id)
        if not parting.take(other).strips and parting.take(other).minutes < take.minutes and not other.stop
        and wanted and wanted & ~parting.parted(other, flow.alive[step_id]) == 0
    ]  # fmt: skip
    return min(fit, key=lambda other: (parting.take(other).minutes, other.id), default=None)


def _words(one: TreeOnCar, parting: Parting, step_id: str, better: Test) -> str:
    test = parting.flow.test(step_id)
    where = f" (on `{one.car.id}`)" if one.car.id is not None else ""
    return (
        f"step `{step_id}` takes the car apart for `{test.id}` ({parting.take(test).minutes:g} min with all that it "
        f"needs) before `{better.id}` ({parting.take(better).minutes:g} min), which parts the same causes{where}; "
        f"give `{better.id}` its step first"
    )


RULE = Rule(
    id="stripping-early",
    family="worth",
    level=Level.WARNING,
    finds=(
        "A test that needs stripping or a dead car before a cheaper one that needs neither and parts the same"
        " causes."
    ),
    why=(
        "An hour of covers and making safe is paid by every car, also by those that the cheap test would have"
        " sorted out."
    ),
    find=find,
    text=__doc__,
)
