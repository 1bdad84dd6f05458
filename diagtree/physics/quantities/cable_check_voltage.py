"""Test voltage of a DC station's cable check."""

from __future__ import annotations

from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

VEHICLE = Input("vehicle", "V", "highest voltage the vehicle states", 0.0, 1500.0)
STATION = Input("station", "V", "highest voltage of the station", 0.0, 1500.0)


@checked(VEHICLE, STATION)
def cable_check_voltage(vehicle: float, station: float) -> float:
    """Return the test voltage of a DC station's cable check. [V]

    vehicle : highest voltage the vehicle states, 0 to 1500. [V]
    station : highest voltage of the station, 0 to 1500. [V]

    Raises OutOfRange outside these ranges.
    Source: IEC 61851-23:2023, formula CC.1, by the EVerest charging-station stack.
    """
    if vehicle <= 500.0:
        return min(500.0, vehicle + 50.0, station)
    return min(station, 1.1 * vehicle)


QUANTITY = Quantity(
    id="cable-check-voltage",
    meaning="test voltage of a DC station's cable check",
    unit="V",
    inputs=(VEHICLE, STATION),
    compute=cable_check_voltage,
    formula="min(500 V, Uvehicle + 50 V, Ustation) up to 500 V; above, min(Ustation, 1.1 Uvehicle)",
    source="IEC 61851-23:2023, formula CC.1, by the EVerest charging-station stack",
    worked=(
        Worked({"vehicle": 420.0, "station": 1000.0}, 470.0, 1.0, "computed from the looked-up formula"),
        Worked({"vehicle": 800.0, "station": 1000.0}, 880.0, 1.0, "computed from the looked-up formula"),
        Worked({"vehicle": 420.0, "station": 400.0}, 400.0, 1.0, "computed from the looked-up formula"),
    ),
    hazard="high-voltage",
)
