"""Control pilot: check values V001 to V055 against IEC 61851-1 Annex A and SAE J1772 as open sources give them."""

from __future__ import annotations

import itertools

import pytest

from diagtree.physics.data import PILOT_BANDS
from diagtree.physics.pilot_circuit import R2, R3, R4, parallel
from diagtree.physics.pilot_edges import edge_constant

from .charging_rows import CL, CM, CV, L, Row, number, words

MANUALS = (
    "manuals of a station module and a station controller; ESP32-EVSE wiki, CP calibration (882 and 246 ohm printed)"
)
NODAL = "nodal analysis of the circuit of IEC 61851-1 Annex A"
HEADER = "open firmware header J1772.h, which states SAE J1772"
GUIDE = "EVerest charging-station stack, guide basic.rst: resistances a station must accept"
QUOTED = "IEC 61851-1 A.4.9 (80 ohm) as a user quotes it in an issue of an open station firmware"
VEHICLE_SIDE = "open firmware dsPIC33EP_IEC61851_J1772_ChargePort_EVSE, inputcapture.c"
STATION_SIDE = "open firmware evse-v2-bricklet, iec61851.c"
EDGES = "levels and limits of the edges in the EVerest guide basic.rst; two-slope charging"


def pilot(state, **inputs):
    return number("pilot-voltage", state, **inputs)


def both_halves(state, diode):
    return pilot(state, diode=diode), pilot(state, diode=diode, half="negative")


def corners(state):
    """Lowest and highest level over the extreme corners of all parts."""
    found = [
        pilot(
            state,
            generator=generator,
            source_resistance=source,
            diode_drop=drop,
            r2=R2 * (1 + share),
            r3=R3 * (1 + share),
            r4=R4 * (1 + share),
        )
        for generator, source, drop, share in itertools.product(
            (11.4, 12.6), (970.0, 1030.0), (0.55, 0.85), (-0.03, 0.03)
        )
    ]
    return min(found), max(found)


def leaking(ohms):
    levels = tuple(pilot(state, leakage=ohms) for state in "ABC")
    return (*levels, pilot("C", leakage=ohms, half="negative"))


def ends(ohms):
    return tuple(pilot("C", series=ohms, end=end) for end in ("station", "vehicle"))


def average(amperes):
    duty = number("pilot-duty", amperes)
    return tuple(number("pilot-average", duty, state) for state in "BC")


def band(states):
    return tuple(value for state in states for value in (PILOT_BANDS[state].lowest, PILOT_BANDS[state].highest))


def current(duty):
    return number("pilot-current", duty)


def meaning(duty):
    return words("pilot-duty-meaning", duty)


NOT_ALLOWED, DIGITAL = "charging not allowed", "digital communication required"

