"""A sensor of a profile in words: what is known of it, and nothing that is not."""

from __future__ import annotations

import pytest

from diagtree.physics.quantity import Facts
from diagtree.physics.sensor_words import sensor_words


@pytest.mark.parametrize(
    ("sensor", "words"),
    [
        ({"kind": "ntc", "r25": 10000.0, "beta": 3435.0}, "10 kohm NTC, beta 3435 K"),
        ({"kind": "ntc", "r25": "unknown", "beta": "unknown"}, "NTC"),
        ({"kind": "ntc", "table": {"0": 27326.0, "25": 10000.0}}, "NTC, table"),
        ({"kind": "ntc", "a": 0.0008745, "b": 0.0002537, "c": 1.8e-7}, "NTC, a 0.0008745, b 0.0002537, c 1.8e-07"),
        ({"kind": "platinum", "r0": 100.0}, "platinum, 100 ohm at 0 degC"),
        ({"kind": "ptc", "normal_low": 600.0, "normal_high": 1500.0}, "PTC, normal low 600, normal high 1500"),
    ],
)
def test_sensor_in_words(sensor: Facts, words: str) -> None:
    """The words name kind and facts with their units."""
    assert sensor_words(sensor) == words
