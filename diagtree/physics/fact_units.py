"""The units in which a vehicle profile states the facts that have one name on every car, by their dotted path.

Where arithmetic in knowledge uses one of these, volts against ohms is a mistake; any other fact fits anything.
"""

from __future__ import annotations

from collections.abc import Mapping

FACT_UNITS: Mapping[str, str] = {
    "battery.nominal": "V",
    "charger.current": "A",  # per phase
    "charger.derates_above": "degC",
    "dc.current": "A",
    "dc.power": "kW",
    "inlet.proximity.pull_down": "ohm",
    "inlet.proximity.pull_up": "ohm",
    "inlet.proximity.supply": "V",
    "safety.dead_below": "V",
    "safety.wait": "min",
}
