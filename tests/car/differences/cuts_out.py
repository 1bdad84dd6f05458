"""Where physics and the figures of cars that cut out after a while differ, and why."""

from __future__ import annotations

from collections.abc import Mapping

from tests.car.differences import MARLIN, SURE, Explained

EXPLAINED: Mapping[tuple[str, str], Explained] = {
    ("inlet-contact-cuts-out", "inlet-conductor-resistance"): Explained(
        "at 16 A the same heat takes four times the resistance: on this car it is never hidden",
        {MARLIN: SURE["one-higher"]},
    ),
}
