"""Rise and fall time of the pilot's edges from the capacitance on its line."""

from __future__ import annotations

from diagtree.physics import pilot_inputs as inputs
from diagtree.physics.pilot_edges import edge_constant
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

TIME = Input("value", "s", "time of the edge", 0.0, 1e-3)
LIMIT = "IEC 61851-1: rise below 10 us (B) and 7 us (C), fall below 13 us; 1 nF computed"


@checked(inputs.CAPACITANCE, inputs.EDGE_STATE, inputs.EDGE)
def pilot_edge_time(capacitance: float, state: str = "B", edge: str = "rise") -> float:
    """Return the time of an edge between 10 and 90 per cent of its swing. [s]

    capacitance : total, pilot to earth, of station, cable and vehicle, up to 1e-6. [F]
    state : B or C; edge : rise or fall.

    Limits of IEC 61851-1: rise below 10 us in state B and 7 us in C, fall below 13 us.
    Raises OutOfRange outside the ranges.
    Source: charging of the line's capacitance through the parts of IEC 61851-1 Annex A.
    """
    return edge_constant(edge, state) * capacitance


@checked(TIME, inputs.EDGE_STATE, inputs.EDGE)
def capacitance_of_edge(value: float, state: str = "B", edge: str = "rise") -> float:
    """Return the total capacitance that gives an edge of `value` [s]. [F]"""
    return value / edge_constant(edge, state)


QUANTITY = Quantity(
    id="pilot-edge-time",
    meaning="rise or fall time of the pilot's edges",
    unit="s",
    inputs=(inputs.CAPACITANCE, inputs.EDGE_STATE, inputs.EDGE),
    compute=pilot_edge_time,
    inverses={"capacitance": capacitance_of_edge},
    formula="t = C * (Rs ln(...) up to the diode's drop + (Rs parallel Rv) ln(...) above it)",
    source="IEC 61851-1 (limits, levels), by the guide of the EVerest charging-station stack; two-slope charging",
    worked=(
        Worked({"capacitance": 1e-9}, 1.6741e-6, 2e-9, LIMIT),
        Worked({"capacitance": 1e-9, "state": "C"}, 1.1822e-6, 2e-9, LIMIT),
        Worked({"capacitance": 5.5e-9, "state": "B", "edge": "fall"}, 12.0e-6, 0.1e-6, "computed; 5.5 nF from memory"),
    ),
    hazard="live",
)
