"""A part under `fault` that physics does not know.

Fires:

    --- catalogue/more.yaml
    causes:
      probe-open:
        name: Sensor of the inlet open circuit
        where: inlet
        fault: {inlet.ac_sensr: open}
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
    id="unknown-part",
    family="reading",
    level=Level.WARNING,
    finds="A part under `fault` that no list of parts holds.",
    why="The simulated car would have no such part to break.",
    find=None,
    text=__doc__,
)
