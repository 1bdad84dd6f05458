"""Observables and parts: every name computes, what is said to change it does, and nothing else does."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.errors import OutOfRange, WrongUse
from diagtree.physics import setup
from diagtree.physics.inlet_sensor import SENSORS
from diagtree.physics.observable import Observable, observable, observable_names, observables, observe
from diagtree.physics.part import Mode, Part, UnknownFault, UnknownPart, fault, part, part_names, parts
from diagtree.physics.pilot_circuit import PilotCircuit
from diagtree.physics.proximity_circuit import pin_voltage
from diagtree.physics.quantity import Facts
from diagtree.physics.resistance_thermometer import ratio
from diagtree.physics.setup import Conditions
from diagtree.physics.units import unit

NTC: Facts = {"kind": "ntc", "r25": 10000.0, "beta": 3435.0}
TYPE_2: Facts = {
    "inlet": {
        "type": "type-2-combined",
        "ac_sensor": NTC,
        "dc_sensor": {"kind": "platinum", "r0": 1000.0},
        "proximity": {"pull_up": 330.0, "pull_down": 4700.0, "supply": 5.0},
    },
    "charger": {"phases": 3.0, "current": 16.0, "derates_above": 75.0},
    "battery": {"nominal": 400.0},
    "dc": {"power": 100.0, "current": 300.0},
}
TYPE_1: Facts = {
    **TYPE_2,
    "inlet": {**TYPE_2["inlet"], "type": "type-1", "proximity": {"pull_down": 2700.0}},  # type: ignore[dict-item]
    "charger": {"phases": 1.0, "current": 32.0, "derates_above": 60.0},
}
CARS = (TYPE_2, TYPE_1)
LIMIT_OF_CHARGE = Conditions(charge=100.0)


def faults() -> Iterator[tuple[str, str | float]]:
    """Each part with each of its modes, those with a number at both ends of the usual span or at odd values."""
    for kind in parts():
        for name in kind.names:
            for mode in kind.modes:
                for text in written(mode):
                    yield name, text


def written(mode: Mode) -> list[str]:
    if not mode.unit:
        return [mode.word]
    if mode.usual is not None:
        return [mode.word, *(f"{mode.word} {end} {mode.unit}" for end in mode.usual)]
    odd = {"ohm": (30.0, 2000.0, 1e5), "A": (4.0, 10.0), "V": (14.9, 200.0), "K": (5.0,)}[mode.unit]
    return [f"{mode.word} {number} {mode.unit}" for number in odd if mode.low <= number <= mode.high]


def families() -> list[pytest.param]:  # type: ignore[valid-type]
    return [pytest.param(one, id=one.id) for one in observables()]


def test_names_are_unique_and_found_again():
    names = [name for one in observables() for name in one.names()]
    assert len(names) == len(set(names)) == len(observable_names())
    for one in observables():
        for name in one.names():
            assert observable(name) is one
            assert observable(name.replace(", ", ",").replace("(", " ( ")) is one


@pytest.mark.parametrize("one", families())
def test_every_family_says_what_it_is(one: Observable):
    assert unit(one.unit).name == one.unit
    assert one.meaning
    assert one.source
    assert one.hazard in ("none", "live", "high-voltage")
    assert one.id.replace("-", "_") == one.compute.__module__.rpartition(".")[2]
    assert set(one.changed_by) <= set(part_names())


def some(one: Observable) -> list[str]:
    """The family's names, of equal ones that differ only in how long a charge ran just two."""
    return [name for name in one.names() if not any(f"charging {time} " in name for time in (10, 20, 60))]


@cache
def moved(one: Observable) -> frozenset[tuple[str, str | float]]:
    """Return the faults that change one of the family's numbers on one of the cars; none is ever not a number."""
    found = set()
    for car in CARS:
        for name in some(one):
            sound = observe(name, car)
            for who, text in faults():
                seen = observe(name, car, {who: text})
                assert not math.isnan(seen), (name, who, text)
                if seen != sound:
                    found.add((who, text))
    return frozenset(found)


@pytest.mark.parametrize("one", families())
def test_changed_by_names_the_parts_that_change_it_and_no_others(one: Observable):
    """Some fault of each part that is named moves one of the numbers; a fault of another part moves none."""
    assert {who for who, _ in moved(one)} == set(one.changed_by)


def test_every_fault_shows_somewhere():
    """A fault that nothing measures could not be found; small values of it may well hide."""
    shown = frozenset().union(*(moved(one) for one in observables()))
    assert {fault(*one).mode for one in faults()} == {fault(*one).mode for one in shown}


@settings(deadline=None, max_examples=60)
@given(
    ambient=st.floats(-25.0, 45.0),
    charge=st.floats(0.0, 100.0),
    offered=st.floats(0.0, 80.0),
    name=st.sampled_from(observable_names()),
    wrong=st.sampled_from(sorted(faults(), key=str)),
)
def test_any_conditions_give_a_number_that_is_the_same_again(ambient, charge, offered, name, wrong):
    there = Conditions(ambient, charge, offered)
    first = observe(name, TYPE_2, dict([wrong]), there)
    assert first == observe(name, TYPE_2, dict([wrong]), there)
    assert not math.isnan(first)


