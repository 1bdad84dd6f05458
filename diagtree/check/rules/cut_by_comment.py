"""A text cut off by its own number sign.

Fires:

    --- catalogue/more.yaml
    tests:
      timer-set:
        ask: Is charging timer #2 set?
        place: reception
        minutes: 1
        outcomes: [no, yes]
        healthy: no
        source: estimate, common practice

Silent:

    --- catalogue/more.yaml
    tests:
      timer-set:
        ask: "Is charging timer #2 set?"
        place: reception
        minutes: 1
        outcomes: [no, yes]
        healthy: no
        source: estimate, common practice
"""

from __future__ import annotations

from diagtree.check.rule import Rule
from diagtree.knowledge.place import Level

RULE = Rule(
    id="cut-by-comment",
    family="reading",
    level=Level.WARNING,
    finds="A `#` behind a blank inside a text: YAML takes the rest of the line for a remark.",
    why="`Use terminal #4` would be shown as `Use terminal`, and the technician picks one.",
    find=None,
    text=__doc__,
)
