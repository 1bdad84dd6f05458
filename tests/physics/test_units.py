"""Units: spellings, factors against a general-purpose unit library, and a way back from every number shown."""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.errors import DiagtreeError, WrongUse
from diagtree.physics.quantity import quantities
from diagtree.physics.reading import parse_reading
from diagtree.physics.units import Unit, engineering, prefix, unit

SAME = [
    ("ohm", ["Ω", "\u2126", "ohms", "Ohm", "OHM"]),
    ("kohm", ["kΩ", "kilo-ohm", "kiloohm", "kilohm", "kilo ohms", "k\u2126", "kOHM"]),
    ("Mohm", ["MΩ", "megohm", "mega-ohm", "megaohm", "MOhm"]),
    ("mohm", ["mΩ", "milliohm", "milli-ohms"]),
    ("V", ["v", "volt", "Volts", " V "]),
    ("mV", ["millivolt", "millivolts", "mv"]),
    ("A", ["a", "amp", "ampere", "amps"]),
    ("uA", ["µA", "\u03bcA", "microampere"]),
    ("W", ["watt", "VA"]),
    ("kW", ["kw", "kilowatt"]),
    ("kWh", ["kwh", "kilowatthour"]),
    ("kHz", ["khz", "kilohertz"]),
    ("nF", ["nanofarad"]),
    ("degC", ["°C", "º" + "C", "celsius", "degc"]),
    ("K", ["kelvin"]),
    ("percent", ["%", "per cent", "pct"]),
    ("min", ["minute", "minutes"]),
    ("s", ["sec", "second", "seconds"]),
    ("mm2", ["mm²", "mm^2"]),
    ("", ["ratio", "1", "number"]),
]


@pytest.mark.parametrize(("name", "spellings"), SAME, ids=[name for name, _ in SAME])
def test_usual_spellings_name_the_same_unit(name: str, spellings: list[str]) -> None:
    assert unit(name).name == name
    assert [unit(spelling) for spelling in spellings] == [unit(name)] * len(spellings)


PINT = {
    "ohm": "ohm", "kohm": "kiloohm", "Mohm": "megaohm", "mohm": "milliohm", "V": "volt", "mV": "millivolt",
    "uV": "microvolt", "A": "ampere", "mA": "milliampere", "W": "watt", "kW": "kilowatt", "Wh": "watt_hour",
    "kWh": "kilowatt_hour", "J": "joule", "Hz": "hertz", "kHz": "kilohertz", "F": "farad", "nF": "nanofarad",
    "Ah": "ampere_hour", "s": "second", "ms": "millisecond", "min": "minute", "h": "hour", "day": "day", "m": "metre",
    "km": "kilometre", "mm": "millimetre", "mm2": "millimetre ** 2", "K": "kelvin", "ohm/V": "ohm / volt",
    "kohm/V": "kiloohm / volt", "V/min": "volt / minute", "K/W": "kelvin / watt", "Gohm": "gigaohm", "pF": "picofarad",
}  # fmt: skip


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry:
    return pint.UnitRegistry()


@pytest.mark.parametrize("name", PINT)
def test_factors_agree_with_pint(name: str, registry: pint.UnitRegistry) -> None:
    assert float(unit(name).factor) == pytest.approx(registry(PINT[name]).to_base_units().magnitude, rel=1e-12)


def test_the_same_pairs_convert_as_in_pint(registry: pint.UnitRegistry) -> None:
    theirs = {name: registry(PINT[name]).dimensionality for name in PINT}
    for one, other in combinations(PINT, 2):
        alike = unit(one).dimension == unit(other).dimension
        assert alike is (theirs[one] == theirs[other]), (one, other)


def test_celsius_and_kelvin_convert_with_the_zero_point() -> None:
    assert unit("degC").convert(Fraction(18), unit("K")) == Fraction("291.15")
    assert unit("K").convert(Fraction(0), unit("degC")) == Fraction("-273.15")


