"""Beta of an NTC thermistor from two of its rows."""

from __future__ import annotations

import math

from diagtree.errors import OutOfRange
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked
from diagtree.physics.thermistor import KELVIN, beta_between

COLD = Input("cold", "degC", "temperature of the colder row", -100.0, 400.0)
COLD_RESISTANCE = Input("cold_resistance", "ohm", "resistance of the colder row", 0.001, 1e10)
HOT = Input("hot", "degC", "temperature of the hotter row", -100.0, 400.0)
HOT_RESISTANCE = Input("hot_resistance", "ohm", "resistance of the hotter row", 0.001, 1e10)
VALUE = Input("value", "K", "beta of the curve through two rows of an NTC", 1.0, 50000.0)


@checked(COLD, COLD_RESISTANCE, HOT, HOT_RESISTANCE)
def ntc_beta(cold: float, cold_resistance: float, hot: float, hot_resistance: float) -> float:
    """Return the beta of the curve through two rows of an NTC. [K]

    cold : temperature of the colder row, -100 to 400. [degC]
    cold_resistance : resistance of the colder row, 0.001 to 1e+10. [ohm]
    hot : temperature of the hotter row, -100 to 400. [degC]
    hot_resistance : resistance of the hotter row, 0.001 to 1e+10. [ohm]

    Raises OutOfRange outside these ranges or where the resistance does not fall from the colder row to the hotter one.
    Source: beta form of the thermistor equation.
    """
    return beta_between((cold, cold_resistance), (hot, hot_resistance))


@checked(VALUE, COLD, COLD_RESISTANCE, HOT)
def hot_resistance_of_ntc_beta(value: float, cold: float, cold_resistance: float, hot: float) -> float:
    """Return the resistance of the hotter row that makes the beta `value` [K]. [ohm]"""
    if not cold < hot:
        raise OutOfRange("give the colder row first: `cold` must be below `hot`")
    return cold_resistance * math.exp(value * (1.0 / (hot + KELVIN) - 1.0 / (cold + KELVIN)))


QUANTITY = Quantity(
    id="ntc-beta",
    meaning="beta of the curve through two rows of an NTC",
    unit="K",
    inputs=(COLD, COLD_RESISTANCE, HOT, HOT_RESISTANCE),
    compute=ntc_beta,
    inverses={"hot_resistance": hot_resistance_of_ntc_beta},
    formula="beta = ln(R1/R2) / (1/T1 - 1/T2)",
    source="beta form of the thermistor equation",
    worked=(
        Worked(
            {"cold": 25.0, "cold_resistance": 10000.0, "hot": 85.0, "hot_resistance": 1451.0},
            3435.4,
            0.5,
            "table B57330V2103",
        ),
        Worked(
            {"cold": 25.0, "cold_resistance": 100000.0, "hot": 85.0, "hot_resistance": 8873.0},
            4310.7,
            0.5,
            "table NCP..WF104",
        ),
    ),
)
