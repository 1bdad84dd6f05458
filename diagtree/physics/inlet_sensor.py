"""The inlet's temperature sensors on a car with faults: resistance at their pins, and what the car reads out."""

from __future__ import annotations

import math

from diagtree.physics import facts as profile
from diagtree.physics import temperature_sensor
from diagtree.physics.assumed import READOUT_HIGHEST, READOUT_LOWEST
from diagtree.physics.pilot_circuit import parallel
from diagtree.physics.quantity import Facts
from diagtree.physics.setup import Setup

SENSORS = ("inlet.ac_sensor", "inlet.dc_sensor")
CONNECTOR = "inlet.connector"


def resistance(setup: Setup, sensor: str, temperature: float) -> float:
    """Return the resistance at the sensor's pins, its connector unplugged, at `temperature` [degC]. [ohm]

    Raises OutOfRange, naming the fact, where the profile does not describe the sensor.
    """
    described = setup.group(*sensor.split("."))
    low, high = _ends(described)
    shift = setup.value(sensor, "reads-high", 0.0) - setup.value(sensor, "reads-low", 0.0)
    sound = temperature_sensor.resistance(min(max(temperature + shift, low), high), described)
    if setup.has(sensor, "open"):
        return math.inf
    own = 0.0 if setup.has(sensor, "shorted") else sound
    return parallel(own + setup.value(sensor, "series", 0.0), setup.value(sensor, "leakage", math.inf))


def readout(setup: Setup, sensor: str, temperature: float) -> float:
    """Return the temperature that the car shows while the sensor has `temperature`. [degC]

    It ends at what one byte can say: an open or shorted sensor is shown as the one end or the other.
    Raises OutOfRange as `resistance` does, and for a switch that tells no temperature.
    """
    described = setup.group(*sensor.split("."))
    ohms = resistance(setup, sensor, temperature) + wiring(setup, CONNECTOR)
    ohms = parallel(ohms, setup.value(CONNECTOR, "leakage", math.inf))
    low, high = _ends(described)
    cold, hot = (temperature_sensor.resistance(end, described) for end in (low, high))
    if min(cold, hot) <= ohms <= max(cold, hot):
        return temperature_sensor.temperature(ohms, described)
    return low if abs(_log(ohms) - _log(cold)) < abs(_log(ohms) - _log(hot)) else high


def wiring(setup: Setup, connector: str) -> float:
    """Return what a low-voltage connector adds in series to every signal. [ohm]"""
    return math.inf if setup.has(connector, "open") else setup.value(connector, "corroded", 0.0)


def _log(ohms: float) -> float:
    """Return the logarithm, with both ends far away but finite so that distances compare."""
    return math.log(min(max(ohms, 1e-12), 1e12))


def _ends(described: Facts) -> tuple[float, float]:
    """Return the coldest and hottest that the car can show with this sensor. [degC]"""
    rows = profile.table(described, "table")
    low, high = READOUT_LOWEST.value, READOUT_HIGHEST.value
    # A long table is not carried beyond its rows.
    return (max(low, rows[0][0]), min(high, rows[-1][0])) if rows is not None and len(rows) > 3 else (low, high)
