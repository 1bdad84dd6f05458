"""A conclusion that no made-up walk came to, although many of the cars had its cause.

Fires:

    --- tree.yaml
    diagtree: 1
    tree: tree
    title: AC charging fails
    revision: 1
    causes: {point-fault: 40, sensor-open: 30, something-else: 30}
    start: sensor-resistance
    steps:
      sensor-resistance:
        then: {normal: {conclude: point-fault}, open: other-point}
      other-point:
        then: {yes: {conclude: sensor-open}, no: {refer: the maker's helpline}}

    --- catalogue/catalogue.yaml
    tests:
      other-point:
        ask: Does the car charge on another charge point with the same cable?
        place: reception
        minutes: 1
        outcomes: [yes, no]
        healthy: no
        mistake: 0
        source: estimate, common practice
      sensor-resistance:
        ask: Does the scan tool show a temperature of the inlet?
        place: reception
        minutes: 6
        outcomes: [normal, open]
        healthy: normal
        mistake: 0
        source: estimate, common practice
    causes:
      point-fault:
        name: Fault in the owner's charge point
        where: outside
        shows: {other-point: {yes: 97, no: 3}}
        advise: {do: Have the charge point checked by its installer., minutes: 10}
      sensor-open:
        name: Inlet temperature sensor open circuit
        where: inlet
        shows: {sensor-resistance: {open: 92, normal: 8}}
        advise: {do: Have the sensor replaced., minutes: 10}

Silent:

    --- tree.yaml
    diagtree: 1
    tree: tree
    title: AC charging fails
    revision: 1
    causes: {point-fault: 40, sensor-open: 30, something-else: 30}
    start: other-point
    steps:
      other-point:
        then: {yes: {conclude: point-fault}, no: sensor-resistance}
      sensor-resistance:
        then: {normal: {refer: the maker's helpline}, open: {conclude: sensor-open}}
"""

from __future__ import annotations

from diagtree.check.rule import Rule
from diagtree.knowledge.place import Level

RULE = Rule(
    id="conclusion-not-seen",
    family="walks",
    level=Level.WARNING,
    finds="A conclusion that none of many walks on cars with its cause came to (`check --walks`).",
    why="The cause is in the list, but its cars leave with another part, or with none.",
    find=None,
    text=__doc__,
)
