"""Trouble codes, status, lock feedback and four-wire resistance: check values V179 to V193."""

from __future__ import annotations

import pytest

from diagtree.physics.codes import STATUS_BITS, status_bits

from .charging_rows import CL, C, L, Row, number, words

STRUCTURE = "SAE J2012, ISO 15031-6, by two public articles"
BITS = "ISO 14229-1 status bits, by an open library and several articles"


def code(digits):
    return words("trouble-code", digits)


def status(digits):
    return words("status-byte", digits)


ROWS = [
    Row("V179", lambda: code("96A1"), "B16A1", 0, f"{STRUCTURE} (printed in one)", L),
    Row("V180", lambda: code("0AA6"), "P0AA6", 0, STRUCTURE, CL),
    Row("V181", lambda: code("0D21"), "P0D21", 0, STRUCTURE, CL),
    Row("V182", lambda: code("C100"), "U0100", 0, STRUCTURE, CL),
    Row("V183", lambda: code("4123"), "C0123", 0, STRUCTURE, CL),
    Row("V184", lambda: code("1A2B"), "P1A2B", 0, STRUCTURE, CL),
    Row("V185", lambda: code("F003"), "U3003", 0, STRUCTURE, CL),
    Row("V186", lambda: status("2F"), "current, confirmed", 0, BITS, CL),
    Row("V187", lambda: status("2E"), "not now, failed this cycle, confirmed", 0, BITS, CL),
    Row("V188", lambda: status("28"), "history, confirmed", 0, BITS, CL),
    Row("V189", lambda: status("24"), "intermittent, pending, not confirmed", 0, BITS, CL),
    Row("V190", lambda: status("50"), "not tested since codes were cleared (run the monitor first)", 0, BITS, CL),
    Row("V191", lambda: status("00"), "tested, no failure", 0, BITS, CL),
    Row("V192", lambda: tuple(number("divider-voltage", ohm) for ohm in (1e3, 11e3)), (0.455, 2.619), 0.005,
        "documentation of a vehicle charge controller (1 and 11 kohm); voltage divider", CL),
    Row("V193", lambda: number("four-wire-resistance", 0.005, 10.0) * 1e3, 0.50, 0.01, "Ohm's law", C),
]  # fmt: skip


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.id)
def test_row(row):
    """The value is the published one."""
    assert row.holds(), (row.got(), row.expected, row.source)


def test_names_of_the_status_bits():
    """The eight names of ISO 14229-1, bit 0 first (looked up)."""
    assert status_bits(0xFF) == STATUS_BITS
    assert [status_bits(1 << bit) for bit in range(8)] == [(name,) for name in STATUS_BITS]
    assert status_bits(0x2F) == ("testFailed", "testFailedThisOperationCycle", "pendingDTC", "confirmedDTC",
                                 "testFailedSinceLastClear")  # fmt: skip


REST = [(12.7, 100), (12.6, 90), (12.5, 80), (12.3, 70), (12.2, 60), (12.1, 50), (12.0, 40), (11.8, 30), (11.7, 20),
        (11.6, 10)]  # fmt: skip


@pytest.mark.parametrize(("volts", "charge"), REST)
def test_rest_voltage_table(volts, charge):
    """Every row of the printed table (looked up: aussieeuropeantour.com, 12 V AGM; one source, not a maker)."""
    assert number("rest-charge", volts) == pytest.approx(charge, abs=1e-9)
