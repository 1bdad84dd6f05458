"""A proof charge of a simulated car: power and temperatures over the minutes, and where it cuts out."""

from __future__ import annotations

from collections.abc import Mapping

from diagtree.errors import OutOfRange
from diagtree.knowledge.words import Proof
from diagtree.physics import ac_charge, dc_charge
from diagtree.physics.part import Fault
from diagtree.physics.quantity import Facts
from diagtree.physics.setup import Conditions, Setup
from diagtree.records import dataclass

EVERY = 1.0
"""A sample is taken so often. [min]"""
LEAST = 0.05
"""Below this share of a sound car's power the charge counts as cut out. [-]"""


@dataclass(frozen=True, slots=True)
class Sample:
    """One line of the log: minutes since the start, power at the plug [kW], hottest contact of the inlet [degC].

    None where the vehicle profile lacks what the value needs.
    """

    minutes: float
    power: float | None
    inlet_temperature: float | None


@dataclass(frozen=True, slots=True)
class Charge:
    """A proof charge. `cut_out` : minutes after which it stopped by itself; None: it ran to its end."""

    samples: tuple[Sample, ...]
    cut_out: float | None


def run(
    proof: Proof, facts: Facts, faults: Mapping[str, Fault], conditions: Conditions, *, fixed: bool, die: float
) -> Charge:
    """Return the charge that `proof` asks for.

    fixed : nothing is wrong any more. Otherwise it cuts out: where physics stops it, else at the share `die` (0 to 1)
        of its minutes, because a proof tells for certain whether the car is fixed (docs/meaning.md).
    """
    car, sound = Setup(facts, faults, conditions), Setup(facts, {}, conditions)
    stops = None if fixed else die * proof.minutes
    samples = []
    for number in range(int(proof.minutes / EVERY) + 1):
        minutes = number * EVERY
        power = _power(car, proof.charge, minutes)
        full = _power(sound, proof.charge, minutes)
        if not fixed and power is not None and full is not None and power < LEAST * full:
            stops = min(minutes, stops if stops is not None else minutes)
        if stops is not None and minutes >= stops:
            samples.append(Sample(minutes, None if power is None else 0.0, _inlet(car, proof.charge, minutes)))
            return Charge(tuple(samples), stops)
        samples.append(Sample(minutes, power, _inlet(car, proof.charge, minutes)))
    return Charge(tuple(samples), stops)


def _power(car: Setup, kind: str, minutes: float) -> float | None:
    try:
        watts = ac_charge.power(car, minutes, home=False) if kind == "ac" else dc_charge.dc_power(car)
    except OutOfRange:
        return None
    return watts / 1000.0


def _inlet(car: Setup, kind: str, minutes: float) -> float | None:
    try:
        ac = kind == "ac"
        flowing = max(ac_charge.currents(car, home=False).values()) if ac else dc_charge.dc_current(car)
        return ac_charge.contact_temperature(car, kind, minutes, flowing)
    except OutOfRange:
        return None
