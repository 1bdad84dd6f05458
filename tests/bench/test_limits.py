"""What it costs to compute a limit of a walk, and to start the bench calculator.

Ratios measured in one run: to the bare Python formula, and to a bare interpreter. Best of several; a busy machine may
spoil a whole round, so a few rounds are played: noise adds to a time, it never takes from it.
"""

from __future__ import annotations

import math
import timeit
from collections.abc import Callable
from pathlib import Path

import pytest

from diagtree.knowledge.limits import evaluate, parse_expression
from tests.bench.test_startup import HEAVY, best, imported

LOOPS = 5000
PETREL = {"kind": "ntc", "r25": 10000.0, "beta": 3435.0}
MARLIN = {"kind": "platinum", "r0": 1000.0}


def bare_ntc(temperature: float, r25: float, beta: float) -> float:
    return r25 * math.exp(beta * (1.0 / (temperature + 273.15) - 1.0 / 298.15))


def bare_platinum(temperature: float, r0: float) -> float:
    return r0 * (1.0 + 3.9083e-3 * temperature - 5.775e-7 * temperature**2)


LIMITS: dict[str, tuple[str, dict[str, object], Callable[[], float]]] = {
    "ntc": ("ntc(t, vehicle.inlet.ac_sensor)", PETREL, lambda: bare_ntc(18.0, 10000.0, 3435.0)),
    "sensor": ("sensor_resistance(t, vehicle.inlet.ac_sensor)", PETREL, lambda: bare_ntc(18.0, 10000.0, 3435.0)),
    "platinum": ("platinum(t, vehicle.inlet.ac_sensor)", MARLIN, lambda: bare_platinum(18.0, 1000.0)),
}


def seconds(call: Callable[[], float]) -> float:
    """Return the quickest time of one call. [s]"""
    return min(timeit.repeat(call, number=LOOPS, repeat=7)) / LOOPS


@pytest.mark.parametrize("name", LIMITS)
def test_a_limit_costs_at_most_20_times_its_bare_formula(name: str) -> None:
    text, sensor, bare = LIMITS[name]
    limit = parse_expression(text)
    values: dict[str, object] = {"t": 18.0, "vehicle": {"inlet": {"ac_sensor": sensor}}}
    assert evaluate(limit, values) == pytest.approx(bare(), rel=1e-12)  # type: ignore[arg-type]
    ratios = []
    for _ in range(4):
        ratios.append(seconds(lambda: evaluate(limit, values)) / seconds(bare))  # type: ignore[arg-type]
        if ratios[-1] <= 20:
            return
    pytest.fail(f"{text} costs {min(ratios):.1f} times the bare formula")


PILOT = ["-m", "diagtree", "calc", "pilot", "--state", "C", "--series", "300"]


def test_calc_takes_at_most_8_times_a_bare_interpreter() -> None:
    ratios = []
    for _ in range(3):
        ratios.append(best(PILOT) / best(["-c", "pass"], 15))
        if ratios[-1] <= 8:
            return
    pytest.fail(f"calc takes {min(ratios):.1f} times a bare interpreter")


def test_calc_without_a_car_reads_no_knowledge_and_nothing_heavy(tmp_path: Path) -> None:
    found = imported(PILOT[2:], tmp_path)
    assert "click" in found
    assert not set(HEAVY) & found
