"""Readings: what is read, what is asked back, and that nothing typed ever ends in another error."""

from __future__ import annotations

from decimal import Decimal
from math import inf, isfinite

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.errors import ReadingError, WrongUse
from diagtree.physics.reading import parse_reading
from diagtree.physics.units import unit

READ = [
    # typed, unit of the test, value, one count of the last digit
    ("12,4", "ohm", 12.4, 0.1),
    ("1.2 k", "ohm", 1200.0, 100.0),
    ("1.2k", "ohm", 1200.0, 100.0),
    ("12,4 k", "ohm", 12400.0, 100.0),
    ("420 kΩ", "ohm", 420e3, 1e3),
    ("0,42 MΩ", "ohm", 420e3, 10e3),
    ("1.2 M", "ohm", 1.2e6, 1e5),
    ("1.2 m", "ohm", 1.2e-3, 1e-4),
    ("12 mV", "V", 0.012, 0.001),
    ("-40", "degC", -40.0, 1.0),
    ("\u221240", "degC", -40.0, 1.0),
    ("+5", "V", 5.0, 1.0),
    ("18", "degC", 18.0, 1.0),
    ("18 C", "degC", 18.0, 1.0),
    ("18.0 °C", "degC", 18.0, 0.1),
    ("291.15 K", "degC", 18.0, 0.01),
    (".5", "V", 0.5, 0.1),
    ("1e3", "ohm", 1000.0, 1000.0),
    ("1.25e3", "ohm", 1250.0, 10.0),
    ("12.40", "kohm", 12.4, 0.01),
    ("12400", "kohm", 12400.0, 1.0),
    ("12400 ohm", "kohm", 12.4, 0.001),
    ("3600 W", "kW", 3.6, 0.001),
    ("85 %", "ratio", 0.85, 0.01),
    ("0.85", "percent", 0.85, 0.01),
    ("90 s", "min", 1.5, 1 / 60),
    ("1.2 K", "ohm", 1200.0, 100.0),
    ("1.2 KΩ", "ohm", 1200.0, 100.0),
    ("10 m", "m", 10.0, 1.0),
    ("2.5\u00a0kΩ", "ohm", 2500.0, 100.0),
    ("1,200", "ohm", 1.2, 0.001),
    (18, "degC", 18.0, 1.0),
    (0.4, "V", 0.4, 0.1),
    (1e-05, "V", 1e-05, 1e-05),
    (-3, "V", -3.0, 1.0),
]


@pytest.mark.parametrize(("typed", "name", "value", "count"), READ)
def test_what_meters_show_is_read(typed: object, name: str, value: float, count: float) -> None:
    reading = parse_reading(typed, name)
    assert reading.value == value
    assert reading.last_digit == pytest.approx(count, rel=1e-12)
    assert reading.unit == unit(name)
    assert not reading.over_range
    assert reading.typed == (typed if isinstance(typed, str) else repr(typed))


ASKED_BACK = [
    ("1.234,5", "V", "2 decimal marks"),
    ("1 200", "ohm", "a space inside"),
    ("8.7.1", "V", "2 decimal marks"),
    ("1,2,3", "V", "2 decimal marks"),
    ("12.", "V", "a digit is missing"),
    ("", "V", "nothing was typed; type a number in V"),
    ("   ", "V", "nothing was typed"),
    ("NaN", "V", "type a number in V"),
    ("inf", "V", "or OL where the meter shows that it is above its range"),
    (float("nan"), "V", "type a number"),
    (inf, "V", "type a number"),
    (">550 MΩ", "ohm", "or OL where the meter shows"),
    ("<0.1", "ohm", "type the number that the meter shows"),
    ("0L", "ohm", "type OL with the letter O"),
    ("O.L", "ohm", "type OL with the letter O"),
    ("over", "ohm", "type OL"),
    ("-OL", "V", "below the meter's range"),
    ("OL V", "ohm", "V (voltage), but this reading is in ohm (resistance)"),
    ("12 V", "ohm", "V (voltage), but this reading is in ohm (resistance)"),
    ("0,4 kohm", "V", "this reading is in V (voltage); measure that, or type the number in V, like 12.4"),
    ("12 xyz", "ohm", "`xyz` is not a known unit"),
    ("70 F", "degC", "degrees Fahrenheit are not read; type it in degC, like 21.5"),
    ("70 °F", "degC", "`70 °F`: degrees Fahrenheit"),
    ("70 fahrenheit", "degC", "`70 fahrenheit`: degrees Fahrenheit"),
    ("70 F", "ohm", "F (capacitance), but this reading is in ohm (resistance)"),
    ("1 k", "degC", "degC takes no prefix"),
    ("12 m", "min", "min takes no prefix"),
    ("3.6 M", "kW", "kW carries a prefix already"),
    ("4k7", "ohm", "like 4.7 k"),
    ("12:30", "min", "not"),
    ("1_000", "ohm", "not"),
    ("١٢", "V", "type a number"),
    ("1e99", "V", "beyond anything a meter shows"),
    ("9" * 50, "V", "too long"),
    (10**5000, "V", "too long"),
    (None, "V", "not a reading"),
    (True, "V", "not a reading"),
    (["1"], "V", "not a reading"),
]


@pytest.mark.parametrize(("typed", "name", "says"), ASKED_BACK, ids=[str(row[2]) for row in ASKED_BACK])
def test_what_is_unclear_is_asked_back(typed: object, name: str, says: str) -> None:
    with pytest.raises(ReadingError) as caught:
        parse_reading(typed, name)
    assert says in str(caught.value)


