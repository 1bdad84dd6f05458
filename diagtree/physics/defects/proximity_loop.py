"""The proximity circuit with plug, latch button and contact: `proximity_circuit` as a loop that can be read anywhere.

Tolerances of healthy parts are from memory: SAE J1772 (supply +/-5 %, all its resistors +/-10 %) and IEC 61851-1
Annex B (a coded plug's resistor +/-3 %).
"""

from __future__ import annotations

from math import inf, isinf, sqrt

from diagtree.errors import WrongUse
from diagtree.physics import proximity_circuit as proximity
from diagtree.physics.defects.spot import Spot
from diagtree.physics.pilot_circuit import parallel
from diagtree.physics.ranges import plain
from diagtree.records import dataclass

CODED = (100.0, 220.0, 680.0, 1500.0)
"""Resistors of type 2 plugs: 63, 32, 20 and 13 A. [ohm]"""
BUTTON = proximity.PRESSED - proximity.LATCHED
"""What the open switch of a pressed latch button adds. [ohm]"""
PERCENT_SUPPLY, PERCENT_CAR, PERCENT_LATCH, PERCENT_CODED = 5.0, 10.0, 10.0, 3.0
"""Tolerances: supply; the car's two resistors; a type 1 plug's; a coded plug's. [%]"""


@dataclass(frozen=True, slots=True)
class ProximityLoop:
    """One proximity circuit, healthy unless told otherwise: a type 1 plug in a type 1 inlet.

    resistor, button : of the plug; the button's resistor counts where its switch is open. None: no button. [ohm]
    switch : of the latch button: works, open (as if always pressed) or closed (as if never pressed).
    contact : extra resistance in the loop between plug and inlet. leakage : from the contact to earth in the car. [ohm]
    """

    resistor: float = proximity.LATCHED
    button: float | None = BUTTON
    percent: float = PERCENT_LATCH
    switch: str = "works"
    contact: float = 0.0
    leakage: float = inf
    pull_up: float = proximity.PULL_UP
    pull_down: float = proximity.PULL_DOWN_TYPE_1
    supply: float = proximity.SUPPLY

    def plug(self, state: str) -> float:
        """Return the plug's own resistance between proximity and earth. [ohm]"""
        if state == "empty":
            return inf
        opened = {"open": True, "closed": False}.get(self.switch, state == "unlatched")
        return self.resistor + (self.button or 0.0) if opened else self.resistor

    def read(self, spot: Spot) -> float:
        """Return the voltage of the car's pin [V], or the plug's resistance as `bounded` [-]."""
        plug = self.plug(spot.state)
        if spot.unit == "ohm":
            return bounded(plug)
        outside = parallel(plug + self.contact, self.leakage)
        return proximity.pin_voltage(outside, self.pull_down, self.pull_up, self.supply)

    def parts(self) -> tuple[tuple[str, float], ...]:
        """Return each part and u = a / sqrt(3) of its tolerance a (JCGM 100:2008, 4.3.7)."""
        percents = {
            "supply": PERCENT_SUPPLY,
            "pull_up": PERCENT_CAR,
            "pull_down": PERCENT_CAR,
            "resistor": self.percent,
            **({} if self.button is None else {"button": self.percent}),
        }
        return tuple((name, getattr(self, name) * part / 100.0 / sqrt(3.0)) for name, part in percents.items())


def bounded(resistance: float) -> float:
    """Return R / (R + 330 ohm): 0 for a short, 1 for an open circuit, so that OL is a number as well. [-]"""
    return 1.0 if isinf(resistance) else resistance / (resistance + proximity.PULL_UP)


def unbounded(share: float) -> float:
    """Return the resistance of a `bounded` one. [ohm]"""
    return inf if share >= 1.0 else proximity.PULL_UP * share / (1.0 - share)


def coded_loop(resistor: float) -> ProximityLoop:
    """Return a healthy type 2 plug with its coding `resistor` [ohm] in a type 2 inlet.

    Raises WrongUse where no plug is coded so.
    """
    if resistor not in CODED:
        raise WrongUse(
            f"`cable` = {plain(resistor)} ohm is no coding of a type 2 plug: type 100 (63 A), 220 (32 A), 680 (20 A) "
            "or 1500 (13 A, or a DC plug)"
        )
    return ProximityLoop(resistor=resistor, button=None, percent=PERCENT_CODED, pull_down=proximity.PULL_DOWN_CCS2)
