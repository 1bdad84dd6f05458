"""The usual cautions, in the words shown wherever high voltage is near. They defer; they never promise safety."""

from __future__ import annotations

import re
from collections.abc import Iterable

from diagtree.knowledge.words import Needs, Power, Qualification, Where

LAW_FIRST = "Local law, the maker's procedure and a licensed person come first; this tool only leads and records."
COUNTS_AS_LIVE = (
    "Until the absence of voltage is proven in this case the car counts as live: insulating gloves on, "
    "checked before use, fit for the system's voltage; one person in charge, nobody else at the car."
)
HIGH_VOLTAGE = "High voltage kills. Orange cables and all they lead to: hands off unless made safe and proven."
LIVE_TEST = (
    "The car is live for this. Touch nothing with bare hands inside the inlet, the charger or at orange cables; "
    "measure only at the points named, with a meter and leads of CAT III 1000 V or better."
)
MAINS = "Mains voltage: only a qualified electrician measures here, by local rules."
NEVER_SAFE = "The record says who measured what and when. It does not say that the car is safe."
BARRIER = "A barrier and a sign stand around the car, since it charges with covers open."
AFTER_DANGER = (
    "A danger was found on this car. Plug nothing in and do not drive it, unless this very test says so and all "
    "that it asks for holds."
)
STAYS = "Somebody stays with the car for the whole charge, with the way to the emergency stop clear."

_QUALIFIED = {
    Qualification.NONE: "",
    Qualification.HIGH_VOLTAGE: "Only a person qualified for high-voltage vehicles does this, by local law.",
    Qualification.ELECTRICIAN: "Only a qualified electrician does this, by local law.",
}


def qualification_lines(qualification: Qualification) -> tuple[str, ...]:
    """Return who may do it, and that law, procedure and licence come first."""
    said = _QUALIFIED[qualification]
    return (said, LAW_FIRST) if said else ()


def job_cautions(
    needs: Needs, place: Where, qualification: Qualification, mind: Iterable[str], *, dead: bool, dead_only_near: bool
) -> tuple[str, ...]:
    """Return the cautions of a test or a correction, the most dangerous first, each once.

    dead_only_near : it reaches behind something that may be open only on a dead car.
    """
    lines: list[str] = []
    hands_on = place is not Where.RECEPTION
    if needs.power is Power.LIVE and hands_on:
        lines.append(LIVE_TEST)
    elif hands_on and (needs.power is Power.DEAD or dead_only_near):
        lines.append(HIGH_VOLTAGE)
    elif hands_on and not dead:
        lines.append("The car is live: stay away from orange cables and what they lead to.")
    lines.extend(qualification_lines(qualification))
    if qualification is Qualification.ELECTRICIAN:
        lines.append(MAINS)
    if hands_on and lines and LAW_FIRST not in lines:
        lines.append(LAW_FIRST)
    return tuple(dict.fromkeys((*lines, *mind)))


_ALWAYS_WHOLE = (  # not compiled before it is needed
    r"(?i)\b(?:live|high[ -]voltage|danger|orange|mains|[0-9]+ V"
    r"|proven?(?: it)? dead|dead pins|shock|tingl\w+|insulation tester|tester puts)\b"
)
_MOST_WORDS = 6


def in_short(caution: str) -> str | None:
    """Return the first words of a caution that was just read; None for one about live or high voltage: never cut."""
    if re.search(_ALWAYS_WHOLE, caution):
        return None
    words = re.split(r"[.;](?= |$)", caution)[0].split()  # behind a colon stands what to do
    if len(words) > _MOST_WORDS + 2:
        return f"{' '.join(words[:_MOST_WORDS])} ..."
    return " ".join(words) or None
