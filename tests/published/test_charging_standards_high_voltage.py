"""Contact heating, high voltage and residual current: check values V151 to V178."""

from __future__ import annotations

import math

import pytest

from diagtree.errors import OutOfRange
from diagtree.physics.data import BONDING_CURRENT, BONDING_RESISTANCE, DC_DETECTOR

from .charging_rows import CL, CM, C, L, Row, number

MODEL = "first-order thermal model"
ANNEX = "UN Regulation 100, insulation annex (two single paragraphs and two reprints agree)"
DISCHARGE = "exponential discharge"
ENERGY = "energy of a capacitor; 0.2 J from a reprint of ISO 6469-4:2015"
OHM = "Ohm's law"

HEATING = {"ambient": 25.0, "current": 32.0, "resistance": 0.005, "thermal_resistance": 10.0, "time_constant": 600.0}
ONE = {"bus": 400.0, "negative_leak": 200e3, "positive_leak": 1.8e6}
TWO = {"bus": 400.0, "negative_leak": 2e6, "positive_leak": 30e3}
LOADED = {**ONE, "meter": 10e6}


def side(example, name, **fitted):
    return number("insulation-reading", **example, side=name, **fitted)


def sides(example, resistor):
    return side(example, "negative"), side(example, "positive"), side(example, resistor, known=40e3)


def insulation(example, resistor):
    """The method on readings of one example, the bus read apart."""
    negative, positive, fitted = sides(example, resistor)
    return number("insulation-resistance", 400.0, negative, positive, 40e3, resistor, fitted)


def forecast():
    readings = (45.146, 57.365, 64.776)
    return number("forecast-temperature", *readings), number("forecast-time-constant", *readings, 300.0)


def minimum(volts):
    return tuple(number("insulation-minimum", volts, circuit) for circuit in ("dc", "ac"))


ROWS = [
    Row("V151", lambda: number("contact-loss", 32.0, 0.005), 5.12, 0.01, "Joule's law", C),
    Row("V152", lambda: number("contact-temperature", **HEATING, time=1800.0), 73.65, 0.01, MODEL, C),
    Row("V153", lambda: number("contact-time-to-limit", **HEATING, limit=70.0), 1266.7, 1, MODEL, C),
    Row("V154", lambda: forecast()[0], 76.20, 0.05, MODEL, C),
    Row("V154", lambda: forecast()[1], 600.0, 5, MODEL, C),
    Row("V155", lambda: minimum(400.0), (40e3, 200e3), 0, "UN Regulation 100, 5.1.3.1, by a reprint", CL),
    Row("V156", lambda: minimum(800.0), (80e3, 400e3), 0, "UN Regulation 100, 5.1.3.1, by a reprint", CL),
    Row("V157", lambda: sides(ONE, "positive"), (40.000, 360.000, 65.4545), 0.001, ANNEX, CL),
    Row("V158", lambda: insulation(ONE, "positive"), 200e3, 100, ANNEX, CL),
    Row("V159", lambda: number("insulation-resistance", 400.0, 40.0, 360.0, 40e3, "positive", 65.5), 199.83e3, 100,
        f"{ANNEX}; readings rounded to 0.1 V", CL),
    Row("V161", lambda: sides(LOADED, "positive"), (39.293, 353.635, 65.241), 0.001, "10 Mohm meter in parallel", CL),
    Row("V162", lambda: insulation(LOADED, "positive"), 200e3, 100, ANNEX, CL),
    Row("V162", lambda: number("insulation-resistance-us", 39.2927, 353.6346, 40e3, "positive", 65.2411), 196.46e3, 100,
        "US 49 CFR 571.305 S7.6, from memory", CM),
    Row("V163", lambda: sides(TWO, "negative"), (394.089, 5.911, 226.629), 0.001, ANNEX, CL),
    Row("V164", lambda: (insulation(TWO, "negative") / 1e3, insulation(TWO, "negative") / 400.0), (30.0, 75.0), 0.1,
        ANNEX, CL),
    Row("V165", lambda: number("discharge-time", 400.0, 50e3, 1e-3), 94.86, 0.1, DISCHARGE, C),
    Row("V166", lambda: number("discharge-voltage", 400.0, 50e3, 1e-3, 60.0), 120.48, 0.1, DISCHARGE, C),
    Row("V167", lambda: tuple(number("discharge-resistance", volts, 1e-3, 5.0) for volts in (400.0, 800.0)),
        (2636.0, 1930.0), 1, DISCHARGE, C),
    Row("V168", lambda: tuple(number("capacitor-energy", volts, 1e-3) for volts in (400.0, 800.0, 60.0)),
        (80.0, 320.0, 1.8), 0.05, ENERGY, C),
    Row("V169", lambda: tuple(number("energy-limit-voltage", farad) for farad in (1e-3, 1e-4)), (20.0, 63.2), 0.1,
        ENERGY, CL),
    Row("V170", lambda: tuple(number("y-capacitance-limit", volts) * 1e6 for volts in (400.0, 800.0)), (2.5, 0.625),
        0.005, ENERGY, CL),
    Row("V171", lambda: (BONDING_RESISTANCE.value, BONDING_CURRENT.value), (0.1, 0.2), 0,
        "UN Regulation 100, 5.1.2.2, by an Indian draft standard of 2019", L),
    Row("V172", lambda: tuple(number("leak-resistance", 230.0, amp) for amp in (0.03, 0.015)), (7667.0, 15333.0), 10,
        OHM, C),
    Row("V173", lambda: tuple(number("leak-resistance", volts, 0.006) for volts in (400.0, 800.0)), (66.7e3, 133.3e3),
        100, OHM, C),
    Row("V174", lambda: number("capacitive-leakage", 100e-9) * 1e3, 7.226, 0.01, "current of a capacitor", C),
    Row("V175", lambda: (number("rcd-no-trip-current"), number("rcd-trip-current")), (0.015, 0.03), 0,
        "article on RCD sensitivity, academy.lovatoelectric.com", L),
    Row("V176", lambda: (number("rcd-trip-time"), number("rcd-trip-time", 5.0)), (0.3, 0.04), 0,
        "manual of an installation tester, p. 35", L),
    Row("V177", lambda: number("earth-loop-limit"), 1667.0, 1, "engx.theiet.org, Table 41.5: 1667 printed", CL),
    Row("V178", lambda: DC_DETECTOR.value, 6e-3, 0, "IEC 62955 by iocharger.com", L),
]  # fmt: skip


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.id)
def test_row(row):
    """The value is the published one."""
    assert row.holds(), (row.got(), row.expected, row.source)


