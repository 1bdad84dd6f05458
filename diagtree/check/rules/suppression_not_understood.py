"""A comment to the check that is not in its one form.

Fires:

    --- catalogue/more.yaml
    tests:
      timer-set:
        ask: Is a charging timer set?
        place: reception
        minutes: 1
        outcomes: [no, yes]
        healthy: no
        mind: [Release the catch, pull the plug.]  # check: ignore cut-at-comma, the two are one movement
        source: estimate, common practice

Silent:

    --- catalogue/more.yaml
    tests:
      timer-set:
        ask: Is a charging timer set?
        place: reception
        minutes: 1
        outcomes: [no, yes]
        healthy: no
        mind: [Release the catch, pull the plug.]  # check: allow cut-at-comma because the two are one movement
        source: estimate, common practice
"""

from __future__ import annotations

from diagtree.check.rule import Rule
from diagtree.knowledge.place import Level

RULE = Rule(
    id="suppression-not-understood",
    family="reading",
    level=Level.WARNING,
    finds="A comment that begins with `check:` and names a rule, but is not `# check: allow RULE because REASON`.",
    why="The author believes the finding settled, and it stands.",
    find=None,
    text=__doc__,
)
