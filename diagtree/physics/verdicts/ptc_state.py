"""Whether a PTC switch at a charging contact says normal or too hot."""

from __future__ import annotations

from diagtree.physics.quantity import Facts, Input
from diagtree.physics.ranges import checked
from diagtree.physics.temperature_sensor import ptc_band
from diagtree.physics.verdict import Spelled, Verdict

RESISTANCE = Input("resistance", "ohm", "resistance of the sensor or chain", 0.0, float("inf"))
SENSOR = Input("sensor", "facts", "the PTC in the vehicle profile: {normal_low, normal_high}")

EXAMPLE: Facts = {"kind": "ptc", "normal_low": 600.0, "normal_high": 1500.0}
MANUAL = "user manual of a vehicle charge controller (2021), p. 179"


@checked(RESISTANCE, SENSOR)
def ptc_state(resistance: float, sensor: Facts) -> str:
    """Return what a PTC switch says: normal, too hot (or open), or short.

    resistance : of the sensor or the chain of them, 0 to infinity. [ohm]
    sensor : `{normal_low, normal_high}` of the vehicle profile. [ohm]

    Such a sensor cannot show a slow drift or a derating, only stop and go.
    Raises OutOfRange where the profile lacks a fact or says `unknown`.
    Source: the car's profile; 600 to 1500 ohm is one charge controller's normal band.
    """
    low, high = ptc_band(sensor)
    if resistance < low:
        return "short circuit or wrong sensor"
    return "normal" if resistance <= high else "too hot, or open circuit"


VERDICT = Verdict(
    id="ptc-state",
    meaning="whether a PTC switch says normal or too hot",
    inputs=(RESISTANCE, SENSOR),
    compute=ptc_state,
    rule="normal between the profile's two resistances, above them too hot or open",
    source=f"{MANUAL}; the car's profile",
    worked=(
        Spelled({"resistance": 1000.0, "sensor": EXAMPLE}, "normal", MANUAL),
        Spelled({"resistance": 1550.0, "sensor": EXAMPLE}, "too hot, or open circuit", MANUAL),
        Spelled({"resistance": 3.0, "sensor": EXAMPLE}, "short circuit or wrong sensor", "below the normal band"),
    ),
)
