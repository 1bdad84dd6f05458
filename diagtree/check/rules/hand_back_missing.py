"""A car that is taken apart, and no last look before the key goes back.

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
      re-energise: {minutes: 10, steps: [{do: Close the service disconnect.}]}

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
from diagtree.check.use import Job, relies_on_dead, without_procedure
from diagtree.knowledge.place import Level
from diagtree.knowledge.words import HAND_BACK, Catalogue


def find(subject: Subject) -> Iterator[Found]:
    """Return, once, the first job that opens the car or needs it dead where no last look follows."""
    return without_procedure(subject, HAND_BACK, _takes_apart, "takes the car apart")


def _takes_apart(job: Job, catalogue: Catalogue) -> bool:
    return bool(job.needs.open) or relies_on_dead(job, catalogue)


RULE = Rule(
    id="hand-back-missing",
    family="safety",
    level=Level.WARNING,
    finds="A catalogue in which something is opened or made dead, without a `hand-back`.",
    why="Nobody looks whether the plug still locks and the codes are clean before the owner drives off.",
    find=find,
    text=__doc__,
    whole=CATALOGUE,
)
