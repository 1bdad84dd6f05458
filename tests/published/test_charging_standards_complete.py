"""Every check value of the collection stands in one of these files, with its source and its mark."""

from __future__ import annotations

from . import charging_rows
from . import test_charging_standards_codes as codes
from . import test_charging_standards_high_voltage as high_voltage
from . import test_charging_standards_meter as meter
from . import test_charging_standards_pilot as pilot
from . import test_charging_standards_proof as proof
from . import test_charging_standards_sensors as sensors
from . import test_charging_standards_supply as supply

FILES = (pilot, supply, sensors, high_voltage, codes, meter, proof)
APART = {"V160"}  # a refusal, with a test of its own
MARKS = {charging_rows.L, charging_rows.CL, charging_rows.CM, charging_rows.C, charging_rows.CV}


def test_all_222_check_values_are_tested():
    """V001 to V222, none missing."""
    tested = {row.id for file in FILES for row in file.ROWS} | APART
    assert tested == {f"V{count:03d}" for count in range(1, 223)}


def test_every_check_value_names_its_source_and_its_mark():
    """No row without a source, none without a known mark."""
    for file in FILES:
        for row in file.ROWS:
            assert row.source.strip(), row.id
            assert row.mark in MARKS, row.id
