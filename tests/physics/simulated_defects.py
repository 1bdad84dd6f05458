"""Simulated cars with one defect, healthy parts somewhere in their tolerance, and a meter that errs."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from random import Random

from diagtree.physics.defects.defect import Loop
from diagtree.physics.defects.pilot_loop import PilotLoop
from diagtree.physics.defects.proximity_loop import CODED, ProximityLoop, coded_loop
from diagtree.physics.defects.readings import as_level
from diagtree.physics.defects.spot import PILOT, SPOTS, Spot

from ..oracles.signal_circuits import Pilot, Proximity

VOLT, OHM = (0.005, 0.02), (0.009, 0.3)
"""A handheld multimeter: share of the reading, and its counts of 0.01 V and of 0.1 ohm."""

AVERAGES = tuple(
    Spot(PILOT, "V", end, state, duty=duty) for end in ("station", "vehicle") for state in "BC" for duty in (10.0, 50.0)
)

Draw = Callable[[Random, float, float], float]
"""Nominal value and half-width of a tolerance to a part that might be built in."""


def normal(dice: Random, nominal: float, width: float) -> float:
    """Return a part, normal with the standard uncertainty of the tolerance: what the method assumes."""
    return dice.gauss(nominal, width / math.sqrt(3.0))


def rectangular(dice: Random, nominal: float, width: float) -> float:
    """Return a part evenly from its tolerance: the other extreme."""
    return dice.uniform(nominal - width, nominal + width)


@dataclass(frozen=True)
class Car:
    """One simulated case: what is wrong, its value [ohm], the healthy circuit as it should be, and what was read."""

    defect: str
    value: float | None
    loop: Loop
    readings: Mapping[Spot, tuple[float, float]]


def log_even(low: float, high: float) -> Callable[[Random], float]:
    """Return a draw of values, even in their logarithm."""
    return lambda dice: math.exp(dice.uniform(math.log(low), math.log(high)))


PILOT_DEFECTS: dict[str, tuple[str, object]] = {
    "series-resistance": ("series", log_even(20.0, 8e3)),
    "leakage": ("leakage", log_even(120.0, 50e3)),
    "shorted-to-earth": ("leakage", lambda dice: dice.uniform(0.0, 80.0)),
    "diode-shorted": ("diode", "shorted"),
    "diode-reversed": ("diode", "reversed"),
    "diode-open": ("diode", "open"),
    "switch-open": ("switch", "open"),
    "switch-closed": ("switch", "closed"),
    "wire-open": ("broken", True),
}
PROXIMITY_DEFECTS: dict[str, tuple[str, object]] = {
    "contact-resistance": ("contact", log_even(10.0, 3e3)),
    "contact-open": ("contact", math.inf),
    "leakage": ("leakage", log_even(80.0, 20e3)),
    "shorted-to-earth": ("leakage", lambda dice: dice.uniform(0.0, 50.0)),
    "plug-resistor": ("resistor", log_even(10.0, 4e3)),
    "plug-resistor-open": ("resistor", math.inf),
    "button-open": ("switch", "open"),
    "button-closed": ("switch", "closed"),
    "pull-up": ("up", log_even(30.0, 20e3)),
    "pull-down": ("down", log_even(5e3, 1e6)),
    "wire-open": ("broken", True),
}


def pilot_car(dice: Random, defect: str, draw: Draw) -> Car:
    """Return a car with a defect of its control pilot, read at some places."""
    circuit = Pilot(
        high=draw(dice, 12.0, 0.6),
        low=draw(dice, -12.0, 0.6),
        source=draw(dice, 1000.0, 30.0),
        drop=draw(dice, 0.7, 0.15),
        r2=draw(dice, 2740.0, 82.2),
        r3=draw(dice, 1300.0, 39.0),
        r4=draw(dice, 270.0, 8.1),
        in_car=dice.random() < 0.5,
    )
    value = _spoil(dice, circuit, PILOT_DEFECTS, defect)
    spots = _some(dice, (*SPOTS[PILOT], *dice.sample(AVERAGES, 2)))
    readings = {spot: _metered(dice, _pilot_volts(circuit, spot), spot, draw) for spot in spots}
    return Car(defect, value, PilotLoop(), readings)


def proximity_car(dice: Random, defect: str, draw: Draw) -> Car:
    """Return a car with a defect of its proximity circuit or plug, read at some places."""
    type_1 = defect.startswith("button") or dice.random() < 0.5
    coded = dice.choice(CODED)
    share = 0.1 if type_1 else 0.03
    resistor = 150.0 if type_1 else coded
    down = 2700.0 if type_1 else 4700.0
    circuit = Proximity(
        supply=draw(dice, 5.0, 0.25),
        up=draw(dice, 330.0, 33.0),
        down=draw(dice, down, 0.1 * down),
        resistor=draw(dice, resistor, share * resistor),
        button=draw(dice, 330.0, 33.0) if type_1 else 0.0,
    )
    value = _spoil(dice, circuit, PROXIMITY_DEFECTS, defect)
    usual = [spot for spot in SPOTS["proximity"] if type_1 or spot.state != "unlatched"]
    readings = {}
    for spot in _some(dice, tuple(usual)):
        true = circuit.plug(spot.state) if spot.unit == "ohm" else circuit.volts(spot.state)
        readings[spot] = _metered(dice, true, spot, draw)
    return Car(defect, value, ProximityLoop() if type_1 else coded_loop(coded), readings)


def _spoil(dice: Random, circuit: object, known: Mapping[str, tuple[str, object]], defect: str) -> float | None:
    """Build the defect in; return its value where it has one."""
    if defect == "none":
        return None
    part, wrong = known[defect]
    found = wrong(dice) if callable(wrong) else wrong
    setattr(circuit, part, found)
    return found if callable(wrong) else None


def _some(dice: Random, spots: tuple[Spot, ...]) -> list[Spot]:
    return dice.sample(spots, dice.randint(1, len(spots)))


def _pilot_volts(circuit: Pilot, spot: Spot) -> float:
    if spot.duty is not None:
        return circuit.average(spot.end, spot.state, spot.duty)
    return circuit.volts(spot.end, spot.state, circuit.high if spot.half == "positive" else circuit.low)


def _metered(dice: Random, true: float, spot: Spot, draw: Draw) -> tuple[float, float]:
    """Return what the meter shows, to its last digit, and the standard uncertainty that its accuracy gives."""
    share, counts = VOLT if spot.unit == "V" else OHM
    if math.isinf(true):
        return as_level(spot, true, 0.0)
    if spot.duty is not None:
        true = draw(dice, true, 0.3)
    shown = round(draw(dice, true, share * abs(true) + counts), 2 if spot.unit == "V" else 1)
    shown = shown if spot.unit == "V" else max(shown, 0.0)
    return as_level(spot, shown, (share * abs(shown) + counts) / math.sqrt(3.0))