@settings(deadline=None)
@given(series=st.floats(0.001, 1e5), state=st.sampled_from("BCD"))
def test_the_pilot_is_the_circuit_of_the_quantities(series, state):
    for end in ("station", "vehicle"):
        seen = observe(f"voltage(pilot, {end} end, state {state})", TYPE_2, {"pilot": f"series {series:.12f} ohm"})
        assert seen == pytest.approx(PilotCircuit(series=series).voltage(state, end))
        negative = observe(f"voltage(pilot, {end} end, state {state}, negative half)", TYPE_2)
        assert negative == pytest.approx(-12.0)


@settings(deadline=None)
@given(offered=st.floats(6.0, 51.0), state=st.sampled_from("BCD"))
def test_a_meter_s_average_is_that_of_the_circuit(offered, state):
    there = Conditions(offered=offered)
    seen = observe(f"voltage(pilot, station end, state {state}, average)", TYPE_2, None, there)
    assert seen == pytest.approx(PilotCircuit().average(state, observe("duty(pilot)", TYPE_2, None, there)))
    assert observe("duty(pilot)", TYPE_2, None, there) == pytest.approx(offered / 0.6)


def test_a_meter_s_average_of_a_pilot_without_a_car_is_its_steady_level():
    assert observe("voltage(pilot, station end, state A, average)", TYPE_2) == 12.0
    assert observe("voltage(pilot, station end, state F, average)", TYPE_2) == -12.0


def test_faults_of_the_pilot_are_seen_where_they_are():
    assert observe("voltage(pilot, vehicle end, state C)", TYPE_2, {"pilot": "open"}) == 0.0
    assert observe("voltage(pilot, station end, state C)", TYPE_2, {"pilot": "open"}) == 12.0
    for diode in ("shorted", "open", "reversed"):
        for half, words in (("positive", ""), ("negative", ", negative half")):
            seen = observe(f"voltage(pilot, station end, state C{words})", TYPE_2, {"pilot": f"diode-{diode}"})
            assert seen == PilotCircuit(diode=diode).voltage("C", half=half)
    leaking = observe("voltage(pilot, station end, state B, negative half)", TYPE_2, {"pilot": "leakage 2 kohm"})
    assert leaking == PilotCircuit(leakage=2000.0).voltage("B", half="negative") == pytest.approx(-8.0)
    assert observe("voltage(pilot, station end, state C)", TYPE_2, {"pilot": "stuck-in-b"}) == observe(
        "voltage(pilot, station end, state B)", TYPE_2
    )


def test_the_proximity_pin_is_the_circuit_of_the_quantities():
    assert observe("voltage(proximity, vehicle end, latched)", TYPE_2) == pin_voltage(220.0, 4700.0)
    assert observe("voltage(proximity, vehicle end, unlatched)", TYPE_1) == pin_voltage(480.0, 2700.0)
    assert observe("voltage(proximity, vehicle end, empty)", TYPE_1) == pin_voltage(math.inf, 2700.0)
    # an unknown pull-down is that of the standard circuit of the inlet's type
    unknown: Facts = {**TYPE_2, "inlet": {"type": "type-1", "proximity": {"pull_down": "unknown"}}}
    assert observe("voltage(proximity, vehicle end, empty)", unknown) == pin_voltage(math.inf, 2700.0)


@settings(deadline=None)
@given(ambient=st.floats(-35.0, 60.0))
def test_a_sound_sensor_reads_its_own_temperature(ambient):
    there = Conditions(ambient)
    for sensor in ("inlet.ac_sensor", "inlet.dc_sensor"):
        assert observe(f"temperature({sensor})", TYPE_2, None, there) == pytest.approx(ambient, abs=1e-6)
    assert observe("resistance(inlet.dc_sensor)", TYPE_2, None, there) == pytest.approx(1000.0 * ratio(ambient))


@pytest.mark.parametrize(
    ("sensor", "mode", "ohms", "shown"),
    [
        ("inlet.ac_sensor", "open", math.inf, -40.0),  # an open NTC is shown as very cold
        ("inlet.ac_sensor", "shorted", 0.0, 215.0),
        ("inlet.dc_sensor", "open", math.inf, 215.0),  # open platinum as very hot
        ("inlet.dc_sensor", "shorted", 0.0, -40.0),
    ],
)
def test_a_broken_sensor_is_shown_at_the_end_of_the_readout(sensor, mode, ohms, shown):
    assert observe(f"resistance({sensor})", TYPE_2, {sensor: mode}) == ohms
    assert observe(f"temperature({sensor})", TYPE_2, {sensor: mode}) == pytest.approx(shown)


