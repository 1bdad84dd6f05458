"""A folder of trees without a catalogue.

Fires:

    --- catalogue/catalogue.yaml

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
    id="catalogue-missing",
    family="links",
    level=Level.ERROR,
    finds="A folder that holds trees and no `catalogue` folder with files.",
    why="Every test and cause of every tree would seem to lead nowhere; it is the folder that lacks, or was mistaken.",
    find=None,
    text=__doc__,
)
