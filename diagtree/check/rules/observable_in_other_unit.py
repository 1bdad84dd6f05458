"""An observable that is not measured in the unit of the reading.

Fires:

    --- catalogue/more.yaml
    tests:
      inlet-sensor:
        ask: Resistance of the sensor on the desk
        place: reception
        minutes: 2
        reads: {resistance: {unit: ohm, of: temperature(inlet.ac_sensor)}}
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
    id="observable-in-other-unit",
    family="reading",
    level=Level.WARNING,
    finds="A reading in ohms of what is measured in volts, for instance.",
    why="The simulated car would show a number that means something else.",
    find=None,
    text=__doc__,
)