def test_v160_the_resistor_on_the_wrong_side_is_refused():
    """V160 (computed by the annex): the formula would give 1.8 Mohm, the healthy side; the quantity refuses."""
    negative, positive, fitted = sides(ONE, "negative")
    assert fitted == pytest.approx(7.273, abs=0.001)
    assert 40e3 * 400.0 * (1.0 / fitted - 1.0 / negative) == pytest.approx(1800e3, abs=1e3)
    for name, bus in (("insulation-resistance", [400.0]), ("insulation-resistance-us", [])):
        with pytest.raises(OutOfRange, match="wrong side"):
            number(name, *bus, negative, positive, 40e3, "negative", fitted)


def test_a_meters_own_resistance_cancels_when_the_bus_is_read_apart():
    """10 Mohm or 1 Mohm meter: 200.0 kohm by the UN form; the US form gives 196.5 and 169.5 kohm (computed)."""
    for meter, by_sum in ((10e6, 196.5e3), (1e6, 169.5e3)):
        example = {**ONE, "meter": meter}
        negative, positive, fitted = sides(example, "positive")
        assert insulation(example, "positive") == pytest.approx(200e3, rel=1e-9)
        us_form = number("insulation-resistance-us", negative, positive, 40e3, "positive", fitted)
        assert us_form == pytest.approx(by_sum, abs=60.0)


def test_a_symmetrical_leak_is_found_too():
    """V1 = V2: the method finds the leak on either side (property of the annex's formula)."""
    example = {"bus": 400.0, "negative_leak": 50e3, "positive_leak": 50e3}
    assert insulation(example, "negative") == pytest.approx(50e3, rel=1e-9)


TIME_CONSTANTS = [  # volts, tau for 60 V in 1, 5 and 120 s; computed
    (400.0, 0.527, 2.636, 63.25), (450.0, 0.496, 2.482, 59.56), (800.0, 0.386, 1.930, 46.33),
    (920.0, 0.366, 1.832, 43.96),
]  # fmt: skip


@pytest.mark.parametrize("row", TIME_CONSTANTS, ids=lambda row: f"{row[0]:.0f} V")
def test_time_constants(row):
    """R times C that reaches 60 V in 1, 5 and 120 s (computed; 1 s by the US rule, 5 and 120 s from memory)."""
    volts, *expected = row
    got = [number("discharge-resistance", volts, 1e-3, seconds) * 1e-3 for seconds in (1.0, 5.0, 120.0)]
    assert got == pytest.approx(expected, rel=1.5e-3)


def test_worked_discharge():
    """1 mF with a 50 kohm bleeder from 400 V: 60 V after 94.9 s, 30 V after 129.5 s (computed)."""
    assert number("discharge-time", 400.0, 50e3, 1e-3, 30.0) == pytest.approx(129.5, abs=0.1)
    assert number("discharge-time", 60.0, 50e3, 1e-3) == 0.0


CONTACTS = [  # amperes, ohms, watts, volts; computed
    (32.0, 0.2e-3, 0.205, 6.4e-3), (32.0, 1e-3, 1.02, 32e-3), (32.0, 20e-3, 20.5, 640e-3), (200.0, 0.2e-3, 8.0, 40e-3),
    (200.0, 0.5e-3, 20.0, 100e-3),
]  # fmt: skip


@pytest.mark.parametrize("row", CONTACTS, ids=str)
def test_contact_table(row):
    """Loss and drop of a contact (computed)."""
    amperes, ohms, watts, volts = row
    assert number("contact-loss", amperes, ohms) == pytest.approx(watts, rel=5e-3)
    assert number("contact-drop", amperes, ohms) == pytest.approx(volts, rel=1e-9)


def test_stops_after_twenty_minutes_and_works_at_half_current():
    """The worked heating example (computed; model constants assumed)."""
    assert number("contact-end-temperature", 25.0, 32.0, 0.005, 10.0) == pytest.approx(76.2, abs=0.01)
    assert number("contact-end-temperature", 25.0, 16.0, 0.005, 10.0) == pytest.approx(25.0 + 12.8, abs=0.01)
    assert number("contact-time-to-limit", **{**HEATING, "current": 16.0}, limit=70.0) == math.inf


def test_forecast_from_rounded_readings_covers_the_true_end():
    """Readings rounded to 0.1 K give 76.0 degC and 590 s (computed); the stated uncertainty covers the true 76.2."""
    readings = {"first": 45.1, "second": 57.4, "third": 64.8, "reading_uncertainty": 2 * 0.05 / math.sqrt(3)}
    end, doubt = number("forecast-temperature", **readings), number("forecast-uncertainty", **readings)
    assert end == pytest.approx(76.0, abs=0.05)
    assert number("forecast-time-constant", **readings, interval=300.0) == pytest.approx(590.0, abs=1.0)
    assert abs(end - 76.2) < doubt < 1.0
