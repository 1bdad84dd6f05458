"""Units of arithmetic: what converts, what is refused and where."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.knowledge.limits import (
    ExpressionError,
    UnitMismatch,
    dimension,
    evaluate,
    parse_expression,
    with_units,
)
from diagtree.physics.units import Unit, unit

UNITS: dict[str, Unit | str | None] = {
    "r": "kohm", "expected": "ohm", "v": "V", "small": "mV", "t": "degC", "ambient": "degC", "rise": "K", "share": "%",
    "ratio": "", "power": "kW", "watts": "W", "minutes": "min", "seconds": "s", "current": "A", "open": None,
}  # fmt: skip
VALUES: dict[str, Any] = {
    "r": 12.0, "expected": 10000.0, "v": 2.0, "small": 500.0, "t": 40.0, "ambient": 18.0, "rise": 11.0, "share": 90.0,
    "ratio": 0.9, "power": 3.6, "watts": 3240.0, "minutes": 2.0, "seconds": 30.0, "current": 4.0, "open": 2.0,
    "vehicle": {"sensor": {"kind": "ntc", "r25": 10000.0, "beta": 3435.0}, "lead": 2.0},
}  # fmt: skip

CONVERTED = [
    # text, unit of the result (None: open), value
    ("r / expected", "", 1.2),
    ("expected / r", "", 1 / 1.2),
    ("r - expected", "kohm", 2.0),
    ("expected - r", "ohm", -2000.0),
    ("r", "kohm", 12.0),
    ("r + 1", "kohm", 13.0),
    ("2 * r", "kohm", 24.0),
    ("-r", "kohm", -12.0),
    ("r - vehicle.lead", "kohm", 10.0),
    ("r * vehicle.lead", None, 24.0),
    ("v / current", "V/A", 0.5),
    ("v / current - expected", "V/A", -9999.5),
    ("v * current - watts", "V*A", -3232.0),
    ("v * current / power", "", 8 / 3600),
    ("min(small, v)", "mV", 500.0),
    ("max(small, v)", "mV", 2000.0),
    ("max(5, v)", "V", 5.0),
    ("abs(r)", "kohm", 12.0),
    ("round(r, 1)", "kohm", 12.0),
    ("minutes / seconds", "", 4.0),
    ("minutes * 60", "min", 120.0),
    ("t - ambient", "K", 22.0),
    ("(t - ambient) / rise", "", 2.0),
    ("t - rise", "degC", 29.0),
    ("rise + t", "degC", 51.0),
    ("t + 1", "degC", 41.0),
    ("share", "percent", 90.0),
    ("share / 100", None, 0.9),
    ("ratio - share / 100", "", 0.0),
    ("power * share / 100 / watts", "", 1.0),
    ("ntc(t, vehicle.sensor)", "ohm", 5758.763),
    ("ntc(t, vehicle.sensor) / r", "", 0.4798969),
    ("ntc(25, vehicle.sensor)", "ohm", 10000.0),
    ("open + r", "kohm", 14.0),
    ("5", None, 5.0),
]


@pytest.mark.parametrize(("text", "name", "value"), CONVERTED, ids=[row[0] for row in CONVERTED])
def test_units_of_one_dimension_convert_where_they_meet(text: str, name: str | None, value: float) -> None:
    expr, result = with_units(parse_expression(text), UNITS)
    assert (result.name if result else None) == name
    assert evaluate(expr, VALUES) == pytest.approx(value)
    assert dimension(parse_expression(text), UNITS) == result


REFUSED = [
    ("v + r", 4, "kohm (resistance), against V (voltage)"),
    ("r - v", 4, "V (voltage), against kohm (resistance)"),
    ("1 + v - current", 8, "A (current), against V (voltage)"),
    ("max(v, r)", 7, "kohm (resistance), against V (voltage)"),
    ("ratio - share", 8, "divide the percentage by 100"),
    ("t / rise", 4, "subtract two temperatures"),
    ("rise - t", 7, "subtract two temperatures"),
    ("max(t, rise)", 7, "subtract two temperatures"),
    ("ntc(v, vehicle.sensor)", 4, "`temperature` of `ntc` is in V (voltage), against degC (temperature)"),
    ("ntc(t - ambient, vehicle.sensor)", 4, "subtract two temperatures"),
    ("power * 1000 / watts", 0, "the factor 1000 does it a second time"),
    ("watts / (power * 1000)", 0, "a second time"),
    ("minutes * 60 - seconds", 15, "the factor 0.0166666667 does it a second time"),
    ("r * 1000 - expected", 11, "a second time"),
]


@pytest.mark.parametrize(("text", "column", "says"), REFUSED, ids=[row[0] for row in REFUSED])
def test_units_that_cannot_meet_are_refused_with_their_column(text: str, column: int, says: str) -> None:
    with pytest.raises(UnitMismatch) as caught:
        with_units(parse_expression(text), UNITS)
    assert says in str(caught.value)
    assert caught.value.column == column


def test_an_unknown_reading_is_refused_with_its_column() -> None:
    with pytest.raises(ExpressionError, match="did you mean `seconds`") as caught:
        with_units(parse_expression("1 + secnds"), UNITS)
    assert caught.value.column == 4


def test_an_unknown_unit_is_refused_at_the_name() -> None:
    with pytest.raises(ExpressionError, match="did you mean `ohm`") as caught:
        with_units(parse_expression("1 + x"), {"x": "omh"})
    assert caught.value.column == 4


def test_a_limit_is_brought_to_the_unit_of_what_is_judged() -> None:
    """`r` is read in kohm; a limit computed in ohm is brought there, a bare number is there already."""
    computed, _ = with_units(parse_expression("expected * 0.9"), UNITS, unit("kohm"))
    bare, _ = with_units(parse_expression("9"), UNITS, unit("kohm"))
    assert evaluate(computed, VALUES) == pytest.approx(9)
    assert evaluate(bare, VALUES) == 9
    with pytest.raises(UnitMismatch, match="against V"):
        with_units(parse_expression("expected * 0.9"), UNITS, unit("V"))


def test_an_expression_without_conversions_stays_the_same() -> None:
    expr = parse_expression("expected * 2 - expected")
    assert with_units(expr, UNITS)[0] is expr


OHMS = ["ohm", "kohm", "Mohm", "mohm"]


@given(
    st.sampled_from(["a / b", "a - b", "max(a, b)", "min(a, b) / b", "(a - b) / (a + b)", "abs(a - b)"]),
    st.sampled_from(OHMS),
    st.sampled_from(OHMS),
    st.floats(1, 1e6),
    st.floats(1, 1e6),
)
@settings(deadline=None)
def test_the_units_chosen_never_change_what_comes_out(text: str, one: str, two: str, a: float, b: float) -> None:
    """The same two resistances, declared in ohms or in any other unit, give the same result in ohms."""
    base, result = with_units(parse_expression(text), {"a": "ohm", "b": "ohm"})
    other, converted = with_units(parse_expression(text), {"a": one, "b": two})
    assert result is not None
    assert converted is not None
    values = {"a": a / float(unit(one).factor), "b": b / float(unit(two).factor)}
    scale = 1.0 if result.name == "" else max(a, b)
    assert evaluate(other, values) * float(converted.factor) == pytest.approx(
        evaluate(base, {"a": a, "b": b}), rel=1e-9, abs=1e-9 * scale
    )


@given(
    st.recursive(
        st.sampled_from([*UNITS, "2", "100", "vehicle.lead"]),
        lambda parts: st.tuples(parts, st.sampled_from("+-*/"), parts).map(lambda part: f"({' '.join(part)})"),
        max_leaves=6,
    )
)
@settings(deadline=None, max_examples=300)
def test_any_arithmetic_has_a_unit_or_a_mismatch(text: str) -> None:
    column = 0
    try:
        expr, result = with_units(parse_expression(text), UNITS)
    except ExpressionError as error:
        column = error.column
    else:
        assert expr.names == parse_expression(text).names
        assert result is None or result.factor > 0
    assert 0 <= column <= len(text)


@pytest.mark.parametrize(
    ("text", "ok"),
    [
        ("resistance - vehicle.safety.dead_below", False),  # ohms less volts
        ("resistance / vehicle.charger.current", True),  # another dimension, as every ratio
        ("volts - vehicle.battery.nominal", True),
        ("volts - vehicle.charger.current", False),
        ("volts - vehicle.a_fact_of_one_s_own", True),
        ("power_kw - vehicle.dc.power", True),
    ],
)
def test_a_fact_with_a_stated_unit_is_held_to_it(text: str, ok: bool) -> None:
    units = {"resistance": "ohm", "volts": "V", "power_kw": "kW"}
    if ok:
        with_units(parse_expression(text), units)
    else:
        with pytest.raises(UnitMismatch, match="against"):
            with_units(parse_expression(text), units)


def test_a_fact_converts_to_the_reading_beside_it() -> None:
    converted, _ = with_units(parse_expression("power - vehicle.dc.power"), {"power": "W"})
    assert evaluate(converted, {"power": 90_000.0, "vehicle": {"dc": {"power": 100.0}}}) == -10_000.0
