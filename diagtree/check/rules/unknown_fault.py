"""A fault that the part cannot have.

Fires:

    --- catalogue/more.yaml
    causes:
      probe-open:
        name: Sensor of the inlet open circuit
        where: inlet
        fault: {inlet.ac_sensor: opne}
        advise: {do: Have the sensor replaced., minutes: 5}
        source: estimate, common practice

Silent:

    --- catalogue/more.yaml
    causes:
      probe-open:
        name: Sensor of the inlet open circuit
        where: inlet
        fault: {inlet.ac_sensor: open}
        advise: {do: Have the sensor replaced., minutes: 5}
        source: estimate, common practice
"""

from __future__ import annotations

from diagtree.check.rule import Rule
from diagtree.knowledge.place import Level

RULE = Rule(
    id="unknown-fault",
    family="reading",
    level=Level.WARNING,
    finds="A fault that this part cannot have, or a number out of its range.",
    why="The simulated car could not be broken in that way.",
    find=None,
    text=__doc__,
)
