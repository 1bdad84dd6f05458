"""Where physics and the figures of charges that start and stop at once differ, and why."""

from __future__ import annotations

from collections.abc import Mapping

from tests.car.differences import SURE, Explained, both

FLICKERS = "the pilot wire is parted in the simulated cable; in others the coding or the latch flickers, or only a bend"

EXPLAINED: Mapping[tuple[str, str], Explained] = {
    ("cable-signal-flickers", "cable-coding"): both(FLICKERS, SURE["coded"]),
    ("cable-signal-flickers", "cable-continuity"): both(FLICKERS, SURE["parted"]),
}
