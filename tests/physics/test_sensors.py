"""Temperature sensors: both ways, both descriptions, and what a profile may get wrong."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from diagtree.errors import OutOfRange
from diagtree.physics import resistance_thermometer as platinum
from diagtree.physics import temperature_sensor, thermistor
from diagtree.physics.quantity import quantity

CELSIUS = st.floats(-60.0, 200.0)
R25 = st.floats(100.0, 1e6)
BETA = st.floats(2000.0, 5500.0)
NTC = {"kind": "ntc", "r25": 10000.0, "beta": 3435.0}
PT1000 = {"kind": "platinum", "r0": 1000.0}
PTC = {"kind": "ptc", "normal_low": 600.0, "normal_high": 1500.0, "switches_at": 110.0, "hot_above": 1600.0}


@settings(max_examples=200, deadline=None)
@given(celsius=CELSIUS, r25=R25, beta=BETA)
def test_beta_form_both_ways(celsius, r25, beta):
    """Temperature to resistance and back."""
    facts = {"r25": r25, "beta": beta}
    assert thermistor.temperature(thermistor.resistance(celsius, facts), facts) == pytest.approx(celsius, abs=1e-8)


@settings(max_examples=200, deadline=None)
@given(celsius=CELSIUS, b=st.floats(1e-4, 4e-4), c=st.floats(-1e-8, 5e-7), a=st.floats(5e-4, 2e-3))
def test_steinhart_hart_both_ways(celsius, a, b, c):
    """Temperature to resistance and back, wherever the coefficients give a resistance at all."""
    facts = {"a": a, "b": b, "c": c}
    try:
        ohms = thermistor.resistance(celsius, facts)
    except OutOfRange:
        assume(False)
    assume(1e-3 < ohms < 1e9)
    assert thermistor.temperature(ohms, facts) == pytest.approx(celsius, abs=1e-6)


@settings(max_examples=100, deadline=None)
@given(r25=R25, beta=BETA)
def test_a_beta_sensor_is_a_steinhart_hart_sensor_without_the_cubic_term(r25, beta):
    """Three rows of a beta curve give c near 0 and the same curve everywhere."""
    facts = {"r25": r25, "beta": beta}
    rows = {str(at): thermistor.resistance(at, facts) for at in (0.0, 25.0, 85.0)}
    for celsius in (-40.0, 10.0, 120.0):
        expected = thermistor.resistance(celsius, facts)
        assert thermistor.resistance(celsius, {"table": rows}) == pytest.approx(expected, rel=1e-6)


@settings(max_examples=100, deadline=None)
@given(r25=R25, beta=BETA, noise=st.lists(st.floats(-1e-3, 1e-3), min_size=8, max_size=8))
def test_least_squares_agree_with_numpy(r25, beta, noise):
    """The fit of a table is the one numpy finds."""
    temperatures = [-20.0 + 20.0 * place for place in range(8)]
    facts = {"r25": r25, "beta": beta}
    rows = [
        (at, thermistor.resistance(at, facts) * (1.0 + jitter)) for at, jitter in zip(temperatures, noise, strict=True)
    ]
    logs = np.log([ohms for _, ohms in rows])
    inverse = 1.0 / (np.array(temperatures) + 273.15)
    expected, *_ = np.linalg.lstsq(np.column_stack([np.ones(8), logs, logs**3]), inverse, rcond=None)
    fitted = np.array(thermistor.steinhart_hart(rows))
    columns = np.column_stack([np.ones(8), logs, logs**3])
    assert columns @ fitted == pytest.approx(columns @ expected, abs=1e-10)


@settings(max_examples=200, deadline=None)
@given(one=CELSIUS, other=CELSIUS, r25=R25, beta=BETA)
def test_an_ntc_falls_and_platinum_rises(one, other, r25, beta):
    """Monotone, over the whole range."""
    assume(abs(one - other) > 1e-6)
    low, high = sorted((one, other))
    facts = {"r25": r25, "beta": beta}
    assert thermistor.resistance(low, facts) > thermistor.resistance(high, facts)
    assert platinum.ratio(low) < platinum.ratio(high)


@settings(max_examples=300, deadline=None)
@given(celsius=st.floats(-200.0, 850.0))
def test_platinum_both_ways(celsius):
    """Above and below zero, over the whole range of the standard."""
    assert platinum.temperature_of_ratio(platinum.ratio(celsius)) == pytest.approx(celsius, abs=1e-8)


@settings(max_examples=100, deadline=None)
@given(celsius=st.floats(-199.0, 849.0))
def test_platinum_slope_is_the_derivative(celsius):
    """Against a central difference."""
    step = 1e-3
    expected = (platinum.ratio(celsius + step) - platinum.ratio(celsius - step)) / (2 * step)
    assert platinum.slope(celsius) == pytest.approx(expected, rel=1e-6)


def test_platinum_is_continuous_at_zero():
    """Both formulas meet there."""
    assert platinum.ratio(0.0) == 1.0
    assert platinum.ratio(-1e-9) == pytest.approx(1.0, abs=1e-11)
    assert (platinum.ratio(100.0) - 1.0) / 100.0 == pytest.approx(0.0038505, abs=1e-7)


@pytest.mark.parametrize("ohms", [100.0, 4000.0, 1e6])
def test_a_resistance_no_platinum_sensor_has_is_refused(ohms):
    """Open and short are told as such."""
    with pytest.raises(OutOfRange, match="open, shorted"):
        quantity("platinum-temperature").compute(ohms, PT1000)


def test_a_table_meets_its_rows_and_goes_no_farther():
    """Two rows are a beta curve, three Steinhart-Hart, more are joined row to row and end at the last."""
    rows = {"0": 27326.0, "25": 10000.0, "50": 4158.0, "85": 1451.0}
    for count in (2, 3, 4):
        table = dict(list(rows.items())[:count])
        for celsius, ohms in table.items():
            assert thermistor.resistance(float(celsius), {"table": table}) == pytest.approx(ohms, rel=1e-9)
            assert thermistor.temperature(ohms, {"table": table}) == pytest.approx(float(celsius), abs=1e-8)
    for celsius in (-0.1, 85.1):
        with pytest.raises(OutOfRange, match="outside the sensor's table: type 0 to 85 degC"):
            thermistor.resistance(celsius, {"table": rows})
    for ohms in (27400.0, 1450.0):
        with pytest.raises(OutOfRange, match="1451 to 27326 ohm"):
            thermistor.temperature(ohms, {"table": rows})


@settings(max_examples=100, deadline=None)
@given(celsius=st.floats(0.0, 85.0))
def test_between_the_rows_of_a_table_it_is_monotone_and_both_ways(celsius):
    """Between rows the resistance lies between theirs and the way back returns the temperature."""
    facts = {"table": {"0": 27326.0, "25": 10000.0, "50": 4158.0, "85": 1451.0}}
    ohms = thermistor.resistance(celsius, facts)
    assert 1451.0 - 1e-9 <= ohms <= 27326.0 + 1e-6
    assert thermistor.temperature(ohms, facts) == pytest.approx(celsius, abs=1e-8)


BAD_FACTS = [
    ({"kind": "ntc", "r25": "unknown", "beta": 3435.0}, "`r25` is unknown on this car"),
    ({"kind": "ntc", "r25": 10000.0, "beta": "unknown"}, "`beta` is unknown on this car"),
    ({"kind": "ntc", "r25": 10000.0}, "gives no `beta` here"),
    ({"kind": "ntc"}, "gives no `r25` here"),
    ({"kind": "ntc", "r25": -5.0, "beta": 3435.0}, "`r25` = -5.0 .* out of range"),
    ({"kind": "ntc", "r25": math.nan, "beta": 3435.0}, "`r25` = nan .* out of range"),
    ({"kind": "ntc", "r25": "ten", "beta": 3435.0}, "`r25` = 'ten' .* out of range"),
    ({"kind": "ntc", "r25": {"x": 1.0}, "beta": 3435.0}, "`r25`"),
    ({"kind": "ntc", "table": "unknown"}, "`table` is unknown on this car"),
    ({"kind": "ntc", "table": {"0": 5.0}}, "two rows or more"),
    ({"kind": "ntc", "table": {"0": 5.0, "warm": 4.0}}, "numbers only"),
    ({"kind": "ntc", "table": {"0": 5.0, "10": 6.0}}, "falls as it gets warmer"),
    ({"kind": "ntc", "a": 1e-3, "b": 2e-4}, "gives no `c` here"),
    ({"kind": "platinum"}, "gives no `r0` here"),
    ({"kind": "platinum", "r0": "unknown"}, "`r0` is unknown on this car"),
    ({"kind": "ptc", "normal_low": 600.0}, "gives no `normal_high` here"),
    ({"kind": "ptc", "normal_low": 600.0, "normal_high": 500.0}, "`normal_high` = 500.0"),
    ({"kind": "thermocouple"}, "must be one of ntc, platinum, ptc"),
    ({"kind": "unknown"}, "`kind` is unknown on this car"),
    ({}, "must be one of ntc, platinum, ptc"),
]


@pytest.mark.parametrize(("facts", "words"), BAD_FACTS, ids=[words for _, words in BAD_FACTS])
def test_what_a_profile_gets_wrong_is_named(facts, words):
    """Unknown, missing, mistyped and impossible facts raise OutOfRange naming the fact."""
    for name, number in (("sensor-resistance", 20.0), ("sensor-temperature", 1000.0)):
        with pytest.raises(OutOfRange, match=words):
            quantity(name).compute(number, facts)


@pytest.mark.parametrize(("name", "facts"), [("ntc", PT1000), ("ntc-temperature", PT1000), ("platinum", NTC)])
def test_the_wrong_kind_of_sensor_is_told(name, facts):
    """A curve is never applied to another kind of sensor."""
    with pytest.raises(OutOfRange, match="this formula is for a sensor of kind"):
        quantity(name).compute(500.0 if name == "ntc-temperature" else 20.0, facts)


def test_each_kind_has_its_formula():
    """The dispatcher gives what the kind's own quantity gives."""
    for celsius in (-20.0, 4.0, 60.0):
        assert temperature_sensor.resistance(celsius, NTC) == quantity("ntc").compute(celsius, NTC)
        assert temperature_sensor.resistance(celsius, PT1000) == quantity("platinum").compute(celsius, PT1000)
    assert temperature_sensor.resistance(20.0, PTC) == 1050.0
    assert temperature_sensor.resistance(120.0, PTC) == 1600.0
    with pytest.raises(OutOfRange, match="600 to 1500 ohm is normal"):
        temperature_sensor.temperature(1000.0, PTC)


