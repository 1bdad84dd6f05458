"""The control pilot: its wire, and the car's diode, resistors and switch."""

from __future__ import annotations

from diagtree.physics.part import Mode, Part

PART = Part(
    id="pilot",
    meaning="control pilot: wire and earth between both ends, and the car's part of the circuit",
    names=("pilot",),
    modes=(
        Mode("open", "wire broken"),
        Mode("series", "resistance in the loop of pilot and earth", "ohm", 0.0, 1e7, usual=(100.0, 3e3)),
        Mode("leakage", "leakage from pilot to earth before the car's diode", "ohm", 0.0, 1e9, usual=(500.0, 20e3)),
        Mode("diode-shorted", "the car's diode conducts both ways"),
        Mode("diode-open", "the car's diode conducts no way"),
        Mode("diode-reversed", "the car's diode is the wrong way round"),
        Mode("stuck-in-b", "the switch that asks for the charge does not close"),
        Mode("stuck-in-c", "the switch that asks for the charge does not open"),
    ),
)
