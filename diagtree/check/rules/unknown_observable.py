"""A name under `of` that physics cannot simulate.

Fires:

    --- catalogue/more.yaml
    tests:
      inlet-sensor:
        ask: Resistance of the sensor on the desk
        place: reception
        minutes: 2
        reads: {resistance: {unit: ohm, of: resistance(inlet.ac_sensr)}}
        outcomes: {low: below 9000, high: otherwise}
        healthy: high
        source: estimate, common practice

Silent:

    --- catalogue/more.yaml
    tests:
      inlet-sensor:
        ask: Resistance of the sensor on the desk
        place: reception
        minutes: 2
        reads: {resistance: {unit: ohm, of: resistance(inlet.ac_sensor)}}
        outcomes: {low: below 9000, high: otherwise}
        healthy: high
        source: estimate, common practice
"""

from __future__ import annotations

from diagtree.check.rule import Rule
from diagtree.knowledge.place import Level

RULE = Rule(
    id="unknown-observable",
    family="reading",
    level=Level.WARNING,
    finds="A name under `of` that is no observable.",
    why="The simulated car could not answer this test, and nothing would hold its figures against physics.",
    find=None,
    text=__doc__,
)