ROWS = [
    Row("V001", lambda: parallel(R2, R3), 881.68, 0.1, MANUALS, CL),
    Row("V002", lambda: parallel(R2, R4), 245.78, 0.1, MANUALS, CL),
    Row("V003", lambda: pilot("B"), 8.979, 0.005, NODAL, CV),
    Row("V004", lambda: pilot("C"), 5.995, 0.005, NODAL, CV),
    Row("V005", lambda: pilot("D"), 2.929, 0.005, NODAL, CV),
    Row("V006", lambda: corners("B"), (8.370, 9.594), 0.002, f"{NODAL}; equals the remembered IEC band", CM),
    Row("V007", lambda: corners("C"), (5.472, 6.531), 0.002, f"{NODAL}; equals the remembered IEC band", CM),
    Row("V008", lambda: corners("D"), (2.589, 3.282), 0.002, f"{NODAL}; equals the remembered IEC band", CM),
    Row("V009", lambda: band("BCD"), (8.36, 9.56, 5.48, 6.49, 2.62, 3.25), 0, HEADER, L),
    Row("V010", lambda: band("AF"), (11.40, 12.60, -12.60, -11.40), 0, HEADER, L),
    Row("V011", lambda: pilot("B", r2=1870.0), 8.063, 0.01, GUIDE, CV),
    Row("V012", lambda: pilot("B", r2=4610.0), 9.986, 0.01, GUIDE, CV),
    Row("V013", lambda: pilot("C", r2=1870.0, r3=909.0), 4.989, 0.01, GUIDE, CV),
    Row("V014", lambda: pilot("C", r2=4610.0, r3=1723.0), 6.987, 0.01, GUIDE, CV),
    Row("V015", lambda: both_halves("C", "shorted"), (5.623, -5.623), 0.005, NODAL, CL),
    Row("V016", lambda: both_halves("B", "shorted"), (8.791, -8.791), 0.005, NODAL, CL),
    Row("V017", lambda: both_halves("C", "reversed"), (12.0, -5.995), 0.005, NODAL, CV),
    Row("V018", lambda: leaking(10e3), (10.909, 8.366, 5.726, -10.909), 0.005, NODAL, CV),
    Row("V019", lambda: leaking(2.7e3), (8.757, 7.062, 5.108, -8.757), 0.005, NODAL, CV),
    Row("V020", lambda: leaking(1e3), (6.000, 5.182, 4.082, -6.000), 0.005, NODAL, CV),
    Row("V021", lambda: pilot("C", leakage=80.0), 0.874, 0.005, QUOTED, CV),
    Row("V022", lambda: ends(100.0), (6.298, 5.728), 0.005, NODAL, CV),
    Row("V023", lambda: ends(300.0), (6.821, 5.267), 0.005, NODAL, CV),
    Row("V024", lambda: ends(1000.0), (8.079, 4.157), 0.005, NODAL, CV),
    Row("V025", lambda: number("pilot-series-resistance", 6.49, "C"), 169.1, 1, NODAL, CV),
    Row("V026", lambda: number("pilot-series-resistance", 7.0, "C"), 378.3, 1, NODAL, CV),
    Row("V027", lambda: number("pilot-series-resistance", 8.0, "C"), 943.3, 1, NODAL, CV),
    Row("V028", lambda: meaning(2.9), NOT_ALLOWED, 0, VEHICLE_SIDE, L),
    Row("V029", lambda: meaning(5.0), DIGITAL, 0, VEHICLE_SIDE, L),
    Row("V030", lambda: meaning(7.5), NOT_ALLOWED, 0, VEHICLE_SIDE, L),
    Row("V031", lambda: current(8.0), 6.0, 0.05, VEHICLE_SIDE, L),
    Row("V032", lambda: current(9.9), 6.0, 0.05, VEHICLE_SIDE, L),
    Row("V033", lambda: current(10.0), 6.0, 0.05, VEHICLE_SIDE, CL),
    Row("V034", lambda: current(16.0), 9.6, 0.05, VEHICLE_SIDE, CL),
    Row("V035", lambda: current(25.0), 15.0, 0.05, VEHICLE_SIDE, CL),
    Row("V036", lambda: current(50.0), 30.0, 0.05, VEHICLE_SIDE, CL),
    Row("V037", lambda: current(85.0), 51.0, 0.05, VEHICLE_SIDE, CL),
    Row("V038", lambda: current(86.0), 55.0, 0.05, VEHICLE_SIDE, CL),
    Row("V039", lambda: current(90.0), 65.0, 0.05, VEHICLE_SIDE, CL),
    Row("V040", lambda: current(96.0), 80.0, 0.05, VEHICLE_SIDE, CL),
    Row("V041", lambda: current(96.5), 80.0, 0.05, VEHICLE_SIDE, L),
    Row("V042", lambda: meaning(97.1), NOT_ALLOWED, 0, VEHICLE_SIDE, L),
    Row("V043", lambda: number("pilot-duty", 6.0), 10.000, 0.01, STATION_SIDE, CL),
    Row("V044", lambda: number("pilot-duty", 16.0), 26.667, 0.01, STATION_SIDE, CL),
    Row("V045", lambda: number("pilot-duty", 32.0), 53.333, 0.01, STATION_SIDE, CL),
    Row("V046", lambda: number("pilot-duty", 51.0), 85.000, 0.01, STATION_SIDE, CL),
    Row("V047", lambda: number("pilot-duty", 63.0), 89.200, 0.01, STATION_SIDE, CL),
    Row("V048", lambda: number("pilot-duty", 80.0), 96.000, 0.01, STATION_SIDE, CL),
    Row("V049", lambda: average(6.0), (-9.902, -10.201), 0.01, NODAL, CV),
    Row("V050", lambda: average(16.0), (-6.406, -7.201), 0.01, NODAL, CV),
    Row("V051", lambda: average(32.0), (-0.811, -2.403), 0.01, NODAL, CV),
    Row("V052", lambda: number("pilot-average", 53.3333, "C", diode="shorted"), 0.375, 0.01, NODAL, CL),
    Row("V053", lambda: number("pilot-pulse-width", 5.0), 50e-6, 0, "EVerest guide basic.rst", L),
    Row("V054", lambda: edge_constant("rise", "B"), 1674.1, 2, EDGES, CV),
    Row("V055", lambda: edge_constant("rise", "C"), 1182.2, 2, EDGES, CV),
]


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.id)
def test_row(row):
    """The value is the published one."""
    assert row.holds(), (row.got(), row.expected, row.source)


