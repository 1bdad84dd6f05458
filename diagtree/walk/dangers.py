"""The first look at dangers, and where each finding leads. Words for people: the tool never says that a car is safe."""

from __future__ import annotations

from collections.abc import Collection

from diagtree.knowledge.words import Ending, HandOver, Refer
from diagtree.records import dataclass

NOTHING = "nothing"
STAND_BACK = (
    "Do not plug the car in, do not drive it, do not touch orange cables or their plugs.",
    "Set the car apart: outdoors where it can be, clear of other cars and buildings, with a barrier and a sign. "
    "Push or tow it as the maker allows; do not drive it.",
    "Keep people away. With smoke, hissing or a sweetish smell: leave, and call the fire service at once.",
    "Local rules, the maker's procedure and a qualified high-voltage person decide what happens next.",
)


@dataclass(frozen=True, slots=True)
class Danger:
    """One thing to look for, the tree made for it (if the house has it), and who is called otherwise.

    mind : what it asks for beyond STAND_BACK, and before that.
    """

    id: str
    text: str
    tree: str
    call: str
    mind: tuple[str, ...] = ()

    @property
    def stops(self) -> tuple[str, ...]:
        """What is told where it was found, most urgent first, who is called last."""
        return (*self.mind, *STAND_BACK, f"Call: {self.call}.")


DANGERS = (
    Danger(
        "burnt",
        "burn marks, melted or discoloured plastic, a burnt smell",
        "heat-or-smell",
        "a high-voltage technician",
    ),
    # No tree is made for what was broken by force; the one for heat would not look for it.
    Danger("cracked", "a cracked inlet or plug, bare metal, a damaged orange cable", "", "a high-voltage technician"),
    Danger("wet", "water, mud or salt in the inlet or plug", "insulation-warning", "a high-voltage technician"),
    # Water in a battery can set it on fire days later: a flooded car is nobody's diagnosis, it stands apart.
    Danger("flooded", "a car that stood in water or was flooded", "", "a high-voltage technician for flooded cars"),
    Danger("crash", "crash damage, a hard hit from below", "", "a high-voltage technician for crashed cars"),
    Danger("smoke", "smoke, hissing, a hot battery, a sweetish smell", "", "the fire service, and nobody near the car"),
    Danger(
        "shock",
        "somebody felt a shock or a tingle at the car or the cable",
        "",
        "a doctor for the person today, an electrician for the charge point, a high-voltage technician for the car",
        (
            "Do not touch the car, the cable or the charge point. It is moved only once a qualified person allows it.",
            "Plugged in, then the charge point off at its breaker, by somebody who knows it and touches nothing else.",
        ),
    ),
    Danger(
        "insulation-warning",
        "an insulation or high-voltage warning in the instruments",
        "insulation-warning",
        "a high-voltage technician",
    ),
)
BY_ID = {danger.id: danger for danger in DANGERS}


def danger_ending(found: str, tree: str, trees: Collection[str]) -> Ending | None:
    """Return where a finding leads: the tree that is made for it, else out of the house; None where the walk goes on.

    Nothing found goes on, and so does the tree that is made for the very finding.
    """
    danger = BY_ID.get(found)
    if danger is None or danger.tree == tree:
        return None
    if danger.tree and danger.tree in trees:
        return HandOver(danger.tree)
    return Refer(danger.call)
