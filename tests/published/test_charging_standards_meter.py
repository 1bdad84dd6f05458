"""Meter accuracy and guard band: check values V194 to V205."""

from __future__ import annotations

import pytest

from diagtree.physics import meter

from .charging_rows import CM, C, L, Row

COLLEGE = "kpu.ca, uncertainties of digital multimeters"
EXAMPLE = "victorruoshui.com, worked example"
ARTICLE = "gvda-instrument.com, article on multimeter accuracy"
GUARD = "ILAC-G8:09/2019, after JCGM 106"
NORMAL = "normal distribution, k = 2"


def error(reading, percent, counts, digit):
    return meter.specified_error(meter.Accuracy(percent=percent, counts=counts), reading, digit)


def three(reading, percent, counts, digit):
    """Specified error, standard and expanded uncertainty."""
    a = error(reading, percent, counts, digit)
    return a, meter.standard_uncertainty(a), meter.expanded_uncertainty(a)


def chance():
    standard = three(6.45, 0.5, 2, 0.01)[1]
    return meter.chance_of_conforming(6.45, standard, upper=6.49)


ROWS = [
    Row("V194", lambda: error(32.00, 2.5, 3, 0.01), 0.83, 0.001, COLLEGE, L),
    Row("V195", lambda: error(0.09, 2.5, 3, 0.01), 0.03225, 0.0001, COLLEGE, L),
    Row("V196", lambda: error(2.000, 0.08, 2, 0.001), 0.0036, 0.0001, EXAMPLE, L),
    Row("V197", lambda: error(100.0, 1.0, 2, 0.1), 1.2, 0.001, ARTICLE, L),
    Row("V198", lambda: three(6.45, 0.5, 2, 0.01), (0.05225, 0.03017, 0.06033), 0.0001, "JCGM 100", CM),
    Row("V199", lambda: meter.upper_acceptance_limit(6.49, three(6.45, 0.5, 2, 0.01)[2]), 6.4297, 0.0005, GUARD, CM),
    Row("V200", chance, 0.9076, 0.001, NORMAL, CM),
    Row("V201", lambda: meter.lower_acceptance_limit(40.0, three(41.2, 1.5, 5, 0.1)[2]), 41.291, 0.005, GUARD, CM),
    Row("V202", lambda: 100 * meter.false_acceptance_at_limit(0.0), 50.000, 0.01, NORMAL, C),
    Row("V203", lambda: 100 * meter.false_acceptance_at_limit(0.83), 4.846, 0.01, NORMAL, C),
    Row("V204", lambda: 100 * meter.false_acceptance_at_limit(1.0), 2.275, 0.01, NORMAL, C),
    Row("V205", lambda: 100 * meter.false_acceptance_at_limit(1.5), 0.135, 0.01, NORMAL, C),
]


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.id)
def test_row(row):
    """The value is the published one."""
    assert row.holds(), (row.got(), row.expected, row.source)
