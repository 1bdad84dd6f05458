"""A temperature sensor in a charge inlet, with its two wires inside the inlet."""

from __future__ import annotations

from diagtree.physics.part import Mode, Part

PART = Part(
    id="temperature-sensor",
    meaning="temperature sensor of the charge inlet",
    names=("inlet.ac_sensor", "inlet.dc_sensor"),
    modes=(
        Mode("open", "open circuit in the sensor or its wires inside the inlet"),
        Mode("shorted", "its two wires touch"),
        Mode("reads-high", "drifted: as if it were warmer by so much", "K", 0.0, 200.0, usual=(3.0, 60.0)),
        Mode("reads-low", "drifted: as if it were colder by so much", "K", 0.0, 100.0, usual=(3.0, 60.0)),
        Mode("series", "resistance in series with it", "ohm", 0.0, 1e9),
        Mode("leakage", "resistance beside it, from water or carbon", "ohm", 0.0, 1e9),
    ),
)
