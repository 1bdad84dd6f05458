"""Temperature of the on-board charger while it charges."""

from __future__ import annotations

from diagtree.physics.ac_charge import CAR, CHARGING, charger_temperature
from diagtree.physics.observable import Observable
from diagtree.physics.setup import Setup


def _charger(setup: Setup, charging: str) -> float:
    if not charging:
        return setup.conditions.ambient
    minutes, share = CHARGING[charging]
    return charger_temperature(setup, minutes, share=share)


OBSERVABLE = Observable(
    id="charger-temperature",
    kind="temperature",
    details=(("charger",), ("", *CHARGING)),
    unit="degC",
    meaning="highest temperature of the on-board charger within so long on AC; at rest if not said",
    changed_by=(*CAR, "charger.cooling"),
    compute=_charger,
    source="first-order thermal model (common physics); it holds where the vehicle profile says that it derates",
    assumes="30 K above the air at full current, 150 K with still coolant, 900 s (estimates)",
    hazard="live",
)
