"""Any temperature sensor that a vehicle profile describes: resistance and temperature, both ways.

Kinds: `ntc` (see `thermistor`), `platinum` (see `resistance_thermometer`) and `ptc`, a switch that only says
"normal" or "too hot": {normal_low, normal_high} [ohm], and, where the maker gives them, `switches_at` [degC] and
`hot_above` [ohm].
"""

from __future__ import annotations

from diagtree.errors import OutOfRange
from diagtree.physics import facts as profile
from diagtree.physics import resistance_thermometer, thermistor
from diagtree.physics.quantity import Facts
from diagtree.physics.ranges import plain


def resistance(temperature: float, sensor: Facts) -> float:
    """Return the resistance a sensor has at `temperature` [degC]. [ohm]

    A PTC switch has no curve: the middle of its normal band while it is cool, its `hot_above` once it is hot.
    Raises OutOfRange where the profile lacks what the sensor's kind needs, or says `unknown`.
    """
    kind = profile.kind(sensor)
    if kind == "ntc":
        return thermistor.resistance(temperature, sensor)
    if kind == "platinum":
        return resistance_thermometer.nominal(sensor) * resistance_thermometer.ratio(temperature)
    low, high = ptc_band(sensor)
    switches_at = profile.optional_number(sensor, "switches_at", low=0.0, high=300.0, unit="degC")
    if switches_at is not None and temperature >= switches_at:
        return profile.number(sensor, "hot_above", low=high, high=1e7, unit="ohm")
    return (low + high) / 2.0


def temperature(ohms: float, sensor: Facts) -> float:
    """Return the temperature at which a sensor has the resistance `ohms`. [degC]

    Raises OutOfRange for a PTC switch, which tells no temperature, and where the profile lacks a fact.
    """
    kind = profile.kind(sensor)
    if kind == "ntc":
        return thermistor.temperature(ohms, sensor)
    if kind == "platinum":
        return resistance_thermometer.temperature_of_ratio(ohms / resistance_thermometer.nominal(sensor))
    low, high = ptc_band(sensor)
    raise OutOfRange(
        f"a PTC switch tells no temperature: {plain(low)} to {plain(high)} ohm is normal on this car, more is too hot"
    )


def ptc_band(sensor: Facts) -> tuple[float, float]:
    """Return the resistances between which a PTC switch counts as normal. [ohm] Raises OutOfRange without them."""
    profile.must_be(sensor, "ptc")
    low = profile.number(sensor, "normal_low", low=1.0, high=1e6, unit="ohm")
    return low, profile.number(sensor, "normal_high", low=low, high=1e6, unit="ohm")
