"""The inlet's temperature as the car shows it."""

from __future__ import annotations

from diagtree.physics.ac_charge import CAR, CHARGING, contact_temperature, currents
from diagtree.physics.data import CONTACT_STOP
from diagtree.physics.dc_charge import STOPS, dc_current
from diagtree.physics.inlet_sensor import SENSORS, readout
from diagtree.physics.observable import Observable
from diagtree.physics.setup import Setup


def _readout(setup: Setup, sensor: str, charging: str) -> float:
    if not charging:
        return readout(setup, sensor, setup.conditions.ambient)
    minutes, share = CHARGING[charging]
    if sensor == "inlet.ac_sensor":
        flowing = max(currents(setup, home=False, share=share).values())
        reached = contact_temperature(setup, "ac", minutes, flowing)
    else:
        reached = contact_temperature(setup, "dc", minutes, share * dc_current(setup))
    # The charge ends at the stop temperature: nothing hotter is seen.
    return readout(setup, sensor, min(reached, CONTACT_STOP.value))


OBSERVABLE = Observable(
    id="inlet-sensor-readout",
    kind="temperature",
    details=(SENSORS, ("", *CHARGING)),
    unit="degC",
    meaning="an inlet temperature sensor as the car shows it: at rest, or after so long on its own kind of charge",
    changed_by=(*CAR, *STOPS, "inlet.dc_sensor", "inlet.ac_contact", "inlet.dc_contact"),
    compute=_readout,
    source="IEC 60751 for platinum, beta or Steinhart-Hart for an NTC; the vehicle profile; first-order heating",
    assumes="a sensor sits beside its contacts; a readout ends at -40 and 215 degC (SAE J1979, from memory)",
    hazard="live",
)