@settings(deadline=None)
@given(shift=st.floats(0.001, 60.0), ambient=st.floats(-20.0, 45.0))
def test_drift_is_told_in_kelvin_whatever_the_sensor(shift, ambient):
    for sensor in ("inlet.ac_sensor", "inlet.dc_sensor"):
        seen = observe(f"temperature({sensor})", TYPE_2, {sensor: f"reads-high {shift:.12f} K"}, Conditions(ambient))
        assert seen == pytest.approx(ambient + shift, abs=1e-6)


def test_what_stops_a_charge_stops_its_power():
    assert observe("power(ac)", TYPE_2) == pytest.approx(3 * 230 * 16)
    for who, text in [
        ("inlet.ac_sensor", "open"), ("pilot", "stuck-in-b"), ("pilot", "diode-shorted"), ("interlock", "open"),
        ("charger.fuse", "open"), ("charger", "dead"), ("proximity", "open"), ("lock", "stuck-unlocked"),
        ("inlet.ac_lead", "n-open"), ("DC+", "leakage 1 kohm"), ("battery", "contactor-open"),
    ]:  # fmt: skip
        assert observe("power(ac)", TYPE_2, {who: text}) == 0.0, (who, text)
    assert observe("power(ac)", TYPE_2, None, LIMIT_OF_CHARGE) == 0.0
    assert observe("power(ac)", TYPE_2, {"inlet.ac_lead": "l1-open"}) == pytest.approx(2 * 230 * 16)


def test_faults_at_home_do_not_show_at_the_workshop():
    for who, text in [("supply", "l1-lost"), ("charge_point", "dead"), ("cable", "parted"), ("earth", "open")]:
        assert observe("power(ac)", TYPE_2, {who: text}) == observe("power(ac)", TYPE_2)
        assert observe("power(ac, at home)", TYPE_2, {who: text}) < observe("power(ac, at home)", TYPE_2)


@pytest.mark.parametrize(
    ("facts", "name", "word"),
    [
        ({"inlet": {"ac_sensor": "unknown"}}, "resistance(inlet.ac_sensor)", "vehicle.inlet.ac_sensor"),
        ({}, "power(ac)", "vehicle.charger"),
        ({"battery": {"nominal": "unknown"}}, "voltage(battery)", "vehicle.battery.nominal"),
    ],
)
def test_a_maker_s_value_is_asked_for_never_invented(facts, name, word):
    with pytest.raises(OutOfRange, match=word.replace(".", r"\.")):
        observe(name, facts)


def test_the_list_of_facts_holds_what_the_sources_ask_for():
    """Every dotted path that a formula asks a profile for, and the two sensors, which are asked for by their names."""
    sources = "".join(path.read_text() for path in Path(setup.__file__).parent.rglob("*.py"))
    asked = set(re.findall(r'setup\.(?:number|word)\(\s*"([a-z_.0-9]+)"', sources))
    assert asked | set(SENSORS) == set(setup.FACTS)


def test_names_that_lead_nowhere_name_the_nearest():
    with pytest.raises(WrongUse, match=r"did you mean `resistance\(inlet\.ac_sensor\)`"):
        observe("resistance(inlet.acsensor)", TYPE_2)
    with pytest.raises(UnknownPart, match=r"did you mean `inlet\.ac_sensor`"):
        fault("inlet.ac_sensr", "open")


@pytest.mark.parametrize(
    ("who", "text", "says"),
    [
        ("pilot", "opne", "did you mean `open`"),
        ("pilot", 3.0, "a number alone says nothing"),
        ("pilot", "series 3 V", "voltage"),
        ("pilot", "open 3", "takes no number"),
        ("pilot", "series -3", "out of range"),
        ("pilot", "series nan", "not a reading"),
        ("charge_point", "offers", "needs its number"),
        ("12 V battery", "discharged 140", "out of range"),
    ],
)
def test_a_fault_that_is_none_says_what_it_can_be(who, text, says):
    with pytest.raises(UnknownFault, match=says):
        fault(who, text)


def test_every_part_has_one_kind_and_its_number_is_a_mode():
    names = [name for kind in parts() for name in kind.names]
    assert len(names) == len(set(names))
    for kind in parts():
        assert isinstance(part(kind.names[0]), Part)
        assert not kind.number or kind.mode(kind.number) is not None
        for mode in kind.modes:
            assert mode.usual is None or mode.low <= mode.usual[0] < mode.usual[1] <= mode.high
            assert mode.unit == "" or unit(mode.unit)
    assert fault("supply", 195.0) == fault("supply", "level 195 V")
    assert fault("pilot", "leakage 2 k").number == 2000.0


@pytest.mark.parametrize("wrong", [{"ambient": 400.0}, {"charge": -1.0}, {"offered": math.nan}])
def test_impossible_conditions_are_refused(wrong):
    with pytest.raises(OutOfRange):
        Conditions(**wrong)
