"""Where physics and the figures of slow AC charging differ, and why."""

from __future__ import annotations

from collections.abc import Mapping

from tests.car.differences import MARLIN, PETREL, SURE, Explained, both

SOMETIMES = "a module that comes back now and then; the simulated one stays out"
NOT_YET = "after five minutes the simulated car is still cool; the figures hold cars that come warm or derate early"
SEVERED = "the break that is simulated is one for good; the figures hold pins that still touch, or touch now and then"

EXPLAINED: Mapping[tuple[str, str], Explained] = {
    ("supply-phase-bad", "point-volts"): Explained(
        "many displays show the phase that is there, or the mean; simulated is the lowest",
        {MARLIN: SURE["low"], PETREL: {"low": 69.0, "fits": 31.0}},
    ),
    ("charger-part-out", "ac-power-readout"): both(SOMETIMES, SURE["part"]),
    ("charger-part-out", "charger-temperature-readout"): both(
        "some modules fail by heat; the simulated charger is as cool as a sound one", SURE["cool"]
    ),
    ("inlet-contact-derates", "ac-power-readout"): both(NOT_YET, SURE["full"]),
    ("inlet-contact-derates", "inlet-conductor-resistance"): Explained(
        "at 16 A the same heat takes four times the resistance: on this car it is never hidden",
        {MARLIN: SURE["one-higher"]},
    ),
    ("inlet-phase-lost", "ac-power-readout"): Explained(SEVERED, {PETREL: SURE["none"], MARLIN: SURE["part"]}),
    ("inlet-phase-lost", "inlet-conductor-resistance"): both(SEVERED, SURE["open"]),
    ("charger-coolant-weak", "ac-power-readout"): both(NOT_YET, SURE["full"]),
}
