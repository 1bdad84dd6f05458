"""The car's proximity circuit."""

from __future__ import annotations

from diagtree.physics.part import Mode, Part

PART = Part(
    id="proximity",
    meaning="the car's proximity circuit: supply, resistors, pin",
    names=("proximity",),
    modes=(
        Mode("open", "wire broken between the pin and the car's resistors"),
        Mode("pull-up-open", "no supply at the pin"),
        Mode("pull-down-open", "the car's resistor to earth is missing"),
        Mode("shorted", "pin shorted to earth"),
        Mode("series", "resistance in series with the pin", "ohm", 0.0, 1e7, usual=(50.0, 5e3)),
        Mode("leakage", "leakage from pin to earth", "ohm", 0.0, 1e9, usual=(100.0, 5e3)),
    ),
)
