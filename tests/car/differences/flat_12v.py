"""Where physics and the figures of cars with a flat 12 V battery differ, and why."""

from __future__ import annotations

from collections.abc import Mapping

from tests.car.differences import Explained, both

DRAINED = "the simulated fault is the draw or the contact alone; in the workshop the battery comes in drained by it too"

EXPLAINED: Mapping[tuple[str, str], Explained] = {
    (cause, "low-voltage-at-rest"): both(DRAINED, {"charged": 100.0})
    for cause in ("accessory-drains", "charge-controller-awake", "clamp-loose", "low-voltage-battery-worn")
}
