"""Where physics and the figures of slow rapid charging differ, and why."""

from __future__ import annotations

from collections.abc import Mapping

from tests.car.differences import SURE, Explained, both

SPAN = "the figures hold more spreads too small to be read than are drawn from 0.03 to 0.5 V: one in eight of those"
CELLS = {"even": 12.3, "apart": 87.7}

EXPLAINED: Mapping[tuple[str, str], Explained] = {
    ("battery-cells-apart", "cell-spread"): both(SPAN, CELLS),
    ("cells-out-of-balance", "cell-spread"): both(SPAN, CELLS),
    ("battery-cells-apart", "dc-power-trial"): both(
        "unequal cells limit the power of many batteries; the simulated one takes full power to the end", SURE["fits"]
    ),
    ("battery-sensor-reads-low", "dc-power-trial"): both(
        "a battery that takes itself for cold limits its power; the simulated one does not", SURE["fits"]
    ),
}