AVERAGES = [  # duty in per cent; A with PWM, B, C, C with shorted diode; computed from the standard's levels
    (5.0, -10.80, -10.95, -11.10, -5.06),
    (10.0, -9.60, -9.90, -10.20, -4.50),
    (16.667, -8.00, -8.50, -9.00, -3.75),
    (26.667, -5.60, -6.41, -7.20, -2.62),
    (33.333, -4.00, -5.01, -6.00, -1.87),
    (53.333, 0.80, -0.81, -2.40, 0.37),
]


@pytest.mark.parametrize("row", AVERAGES, ids=lambda row: f"{row[0]}%")
def test_what_a_meter_shows(row):
    """The whole table of DC readings holds (computed; mark: diode drop from memory)."""
    duty, *expected = row
    got = [number("pilot-average", duty, state) for state in "ABC"]
    got.append(number("pilot-average", duty, "C", diode="shorted"))
    assert got == pytest.approx(expected, abs=0.006)


FAULTS = [  # what is wrong; state; positive and negative level at the station, computed
    ("diode shorted in D", "D", {"diode": "shorted"}, 2.37, -2.37),
    ("diode reversed in B", "B", {"diode": "reversed"}, 12.0, -8.98),
    ("diode reversed in D", "D", {"diode": "reversed"}, 12.0, -2.93),
    ("diode open in C", "C", {"diode": "open"}, 12.0, -12.0),
    ("short of 80 ohm in A", "A", {"leakage": 80.0}, 0.89, -0.89),
    ("leakage of 4.7 k in A", "A", {"leakage": 4700.0}, 9.90, -9.90),
    ("leakage of 4.7 k in B", "B", {"leakage": 4700.0}, 7.77, -9.90),
    ("leakage of 4.7 k in C", "C", {"leakage": 4700.0}, 5.45, -9.90),
    ("500 ohm in series in C", "C", {"series": 500.0}, 7.26, -12.0),
]


@pytest.mark.parametrize(("state", "fault", "high", "low"), [row[1:] for row in FAULTS], ids=[row[0] for row in FAULTS])
def test_how_faults_show(state, fault, high, low):
    """Every fault of the table shows the levels computed for it."""
    assert pilot(state, **fault) == pytest.approx(high, abs=0.006)
    assert pilot(state, half="negative", **fault) == pytest.approx(low, abs=0.006)


@pytest.mark.parametrize(
    ("edge", "state", "limit"), [("rise", "B", 10e-6), ("rise", "C", 7e-6), ("fall", "B", 13e-6), ("fall", "C", 13e-6)]
)
def test_edge_limits_and_capacitances_confirm_each_other(edge, state, limit):
    """5.5 nF, the remembered maximum, stays below every published limit, and 6.1 nF passes it."""
    assert number("pilot-edge-time", 5.5e-9, state, edge) < limit < number("pilot-edge-time", 6.1e-9, state, edge)