def test_how_sensor_faults_show():
    """Series resistance: platinum reads hot by nearly the same everywhere, an NTC cold and more the warmer it is;
    leakage: an NTC reads hot, worst when cold, platinum cold (directions inferred from the circuits)."""
    lead, leak = quantity("sensor-lead-error").compute, quantity("sensor-leakage-error").compute
    assert lead(25.0, 10.0, PT1000) == pytest.approx(2.58, abs=0.01)
    assert lead(90.0, 10.0, PT1000) == pytest.approx(lead(-20.0, 10.0, PT1000), abs=0.15)
    assert lead(90.0, 100.0, NTC) < lead(20.0, 100.0, NTC) < 0.0
    assert leak(-20.0, 1e5, NTC) > leak(25.0, 1e5, NTC) > 0.0
    assert leak(25.0, 1e5, PT1000) < 0.0
    assert leak(25.0, math.inf, NTC) == pytest.approx(0.0, abs=1e-9)
    assert lead(25.0, 0.0, PT1000) == pytest.approx(0.0, abs=1e-9)


def test_divider_at_its_ends():
    """A short is 0 V, an open wire the supply."""
    divider = quantity("divider-voltage").compute
    assert divider(0.0) == 0.0
    assert divider(math.inf) == 5.0
    with pytest.raises(OutOfRange, match="above the supply"):
        quantity("divider-resistance").compute(5.1)
