"""A conclusion that comes too early, or that another act would undercut.

Fires:

    --- tree.yaml
    diagtree: 1
    tree: tree
    title: AC charging fails
    causes: {point-fault: 40, sensor-open: 30, something-else: 30}
    start: other-point
    steps:
      other-point:
        then: {yes: {conclude: sensor-open}, no: sensor-resistance}
      sensor-resistance:
        then: {normal: {refer: the maker's helpline}, open: {conclude: sensor-open}}

Silent:

    --- tree.yaml
    diagtree: 1
    tree: tree
    title: AC charging fails
    causes: {point-fault: 40, sensor-open: 30, something-else: 30}
    start: other-point
    steps:
      other-point:
        then: {yes: {conclude: point-fault}, no: sensor-resistance}
      sensor-resistance:
        then: {normal: {refer: the maker's helpline}, open: {conclude: sensor-open}}
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from diagtree.check.rule import Found, Rule
from diagtree.check.subject import Subject
from diagtree.check.worth import Priced, priced
from diagtree.knowledge.place import Level
from diagtree.knowledge.words import Conclude
from diagtree.reason.plan_state import Act

if TYPE_CHECKING:
    from diagtree.reason.price import EndingPrice

LIMIT = 0.1
"""Share of the best act's cost by which a conclusion may be dearer. [-]"""


def find(subject: Subject) -> Iterator[Found]:
    """Return each conclusion that is too dear, for the car on which it costs most."""
    worst: dict[tuple[str, str, str], tuple[Priced, EndingPrice]] = {}
    for one in priced(subject):
        for ending in one.price.endings:
            figures = ending.figures
            if not isinstance(ending.ending, Conclude) or figures.regret <= LIMIT * (figures.cost - figures.regret):
                continue
            key = one.one.tree.id, ending.step, ending.outcome
            if key not in worst or figures.regret > worst[key][1].figures.regret:
                worst[key] = one, ending
    for one, ending in worst.values():
        witness = one.one.witnesses.to_branch(ending.step, ending.outcome)
        yield Found(one.one.tree.steps[ending.step].then_at[ending.outcome], _words(one, ending), witness)


def _words(one: Priced, ending: EndingPrice) -> str:
    assert isinstance(ending.ending, Conclude)
    best = ending.figures.cost - ending.figures.regret
    return (
        f"`conclude: {ending.ending.cause}` costs about {ending.figures.cost:.0f} from here on, the best act about "
        f"{best:.0f}, for {100 * ending.figures.reached:.1f} % of the cars{one.where}; {_instead(ending.instead)}: "
        f"`diagtree plan {one.one.tree.id}` shows how it goes on"
    )


def _instead(act: Act | None) -> str:
    match act:
        case Act(kind="test", id=test):
            return f"best is one more test, `{test}`"
        case Act(kind="refer"):
            return "best is to refer them"
        case Act(id=str(cause)):
            return f"best is `conclude: {cause}` first"
        case _:
            return "end otherwise, or give them one more test"


RULE = Rule(
    id="conclusion-dear",
    family="worth",
    level=Level.WARNING,
    finds="A conclusion whose correction or advice costs over 10 % more than the best act there.",
    why="A part is ordered where one more test, or another cause first, would be cheaper on average.",
    find=find,
    text=__doc__,
)