@pytest.mark.parametrize("typed", ["OL", "ol", "Ol", " OL ", "+OL", "OL MΩ", "OL k"])
def test_above_the_range_is_infinite(typed: str) -> None:
    reading = parse_reading(typed, "ohm")
    assert reading.over_range
    assert reading.value == inf
    assert reading.last_digit == 0
    assert reading.typed == typed


@pytest.mark.parametrize(
    ("typed", "value"), [("0.4", 0.4), ("-0,4", -0.4), ("0.4 V", 0.4), ("12 volt", 12.0), (400, 400.0), (1e-05, 1e-05)]
)
def test_absence_of_voltage_takes_plain_volts(typed: object, value: float) -> None:
    assert parse_reading(typed, "V", plain=True).value == value


def test_another_quantity_is_told_before_its_prefix() -> None:
    """Kilohms at a voltage are no prefix to be left off."""
    with pytest.raises(ReadingError, match=r"kohm \(resistance\), but this reading is in V \(voltage\)"):
        parse_reading("0,4 kohm", "V", plain=True)


@pytest.mark.parametrize("typed", ["12 mV", "1.2 k", "0.4 kV", "12 m", "1e-3", "OL k", "1,200", "0.4 ohm", "OL mV"])
def test_absence_of_voltage_takes_nothing_else(typed: str) -> None:
    with pytest.raises(ReadingError):
        parse_reading(typed, "V", plain=True)


@pytest.mark.parametrize("typed", ["OL", "-OL", "OL V"])
def test_absence_of_voltage_above_the_range_is_above_whatever_the_sign(typed: str) -> None:
    reading = parse_reading(typed, "V", plain=True)
    assert reading.over_range
    assert reading.value == inf


def test_an_unknown_unit_is_the_callers_mistake() -> None:
    with pytest.raises(WrongUse, match="did you mean `ohm`"):
        parse_reading("12", "omh")


@given(
    digits=st.decimals(0, 9999, places=3),
    comma=st.booleans(),
    negative=st.booleans(),
    gap=st.sampled_from(["", " "]),
    power=st.sampled_from(
        [("", 0), ("k", 3), ("M", 6), ("m", -3), ("µ", -6), ("u", -6), ("n", -9), ("G", 9), ("p", -12)]
    ),
    written=st.sampled_from(["", "Ω", "ohm"]),
)
@settings(deadline=None)
def test_prefixes_and_both_decimal_marks_read_exactly(
    digits: Decimal, comma: bool, negative: bool, gap: str, power: tuple[str, int], written: str
) -> None:
    number = f"{'-' if negative else ''}{digits}"
    typed = f"{number.replace('.', ',') if comma else number}{gap}{power[0]}{written}"
    reading = parse_reading(typed, "ohm")
    assert reading.value == float(Decimal(number).scaleb(power[1]))
    assert reading.last_digit == float(Decimal("0.001").scaleb(power[1]))


@given(st.floats(1e-25, 1e25) | st.floats(-1e25, -1e-25) | st.integers(-(10**20), 10**20))
@settings(deadline=None)
def test_numbers_from_answers_files_read_exactly(number: float) -> None:
    assert parse_reading(number, "V").value == float(number)


TYPING = st.text(max_size=50) | st.text("0123456789.,-+eEkMmµuΩVOLol %°C<> \u2212", max_size=14)


@given(
    TYPING | st.floats() | st.integers() | st.none() | st.booleans(), st.sampled_from(["ohm", "V", "degC", "", "kW"])
)
@settings(deadline=None, max_examples=400)
def test_anything_typed_is_a_reading_or_a_question(typed: object, name: str) -> None:
    for plain in (False, True):
        try:
            reading = parse_reading(typed, name, plain=plain)
        except ReadingError as error:
            question = str(error)
        else:
            question = "none"
            assert isfinite(reading.value) or (reading.over_range and reading.value == inf)
            assert reading.last_digit > 0 or reading.over_range
            assert parse_reading(reading.typed, name, plain=plain and isinstance(typed, str)) == reading
        assert question


@given(TYPING)
@settings(deadline=None, max_examples=400)
def test_plain_readings_never_differ_from_the_number_typed(typed: str) -> None:
    """Whatever is taken as the absence of voltage has no hidden factor: its digits are its value."""
    try:
        reading = parse_reading(typed, "V", plain=True)
    except ReadingError:
        return
    if not reading.over_range:
        digits = typed.replace("\u2212", "-").replace(",", ".").rstrip().rstrip("VvOolLtTsS ").strip()
        assert reading.value == float(digits)


def test_the_unit_s_own_prefix_may_be_typed_again() -> None:
    """A meter shows `12.4 k` where the reading is asked for in kohm."""
    assert parse_reading("12.4 k", "kohm").value == 12.4
    assert parse_reading("3,6 K", "kW").value == 3.6


@pytest.mark.parametrize(("typed", "advice"), [("350 k ohm", "type `350 k`"), ("1,2 M ohm", "type `1,2 M`")])
def test_a_prefix_apart_from_its_unit_is_never_advised_away(typed: str, advice: str) -> None:
    """`350` alone would be a thousandth of what the meter shows."""
    with pytest.raises(ReadingError, match=advice):
        parse_reading(typed, "ohm")
