"""Fault finding on the observables: names agree, and the simulated car's faults are explained rightly."""

from __future__ import annotations

import pytest

from diagtree.physics.defects.finding import CANNOT_TELL, NONE
from diagtree.physics.defects.readings import explanations
from diagtree.physics.defects.spot import CIRCUITS, SPOTS
from diagtree.physics.observable import observable_names, observe
from diagtree.physics.part import Part
from diagtree.physics.parts.pilot import PART as PILOT
from diagtree.physics.parts.plug import PART as PLUG
from diagtree.physics.parts.proximity import PART as PROXIMITY

CIRCUIT = {"pull_up": 330.0, "supply": 5.0}
TYPE_1 = {"inlet": {"type": "type-1", "proximity": {**CIRCUIT, "pull_down": 2700.0}}}
TYPE_2 = {"inlet": {"type": "type-2-combined", "proximity": {**CIRCUIT, "pull_down": 4700.0}}}


def found(circuit, facts, faults):
    """Read every usual spot of a circuit on a car with these faults, and explain it."""
    names = [spot.name for spot in SPOTS[circuit] if facts is TYPE_1 or spot.state != "unlatched"]
    readings = {name: (observe(name, facts, faults), 2.0 if name.startswith("resistance") else 0.03) for name in names}
    (only,) = explanations(readings, facts["inlet"])
    return only


def test_every_spot_is_an_observable():
    """Trees name by `of:` what faults are found from."""
    assert {spot.name for circuit in CIRCUITS for spot in SPOTS[circuit]} <= set(observable_names())


@pytest.mark.parametrize("facts", [TYPE_1, TYPE_2], ids=["type-1", "type-2"])
@pytest.mark.parametrize("circuit", CIRCUITS)
def test_a_simulated_car_without_fault_shows_none(circuit, facts):
    """Both say the same of a sound car."""
    one = found(circuit, facts, {})
    assert one.verdict == NONE, one.reason


PILOT_MODES = {
    "open": "wire-open",
    "series 300 ohm": "series-resistance",
    "leakage 3 kohm": "leakage",
    "diode-shorted": "diode-shorted",
    "diode-open": "diode-open",
    "diode-reversed": "diode-reversed",
    "stuck-in-b": "switch-open",
    "stuck-in-c": "switch-closed",
}
PROXIMITY_MODES = {
    "open": "contact-open",
    "pull-down-open": "pull-down",
    "series 200 ohm": "contact-resistance",
    "leakage 1 kohm": "leakage",
}


@pytest.mark.parametrize(("fault", "defect"), PILOT_MODES.items())
def test_every_fault_of_the_pilot_is_named(fault, defect):
    """The simulated car's fault, read everywhere, is the defect that is named."""
    one = found("pilot", TYPE_1, {"pilot": fault})
    assert one.best is not None, one.reason
    assert one.best.defect == defect


@pytest.mark.parametrize("facts", [TYPE_1, TYPE_2], ids=["type-1", "type-2"])
@pytest.mark.parametrize(("fault", "defect"), PROXIMITY_MODES.items())
def test_faults_of_the_cars_proximity_circuit_are_named(fault, defect, facts):
    """Behind the inlet, with a sound plug. Three readings of a type 2 plug may leave another one possible."""
    one = found("proximity", facts, {"proximity": fault})
    assert one.explanations[0].defect == defect, one.reason
    if facts is TYPE_1:
        assert one.best is one.explanations[0], one.reason
    else:
        assert one.best in (one.explanations[0], None)


@pytest.mark.parametrize("fault", ["shorted", "pull-up-open"])
def test_no_voltage_at_the_pin_is_a_short_or_no_supply(fault):
    """0 V in every state: the two read the same, and neither is named."""
    one = found("proximity", TYPE_1, {"proximity": fault})
    assert one.verdict == CANNOT_TELL
    assert {rival.defect for rival in one.rivals} == {"shorted-to-earth", "pull-up"}


@pytest.mark.parametrize(("fault", "defect"), [("open", "plug-resistor-open"), ("button-stuck", "button-open")])
def test_faults_of_a_type_1_plug_are_named(fault, defect):
    """By the car's pin and by the plug itself."""
    one = found("proximity", TYPE_1, {"plug": fault})
    assert one.best is not None, one.reason
    assert one.best.defect == defect


def test_every_mode_of_the_parts_is_met_here():
    """A fault that is added to a part wants its defect, or a reason to have none."""
    met = {word.split()[0] for word in (*PILOT_MODES, *PROXIMITY_MODES)} | {"shorted", "pull-up-open", "button-stuck"}
    left_out = {"coded"}  # another cable's plug is no defect of the circuit: of a type 2 plug any coding is taken
    for part in (PILOT, PROXIMITY, PLUG):
        assert isinstance(part, Part)
        assert {mode.word for mode in part.modes} <= met | left_out, part.id
