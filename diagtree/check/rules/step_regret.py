"""A test that is dear where it stands.

Fires:

    --- workshop.yaml
    workshop: Harbour Lane Garage
    rate: 96
    referral: 250
    comeback: 300

Silent:

    --- workshop.yaml
    workshop: Harbour Lane Garage
    rate: 96
    referral: 900
    comeback: 900
"""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.check.rule import Found, Rule
from diagtree.check.subject import Subject
from diagtree.check.worth import Priced, priced
from diagtree.knowledge.place import Level

LIMIT = 0.1
"""Share of the tree's price that a step's regret may be. [-]"""


def find(subject: Subject) -> Iterator[Found]:
    """Return each step of too much regret, for the car on which it costs most."""
    worst: dict[tuple[str, str], Priced] = {}
    for one in priced(subject):
        for step_id, figures in one.price.steps.items():
            known = worst.get((one.one.tree.id, step_id))
            if figures.regret > LIMIT * one.price.expected_cost and (
                known is None or figures.regret > known.price.steps[step_id].regret
            ):
                worst[one.one.tree.id, step_id] = one
    for (_, step_id), one in worst.items():
        yield Found(one.one.tree.steps[step_id].at, _words(one, step_id), one.one.witnesses.to_step(step_id))


def _words(one: Priced, step_id: str) -> str:
    figures, test = one.price.steps[step_id], one.one.tree.steps[step_id].test
    return (
        f"`{test}` at step `{step_id}` costs about {figures.regret:.0f} more than the best act there, for "
        f"{100 * figures.reached:.0f} % of the cars{one.where}; put it later or leave it out: `diagtree plan "
        f"{one.one.tree.id}` shows what is best"
    )


RULE = Rule(
    id="step-regret",
    family="worth",
    level=Level.WARNING,
    finds=(
        "A step whose test costs, with all going best afterwards, over a tenth of the tree's price more than "
        "the best act."
    ),
    why="Every car that comes by pays it: hours of stripping for an answer that was to be had otherwise.",
    find=find,
    text=__doc__,
)
