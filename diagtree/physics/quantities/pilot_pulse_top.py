"""Level that the pilot's pulse still reaches when capacitance slows its edge."""

from __future__ import annotations

from diagtree.physics.pilot_circuit import PilotCircuit
from diagtree.physics.pilot_edges import pulse_top
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

DUTY = Input("duty", "percent", "share of the pilot's period spent high", 0.0, 100.0, 5.0)
STATE = Input("state", "word", "state of the control pilot", default="C", words=("A", "B", "C", "D"))
FREQUENCY = Input("frequency", "Hz", "frequency of the pilot", 100.0, 10000.0, 1000.0)
CAPACITANCE = Input("capacitance", "F", "total capacitance from pilot to earth", 0.0, 1e-7)


@checked(CAPACITANCE, DUTY, STATE, FREQUENCY)
def pilot_pulse_top(capacitance: float, duty: float = 5.0, state: str = "C", frequency: float = 1000.0) -> float:
    """Return the level that the pilot's pulse reaches before it falls again, from the full negative level. [V]

    capacitance : total, pilot to earth, up to 1e-7. [F]
    duty : 0 to 100, 5 where not given: the request for digital communication suffers first. [percent]
    state : A to D; frequency : 1000 where not given. [Hz]

    Raises OutOfRange outside the ranges.
    Source: charging of the line's capacitance through the parts of IEC 61851-1 Annex A.
    """
    return pulse_top(capacitance, duty, state, frequency, PilotCircuit())


QUANTITY = Quantity(
    id="pilot-pulse-top",
    meaning="level that the pilot's pulse still reaches with capacitance on its line",
    unit="V",
    inputs=(CAPACITANCE, DUTY, STATE, FREQUENCY),
    compute=pilot_pulse_top,
    formula="two-slope charging from -Vs: towards Vs through Rs up to the diode's drop, then through Rs parallel Rv",
    source="the circuit of IEC 61851-1 Annex A",
    worked=(
        Worked({"capacitance": 22e-9}, 5.79, 0.005, "computed"),
        Worked({"capacitance": 47e-9}, 3.27, 0.005, "computed"),
        Worked({"capacitance": 100e-9}, -2.56, 0.005, "computed"),
        Worked({"capacitance": 100e-9, "duty": 53.333}, 5.99, 0.01, "computed: 32 A settles"),
    ),
    hazard="live",
)
