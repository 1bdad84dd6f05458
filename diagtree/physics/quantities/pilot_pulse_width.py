"""Width of the pilot's pulse, as an oscilloscope shows it."""

from __future__ import annotations

from diagtree.physics import pilot_inputs as inputs
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

FREQUENCY = Input("frequency", "Hz", "frequency of the pilot", 100.0, 10000.0, 1000.0)
WIDTH = Input("value", "s", "width of the pulse", 0.0, 0.01)


@checked(inputs.DUTY, FREQUENCY)
def pilot_pulse_width(duty: float, frequency: float = 1000.0) -> float:
    """Return the time that the pilot stays high in each period. [s]

    duty : share of the period spent high, 0 to 100 [percent]; frequency : 1000 where not given [Hz].

    Raises OutOfRange outside the ranges.
    Source: IEC 61851-1 Annex A: 10 us per per cent at 1 kHz.
    """
    return duty / 100.0 / frequency


@checked(WIDTH, FREQUENCY)
def duty_of_width(value: float, frequency: float = 1000.0) -> float:
    """Return the duty cycle of a pulse `value` [s] wide. [percent]"""
    return 100.0 * value * frequency


QUANTITY = Quantity(
    id="pilot-pulse-width",
    meaning="width of the pilot's pulse",
    unit="s",
    inputs=(inputs.DUTY, FREQUENCY),
    compute=pilot_pulse_width,
    inverses={"duty": duty_of_width},
    formula="t = d / f",
    source="IEC 61851-1 Annex A",
    worked=(Worked({"duty": 5.0}, 50e-6, 1e-12, "guide of the EVerest charging-station stack: 5 % = 50 us"),),
    hazard="live",
)
