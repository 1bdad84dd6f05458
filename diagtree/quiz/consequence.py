"""What an unsafe act leads to on a real car, matter-of-fact, with the cautions that were passed by.

Each gives (sort of harm, what happens, cautions missed). The mechanisms are common knowledge of the trade, from memory.
Nobody is hurt in a round, and nothing here says what would be safe: local law, the maker's procedure and a licensed
person come first.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from diagtree.knowledge.words import Access, Correction, Test
from diagtree.quiz.round import Round
from diagtree.reason.arrangement import Arrangement, Need
from diagtree.walk import cautions
from diagtree.walk.dangers import STAND_BACK

Consequence = tuple[str, tuple[str, ...], tuple[str, ...]]

ARC, SHOCK, CONTACTS, DANGER = "arc", "shock", "live-contacts", "danger"
NOT_DONE = "In this round it counts as not done. On a car it would have been."


def worked_live(played: Round, now: Arrangement, need: Need, work: Test | Correction) -> Consequence:
    """Return what comes of work on parts that must be dead, on a car that is not made safe and proven dead."""
    accesses = {access: played.walk.catalogue.access[access] for access in sorted(need.open)}
    harm, happens = _test_live(work) if isinstance(work, Test) else (
        SHOCK, "A plug or a joint parted now draws an arc, and DC does not let go of a hand that closes on it: burns, "
        "cramp, the heart out of step."
    )  # fmt: skip
    told = [f"The car counts as live, about {_volts(played)}. {happens}"]
    told += _airbags(item for access, item in accesses.items() if access not in now.open)
    if isinstance(work, Test):
        told.append("There is no reading.")
    return harm, tuple(told), _missed(accesses.values(), work.mind)


def _test_live(test: Test) -> tuple[str, str]:
    if any(read.unit == "ohm" for read in test.reads):
        return ARC, (
            "A meter set to ohms is nearly a short circuit to it, and so is a lead that slips: an arc of several "
            "thousand degrees before hands and face, the meter bursts."
        )
    if test.reads:
        return ARC, (
            "A lead that slips between two contacts closes that circuit: an arc of several thousand degrees before "
            "hands and face."
        )
    return SHOCK, "A hand, a lamp or a mirror among these parts closes the circuit through whoever holds it."


def opened_live(played: Round, access: str) -> Consequence:
    """Return what comes of opening what may be open only on a dead car."""
    item = played.walk.catalogue.access[access]
    told = (
        f"Behind it ({item.name}) lie parts at about {_volts(played)}, bare to a finger or a dropped spanner: a shock "
        "through the arms, or a short circuit that throws molten copper.",
        *_airbags([item]),
    )
    return SHOCK, told, _missed([item], ())


def powered_open(played: Round, exposed: Iterable[str]) -> Consequence:
    """Return what comes of powering a car with covers off or connectors apart that must be refitted before."""
    accesses = [played.walk.catalogue.access[access] for access in exposed]
    bare = [item.name for item in accesses if item.dead_only]
    apart = [item.name for item in accesses if item.refit_before_live]
    told = []
    if bare:
        told.append(
            f"About {_volts(played)} stand again behind what is open: {', '.join(bare)}. Whoever works there believes "
            "that the car is dead."
        )
    if apart:
        told.append(
            f"Parts that must be refitted first are apart: {', '.join(apart)}. The car powers up with a circuit open: "
            "contacts arc, control units store faults that were not there, and the next diagnosis starts from a lie."
        )
    if not told:
        told.append(f"Something that must be closed stands open on a live car: {', '.join(i.name for i in accesses)}.")
    missed = _missed(accesses, ("Before re-energising: all covers on, all connectors locked, nobody at the car.",))
    return (SHOCK if bare else CONTACTS), tuple(told), missed


def danger_ignored(played: Round, test: str) -> Consequence:
    """Return what comes of going on at a car on which a danger was found."""
    found = played.walk.test(test)
    told = (
        f"A danger was found at this car ({found.ask}). Going on is how a fault becomes a fire or a shock: burnt or "
        "wet insulation fails when it is touched, moved or charged through.",
        "What is left is to set the car apart and refer it.",
    )
    return DANGER, told, (*STAND_BACK, *found.mind)


def _missed(accesses: Iterable[Access], own: Iterable[str]) -> tuple[str, ...]:
    minds = [line for item in accesses for line in item.mind]
    return tuple(dict.fromkeys((cautions.HIGH_VOLTAGE, cautions.COUNTS_AS_LIVE, *own, *minds, cautions.LAW_FIRST)))


def _airbags(accesses: Iterable[Access]) -> tuple[str, ...]:
    """Return the second harm where an access passes an airbag, as its own caution says."""
    if any("airbag" in line.lower() for item in accesses for line in item.mind):
        return ("On the way there an airbag's connector is parted with 12 V on: it may fire, and break an arm.",)
    return ()


def _volts(played: Round) -> str:
    battery = played.walk.facts.get("battery")
    nominal = battery.get("nominal") if isinstance(battery, Mapping) else None
    return f"{nominal:g} V DC" if isinstance(nominal, int | float) else "several hundred volts DC"