def test_percent_and_a_plain_number_convert() -> None:
    assert unit("percent").convert(Fraction(85), unit("ratio")) == Fraction("0.85")
    assert unit("ratio").convert(Fraction("0.85"), unit("%")) == 85


def test_volts_do_not_convert_to_ohms() -> None:
    with pytest.raises(WrongUse, match=r"V is voltage, but ohm is resistance"):
        unit("V").convert(Fraction(1), unit("ohm"))


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("omh", "did you mean `ohm`"),
        ("kOmh", "did you mean `kohm`"),
        ("volst", "did you mean `volt`"),
        ("kmin", "not a known unit"),
        ("kdegC", "did you mean `degC`"),
        ("kkohm", "did you mean `kohm`"),
        ("k", "not a known unit"),
        ("C", "write degC"),
        ("ohm/", "not a known unit"),
        ("ohm//V", "not a known unit"),
        ("x" * 500, "not a known unit"),
    ],
)
def test_unknown_units_are_refused_with_the_nearest(text: str, says: str) -> None:
    # `ohm/` would read as a plain denominator; that a number stands under it is nothing an author means.
    with pytest.raises(WrongUse, match=says):
        unit(text)


def test_m_and_capital_m_differ_by_nine_powers_of_ten() -> None:
    assert (prefix("m"), prefix("M")) == (-3, 6)
    assert unit("Mohm").factor / unit("mohm").factor == 10**9


@pytest.mark.parametrize(
    ("text", "power"),
    [("k", 3), ("kilo", 3), ("meg", 6), ("u", -6), ("µ", -6), ("\u03bc", -6), ("K", None), ("", None), ("d", None)],
)
def test_prefixes_standing_alone(text: str, power: int | None) -> None:
    assert prefix(text) == power


@given(st.text(max_size=60))
@settings(deadline=None)
def test_any_text_is_a_unit_or_a_clear_error(text: str) -> None:
    try:
        found = unit(text)
    except WrongUse:
        return
    assert found.factor > 0
    assert unit(found.name).dimension == found.dimension


@pytest.mark.parametrize(
    ("value", "name", "shown"),
    [
        (12400.0, "ohm", "12.4 kohm"),
        (0.012, "V", "12 mV"),
        (0.3, "ohm", "0.3 ohm"),  # `300 mohm` beside `Mohm` is a trap
        (0.0003, "ohm", "0.0003 ohm"),
        (-0.012345, "ohm", "-0.0123 ohm"),
        (-40.0, "degC", "-40 degC"),
        (1234567.0, "ohm", "1.23 Mohm"),
        (999.96, "ohm", "1 kohm"),
        (0.0, "V", "0 V"),
        (-0.0, "V", "0 V"),
        (3.6, "kW", "3.6 kW"),
        (0.91, "", "0.91"),
        (float("inf"), "ohm", "OL"),
        (100.0, "percent", "100 percent"),
        (12345.0, "min", "12300 min"),
    ],
)
def test_numbers_are_shown_with_the_prefix_that_suits_them(value: float, name: str, shown: str) -> None:
    assert engineering(value, unit(name)) == shown


@given(
    st.floats(1e-9, 1e12) | st.floats(-1e12, -1e-9) | st.just(0.0),
    st.sampled_from(["ohm", "V", "degC", "kohm", "", "percent", "min", "F", "kWh", "mm2", "uA"]),
)
@settings(deadline=None)
def test_what_is_shown_reads_back(value: float, name: str) -> None:
    assert parse_reading(engineering(value, unit(name), 6), name).value == pytest.approx(value, rel=1e-5)


def test_every_published_quantity_uses_known_units() -> None:
    found: dict[str, Unit] = {}
    for quantity in quantities():
        for text in (quantity.unit, *(wanted.unit for wanted in quantity.inputs)):
            if text not in ("facts", "word"):
                try:
                    found[text] = unit(text)
                except DiagtreeError as error:
                    pytest.fail(f"{quantity.id}: {error}")
    assert found
