"""Fault finding against the published table of pilot and proximity levels: read the levels, name the fault and value.

Levels: nodal analysis of the circuit of IEC 61851-1 Annex A with its nominal parts (computed; diode drop from memory,
the rest looked up), and the proximity voltages printed in the user manual of a vehicle charge controller.
"""

from __future__ import annotations

import pytest

from diagtree.physics.defects.finding import NAMED, NONE, find
from diagtree.physics.defects.pilot_loop import PilotLoop
from diagtree.physics.defects.proximity_loop import ProximityLoop, coded_loop
from diagtree.physics.defects.spot import PILOT, Spot

NODAL = "nodal analysis of the circuit of IEC 61851-1 Annex A (computed; diode drop from memory, rest looked up)"
MANUAL = "user manual of a vehicle charge controller (2021), p. 162 and 219 (looked up)"
QUOTED = "IEC 61851-1 A.4.9 (80 ohm) as a user quotes it in an issue of an open station firmware (looked up)"


def levels(**read):
    """Spots by short names: `c` is state C at the station, `c_minus` its negative half, `c_car` the car's end."""
    found = {}
    for name, volts in read.items():
        state, _, where = name.partition("_")
        end = "vehicle" if where == "car" else "station"
        found[Spot(PILOT, "V", end, state.upper(), "negative" if where == "minus" else "positive")] = (volts, 0.03)
    return found


ROWS = [  # defect; its value or None; levels as published; source
    ("none", None, levels(a=12.0, b=8.979, c=5.995, c_minus=-12.0), NODAL),
    ("diode-shorted", None, levels(b=8.79, c=5.62, c_minus=-5.62), NODAL),
    ("diode-reversed", None, levels(b=12.0, c=12.0, c_minus=-6.00), NODAL),
    ("switch-open", None, levels(a=12.0, b=8.98, c=8.98, c_minus=-12.0), NODAL),
    ("switch-closed", None, levels(a=12.0, b=6.00, c=6.00, c_minus=-12.0), NODAL),
    ("wire-open", None, levels(a=12.0, b=12.0, c=12.0, c_minus=-12.0, c_car=0.0), NODAL),
    ("shorted-to-earth", 80.0, levels(a=0.89, c=0.874, c_minus=-0.89), QUOTED),
    ("leakage", 10e3, levels(a=10.909, b=8.366, c=5.726, c_minus=-10.909), NODAL),
    ("leakage", 4.7e3, levels(a=9.90, b=7.77, c=5.45, c_minus=-9.90), NODAL),
    ("leakage", 2.7e3, levels(a=8.757, b=7.062, c=5.108, c_minus=-8.757), NODAL),
    ("leakage", 1e3, levels(a=6.000, b=5.182, c=4.082, c_minus=-6.000), NODAL),
    ("series-resistance", 100.0, levels(c=6.298, c_car=5.728, c_minus=-12.0), NODAL),
    ("series-resistance", 300.0, levels(c=6.821, c_car=5.267, c_minus=-12.0), NODAL),
    ("series-resistance", 500.0, levels(c=7.26, c_car=4.88, c_minus=-12.0), NODAL),
    ("series-resistance", 1000.0, levels(c=8.079, c_car=4.157, c_minus=-12.0), NODAL),
]


@pytest.mark.parametrize(("defect", "value", "read", "source"), ROWS, ids=[f"{row[0]}-{row[1]}" for row in ROWS])
def test_the_fault_of_the_table_is_named_with_its_value(defect, value, read, source):
    """From the levels back to the fault; its value to one per cent, and inside its interval."""
    found = find(PilotLoop(), read)
    assert found.verdict == (NONE if defect == "none" else NAMED), (found.reason, source)
    assert found.best.defect == defect, source
    if value is not None:
        assert found.best.value == pytest.approx(value, rel=0.01), source
        assert found.best.low < value < found.best.high


def pins(**volts):
    return {Spot("proximity", "V", "vehicle", state): (value, 0.03) for state, value in volts.items()}


PROXIMITY_ROWS = [  # verdict's defect; healthy circuit; voltages
    ("none", ProximityLoop(), pins(empty=4.4, latched=1.5, unlatched=2.75)),
    ("button-open", ProximityLoop(), pins(empty=4.4, latched=2.75, unlatched=2.75)),
    ("button-closed", ProximityLoop(), pins(empty=4.4, latched=1.5, unlatched=1.5)),
]


@pytest.mark.parametrize(("defect", "loop", "read"), PROXIMITY_ROWS, ids=[row[0] for row in PROXIMITY_ROWS])
def test_the_printed_voltages_of_a_latch_button(defect, loop, read):
    """4.4, 1.5 and 2.75 V are printed for nothing plugged in, latched and pressed."""
    found = find(loop, read)
    assert found.best is not None, (found.reason, MANUAL)
    assert found.best.defect == defect, MANUAL


@pytest.mark.parametrize(("resistor", "latched"), [(100.0, 1.144), (220.0, 1.945), (680.0, 3.214), (1500.0, 3.875)])
def test_a_coded_plug_in_its_inlet_is_healthy(resistor, latched):
    """Voltages of type 2 plugs with 4.7 kohm in the car, computed from the printed circuit."""
    found = find(coded_loop(resistor), pins(empty=4.672, latched=latched))
    healthy = next(one for one in found.explanations if one.defect == "none")
    assert healthy.fits
    assert healthy.misfit < 0.1, MANUAL
