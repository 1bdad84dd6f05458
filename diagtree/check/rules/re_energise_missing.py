"""A car that is made safe, and no procedure that brings it back.

Fires:

    --- catalogue/catalogue.yaml
    tests:
      other-point:
        {ask: Does it charge elsewhere?, place: reception, minutes: 1, outcomes: [yes, no], healthy: no, source: none}
      sensor-resistance:
        ask: Resistance of the sensor
        place: bay
        minutes: 6
        needs: {power: dead}
        reads: {resistance: ohm}
        outcomes: {normal: below 50000, open: otherwise}
        healthy: normal
        source: estimate, common practice
    causes:
      point-fault:
        name: Fault in the owner's charge point
        shows: {other-point: {yes: 97, no: 3}}
        advise: {do: Have it checked., minutes: 10}
      sensor-open:
        name: Sensor open
        shows: {sensor-resistance: {open: 92, normal: 8}}
        correction: {do: Replace the sensor, minutes: 60, needs: {power: dead}}
        proof: {charge: ac, minutes: 30}
    procedures:
      make-safe:
        minutes: 25
        steps:
          - {kind: unplug}
          - {kind: switch-off}
          - {kind: disconnect}
          - {kind: secure}
          - {kind: wait, minutes: 5}
          - {kind: prove-tester}
          - {kind: absence, between: [DC+ and DC-, DC+ and chassis, DC- and chassis], below: 60}
          - {kind: prove-tester}
      hand-back: {minutes: 10, steps: [{do: Read the codes.}]}

Silent:

    --- catalogue/catalogue.yaml
    tests:
      other-point:
        {ask: Does it charge elsewhere?, place: reception, minutes: 1, outcomes: [yes, no], healthy: no, source: none}
      sensor-resistance:
        ask: Resistance of the sensor
        place: bay
        minutes: 6
        needs: {power: dead}
        reads: {resistance: ohm}
        outcomes: {normal: below 50000, open: otherwise}
        healthy: normal
        source: estimate, common practice
    causes:
      point-fault:
        name: Fault in the owner's charge point
        shows: {other-point: {yes: 97, no: 3}}
        advise: {do: Have it checked., minutes: 10}
      sensor-open:
        name: Sensor open
        shows: {sensor-resistance: {open: 92, normal: 8}}
        correction: {do: Replace the sensor, minutes: 60, needs: {power: dead}}
        proof: {charge: ac, minutes: 30}
    procedures:
      make-safe:
        minutes: 25
        steps:
          - {kind: unplug}
          - {kind: switch-off}
          - {kind: disconnect}
          - {kind: secure}
          - {kind: wait, minutes: 5}
          - {kind: prove-tester}
          - {kind: absence, between: [DC+ and DC-, DC+ and chassis, DC- and chassis], below: 60}
          - {kind: prove-tester}
      re-energise: {minutes: 10, steps: [{do: Close the service disconnect.}]}
      hand-back: {minutes: 10, steps: [{do: Read the codes.}]}
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.check.rule import CATALOGUE, Found, Rule
from diagtree.check.subject import Subject
from diagtree.check.use import relies_on_dead, without_procedure
from diagtree.knowledge.place import Level
from diagtree.knowledge.words import RE_ENERGISE


def find(subject: Subject) -> Iterator[Found]:
    """Return, once, the first job that needs a dead car where nothing says how it comes back."""
    return without_procedure(subject, RE_ENERGISE, relies_on_dead, "needs a dead car")


RULE = Rule(
    id="re-energise-missing",
    family="safety",
    level=Level.WARNING,
    finds="A catalogue in which something needs a dead car, without a `re-energise`.",
    why="The car is put together again from memory: a forgotten plug is found under load.",
    find=find,
    text=__doc__,
    whole=CATALOGUE,
)
