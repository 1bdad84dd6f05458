"""Temperature of a contact after a time under a steady current."""

from __future__ import annotations

from diagtree.physics import heating
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

AMBIENT = Input("ambient", "degC", "temperature around it", -60.0, 100.0)
CURRENT = Input("current", "A", "current through the contact", 0.0, 1500.0)
RESISTANCE = Input("resistance", "ohm", "resistance of the contact", 0.0, 10.0)
THERMAL_RESISTANCE = Input("thermal_resistance", "K/W", "thermal resistance to the surroundings", 0.001, 1000.0)
TIME_CONSTANT = Input("time_constant", "s", "thermal time constant", 0.1, 100000.0)
TIME = Input("time", "s", "time since the current began", 0.0, 1e7)

EXAMPLE = {"ambient": 25.0, "current": 32.0, "resistance": 0.005, "thermal_resistance": 10.0, "time_constant": 600.0}


@checked(AMBIENT, CURRENT, RESISTANCE, THERMAL_RESISTANCE, TIME_CONSTANT, TIME)
def contact_temperature(
    ambient: float, current: float, resistance: float, thermal_resistance: float, time_constant: float, time: float
) -> float:
    """Return the temperature of a contact after a time. [degC]

    ambient : temperature around it, -60 to 100. [degC]
    current : current through the contact, 0 to 1500. [A]
    resistance : resistance of the contact, 0 to 10. [ohm]
    thermal_resistance : thermal resistance to the surroundings, 0.001 to 1000. [K/W]
    time_constant : thermal time constant, 0.1 to 100000. [s]
    time : time since the current began, 0 to 1e7. [s]

    Raises OutOfRange outside these ranges.
    Source: first-order thermal model.
    """
    rise = heating.loss(current, resistance) * thermal_resistance
    return heating.temperature(ambient, rise, time, time_constant)


QUANTITY = Quantity(
    id="contact-temperature",
    meaning="temperature of a contact after a time",
    unit="degC",
    inputs=(AMBIENT, CURRENT, RESISTANCE, THERMAL_RESISTANCE, TIME_CONSTANT, TIME),
    compute=contact_temperature,
    formula="T = Ta + I^2 R Rth (1 - exp(-t/tau))",
    source="first-order thermal model",
    worked=(
        Worked({**EXAMPLE, "time": 1800.0}, 73.65, 0.01, "computed; model constants assumed"),
        Worked({**EXAMPLE, "time": 600.0}, 57.365, 0.01, "computed; model constants assumed"),
        Worked({**EXAMPLE, "time": 0.0}, 25.0, 0.0, "starts at the surroundings"),
    ),
    hazard="high-voltage",
)
