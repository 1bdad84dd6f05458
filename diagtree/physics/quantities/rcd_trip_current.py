"""Residual current at which an RCD must trip."""

from __future__ import annotations

from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

RATED = Input("rated", "A", "rated residual current", 0.001, 1.0, 0.03)
WAVEFORM = Input("waveform", "word", "shape of the residual current", default="sine", words=("sine", "pulsating"))
VALUE = Input("value", "A", "residual current at which an RCD must trip", 0.0001, 2.0)


@checked(RATED, WAVEFORM)
def rcd_trip_current(rated: float = 0.03, waveform: str = "sine") -> float:
    """Return the residual current at which an RCD must trip. [A]

    rated : rated residual current, 0.001 to 1. [A]
    waveform : shape of the residual current.

    Raises OutOfRange outside these ranges.
    Source: articles on RCD testing (voltimum.co.uk) and RCD sensitivity (academy.lovatoelectric.com).
    """
    return rated * (1.0 if waveform == "sine" else 1.4)


@checked(VALUE, WAVEFORM)
def rated_of_rcd_trip_current(value: float, waveform: str = "sine") -> float:
    """Return the rated current whose trip current is `value` [A]. [A]"""
    return value / (1.0 if waveform == "sine" else 1.4)


QUANTITY = Quantity(
    id="rcd-trip-current",
    meaning="residual current at which an RCD must trip",
    unit="A",
    inputs=(RATED, WAVEFORM),
    compute=rcd_trip_current,
    inverses={"rated": rated_of_rcd_trip_current},
    formula="100 % of the rated current (AC sine), 140 % (pulsating DC, type A)",
    source="articles on RCD testing (voltimum.co.uk) and RCD sensitivity (academy.lovatoelectric.com)",
    worked=(
        Worked({}, 0.03, 0.0, "printed in those articles"),
        Worked({"waveform": "pulsating"}, 0.042, 1e-9, "printed in the first of them"),
    ),
    hazard="high-voltage",
)
