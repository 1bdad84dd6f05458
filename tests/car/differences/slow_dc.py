"""Where physics and the figures of slow rapid charging differ, and why."""

from __future__ import annotations

from collections.abc import Mapping

from tests.car.differences import SURE, Explained, both

EXPLAINED: Mapping[tuple[str, str], Explained] = {
    ("battery-cells-apart", "dc-power-trial"): both(
        "unequal cells limit the power of many batteries; the simulated one takes full power to the end", SURE["fits"]
    ),
    ("battery-sensor-reads-low", "dc-power-trial"): both(
        "a battery that takes itself for cold limits its power; the simulated one does not", SURE["fits"]
    ),
}
