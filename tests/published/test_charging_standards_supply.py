"""Proximity, AC power and DC session: check values V056 to V105."""

from __future__ import annotations

import math

import pytest

from diagtree.physics.data import CABLE_CHECK_INSULATION, PRE_CHARGE_MATCH

from .charging_rows import CL, C, L, Row, number, words

GUIDE = "EVerest charging-station stack, guide basic.rst, IEC 61851-1 Annex B"
MANUAL = "user manual of a vehicle charge controller (2021), p. 162 (voltages printed, rounded) and 219 (circuit)"
FORMULA = "definition of power"
STACK = "EcoG-io/iso15118, timeouts.py"
EVEREST = "EVerest charging-station stack, EvseManager.cpp, which names IEC 61851-23:2023"
SLAC = "EVerest charging-station stack, slac.hpp (ISO 15118-3 constants)"


def coding(ohms):
    return words("proximity-coding", ohms)


def pin(plug, pull_down=2700.0):
    return number("proximity-voltage", plug, pull_down)


def power(volts, amperes, phases=1.0):
    return number("ac-power", volts, amperes, phases) / 1000.0


def check_voltage(vehicle, station):
    return number("cable-check-voltage", vehicle, station)


def stage(name, protocol="any", side="vehicle"):
    return number("stage-time-out", name, protocol, side)


def by_protocol(name, *protocols):
    return tuple(stage(name, protocol) for protocol in protocols)


ROWS = [
    Row("V056", lambda: coding(1500.0), "13 A", 0, GUIDE, L),
    Row("V057", lambda: coding(680.0), "20 A", 0, GUIDE, L),
    Row("V058", lambda: coding(220.0), "32 A", 0, GUIDE, L),
    Row("V059", lambda: (coding(100.0), words("proximity-coding", 100.0, 1.0)), ("63 A", "70 A"), 0, GUIDE, L),
    Row("V060", lambda: coding(2400.0), "13 A", 0, GUIDE, L),
    Row("V061", lambda: coding(350.0), "20 A (between two bands: the lower)", 0, GUIDE, L),
    Row("V062", lambda: coding(1000.0), "13 A (between two bands: the lower)", 0, GUIDE, L),
    Row("V063", lambda: coding(150.0), "32 A (between two bands: the lower)", 0, GUIDE, L),
    Row("V064", lambda: coding(50.0), "fault: counts as no cable", 0, GUIDE, L),
    Row("V065", lambda: coding(5000.0), "fault: counts as no cable", 0, GUIDE, L),
    Row("V066", lambda: pin(math.inf), 4.455, 0.005, f"{MANUAL}: 4.4 V", CL),
    Row("V067", lambda: pin(480.0), 2.763, 0.005, f"{MANUAL}: 2.75 V", CL),
    Row("V068", lambda: pin(150.0), 1.505, 0.005, f"{MANUAL}: 1.5 V", CL),
    Row("V069", lambda: pin(100.0), 1.131, 0.005, f"{MANUAL}: 1.1 V", CL),
    Row("V070", lambda: pin(220.0), 1.907, 0.005, f"{MANUAL}: 1.9 V", CL),
    Row("V071", lambda: pin(680.0), 3.110, 0.005, f"{MANUAL}: 3.1 V", CL),
    Row("V072", lambda: pin(1500.0), 3.725, 0.005, f"{MANUAL}: 3.7 V", CL),
    Row(
        "V073",
        lambda: tuple(pin(ohm, 4700.0) for ohm in (1500.0, 220.0, math.inf)),
        (3.875, 1.945, 4.672),
        0.005,
        MANUAL,
        CL,
    ),
    Row("V074", lambda: number("proximity-resistance", 1.50, 2700.0), 149.2, 0.5, MANUAL, CL),
    Row("V075", lambda: power(230.0, 6.0), 1.380, 0.005, FORMULA, C),
    Row("V076", lambda: power(230.0, 16.0), 3.680, 0.005, FORMULA, C),
    Row("V077", lambda: power(230.0, 32.0), 7.360, 0.005, FORMULA, C),
    Row("V078", lambda: power(230.0, 16.0, 3.0), 11.040, 0.005, FORMULA, C),
    Row("V079", lambda: power(230.0, 32.0, 3.0), 22.080, 0.005, FORMULA, C),
    Row("V080", lambda: power(240.0, 80.0), 19.200, 0.005, FORMULA, C),
    Row("V081", lambda: power(207.0, 32.0), 6.624, 0.005, FORMULA, C),
    Row("V082", lambda: number("ac-power-line-voltage", 400.0, 16.0) / 1000.0, 11.085, 0.005, FORMULA, C),
    Row(
        "V083",
        lambda: (number("supply-lowest"), number("supply-highest")),
        (207.0, 253.0),
        0,
        "IEC 60038 by eco-grid.eu",
        L,
    ),
    Row("V084", lambda: number("supply-loop-resistance", 230.0, 221.0, 32.0), 0.2812, 0.001, "Ohm's law", C),
    Row("V085", lambda: number("charging-efficiency", 10600.0, 9500.0), 0.8962, 0.001, "definition", C),
    Row("V086", lambda: number("charging-time", 30000.0, 7360.0, 0.90), 4.529, 0.01, "definition", C),
    Row("V087", lambda: check_voltage(420.0, 1000.0), 470.0, 1, EVEREST, CL),
    Row("V088", lambda: check_voltage(450.0, 1000.0), 500.0, 1, EVEREST, CL),
    Row("V089", lambda: check_voltage(480.0, 1000.0), 500.0, 1, EVEREST, CL),
    Row("V090", lambda: check_voltage(500.0, 1000.0), 500.0, 1, EVEREST, CL),
    Row("V091", lambda: check_voltage(420.0, 400.0), 400.0, 1, EVEREST, CL),
    Row("V092", lambda: check_voltage(800.0, 1000.0), 880.0, 1, EVEREST, CL),
    Row("V093", lambda: check_voltage(920.0, 1000.0), 1000.0, 1, EVEREST, CL),
    Row("V094", lambda: number("overvoltage-trip", 450.0), 550.0, 0, EVEREST, L),
    Row("V095", lambda: number("overvoltage-trip", 600.0), 825.0, 0, EVEREST, L),
    Row("V096", lambda: number("overvoltage-trip", 800.0), 935.0, 0, EVEREST, L),
    Row("V097", lambda: number("overvoltage-trip", 900.0), 1100.0, 0, EVEREST, L),
    Row("V098", lambda: stage("cable-check"), 40.0, 0, STACK, L),
    Row("V099", lambda: by_protocol("pre-charge", "din", "iso-2", "iso-20"), (7.0, 7.0, 10.0), 0, STACK, L),
    Row("V100", lambda: by_protocol("current-demand", "din", "iso-2", "iso-20"), (0.25, 0.25, 0.5), 0, STACK, L),
    Row(
        "V101",
        lambda: (stage("set-up"), stage("set-up", side="station")),
        (20.0, 18.0),
        0,
        f"{STACK}; EVerest v2g.hpp",
        L,
    ),
    Row("V102", lambda: stage("sequence", side="station"), 60.0, 0, f"{STACK}; EVerest v2g.hpp", L),
    Row(
        "V103",
        lambda: tuple(stage(name) for name in ("matching-response", "matching-step", "matching", "matching-join")),
        (0.2, 0.4, 10.0, 12.0),
        0,
        SLAC,
        L,
    ),
    Row("V104", lambda: PRE_CHARGE_MATCH.value, 20.0, 0, "pyPLC readme; documentation of a charge controller", L),
    Row(
        "V105",
        lambda: (CABLE_CHECK_INSULATION.value, number("insulation-minimum", 400.0, "cable-check")),
        (100e3, 100e3),
        0,
        EVEREST,
        L,
    ),
]


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.id)
def test_row(row):
    """The value is the published one."""
    assert row.holds(), (row.got(), row.expected, row.source)


