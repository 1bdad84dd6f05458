"""What it costs to compute a limit of a walk, and to start the bench calculator.

Ratios measured in one run: to the bare Python formula, and to a bare interpreter. Best of several; a busy machine may
spoil a whole round, so a few rounds are played: noise adds to a time, it never takes from it.
"""

from __future__ import annotations

import math
import resource
import subprocess
import sys
import timeit
from collections.abc import Callable
from pathlib import Path

import pytest

from diagtree.knowledge.limits import evaluate, parse_expression
from tests.bench.test_startup import HEAVY, imported

LOOPS = 100
"""So few that a turn of the processor holds them: a busy machine then spoils some turns, not all."""
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


def ratio(ours: Callable[[], float], bare: Callable[[], float], turns: int = 300) -> float:
    """Return how many times `bare` our call takes: the quickest turns of either, taken in alternation."""
    one, other = timeit.Timer(ours), timeit.Timer(bare)
    pairs = [(one.timeit(LOOPS), other.timeit(LOOPS)) for _ in range(turns)]
    return min(pair[0] for pair in pairs) / min(pair[1] for pair in pairs)


@pytest.mark.parametrize("name", LIMITS)
def test_a_limit_costs_at_most_20_times_its_bare_formula(name: str) -> None:
    text, sensor, bare = LIMITS[name]
    limit = parse_expression(text)
    values: dict[str, object] = {"t": 18.0, "vehicle": {"inlet": {"ac_sensor": sensor}}}
    assert evaluate(limit, values) == pytest.approx(bare(), rel=1e-12)  # type: ignore[arg-type]
    ratios = []
    for _ in range(4):
        ratios.append(ratio(lambda: evaluate(limit, values), bare))  # type: ignore[arg-type]
        if ratios[-1] <= 20:
            return
    pytest.fail(f"{text} costs {min(ratios):.1f} times the bare formula")


PILOT = ["-m", "diagtree", "calc", "pilot", "--state", "C", "--series", "300"]


def processor_time(arguments: list[str], times: int = 9) -> float:
    """Return the least processor time of several runs of the interpreter: waiting for its turn is not in it. [s]"""
    taken = []
    for _ in range(times):
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        subprocess.run([sys.executable, *arguments], check=True, capture_output=True, stdin=subprocess.DEVNULL)
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        taken.append(after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)
    return min(taken)


def test_calc_takes_at_most_12_times_a_bare_interpreter() -> None:
    ratios = []
    for _ in range(4):
        ratios.append(processor_time(PILOT) / processor_time(["-c", "pass"], 15))
        if ratios[-1] <= 12:
            return
    pytest.fail(f"calc takes {min(ratios):.1f} times a bare interpreter")


def test_calc_without_a_car_reads_no_knowledge_and_nothing_heavy(tmp_path: Path) -> None:
    found = imported(PILOT[2:], tmp_path)
    assert "click" in found
    assert not set(HEAVY) & found