@pytest.mark.parametrize(
    ("nominal", "moves_out", "amperes"), [(100.0, 40.0, 63.0), (220.0, 88.0, 32.0), (680.0, 256.0, 20.0)]
)
def test_a_dirty_contact_moves_a_good_cable_to_the_next_lower_rating(nominal, moves_out, amperes):
    """Series resistance that leaves the band, from the looked-up bands (computed)."""
    assert number("proximity-current", nominal + moves_out) == amperes
    assert number("proximity-current", nominal + moves_out + 1.0) < amperes


POWERS = [  # volts, amperes, phases, kilowatts; computed
    (230.0, 10.0, 1.0, 2.30), (230.0, 13.0, 1.0, 2.99), (253.0, 32.0, 1.0, 8.10), (230.0, 6.0, 3.0, 4.14),
    (230.0, 10.0, 3.0, 6.90), (230.0, 13.0, 3.0, 8.97), (230.0, 63.0, 3.0, 43.47), (207.0, 16.0, 3.0, 9.94),
    (120.0, 12.0, 1.0, 1.44), (240.0, 16.0, 1.0, 3.84), (240.0, 32.0, 1.0, 7.68), (208.0, 32.0, 1.0, 6.66),
    (240.0, 48.0, 1.0, 11.52),
]  # fmt: skip


@pytest.mark.parametrize("row", POWERS, ids=str)
def test_power_table(row):
    """The table of expected AC powers (computed; 3.7, 7.4, 11 and 22 kW are printed as station ratings)."""
    volts, amperes, phases, kilowatts = row
    assert power(volts, amperes, phases) == pytest.approx(kilowatts, abs=0.006)
