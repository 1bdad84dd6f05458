"""Mistakes that endanger people, and words that mislead them."""

from __future__ import annotations

from tests.check.mutant_tools import (
    NUMBER,
    QUESTION,
    Planted,
    another_test,
    at_key,
    at_value,
    drop,
    missing,
    plants,
    put,
    value_mistake,
)
from tests.check.valid_folders import CAR, CATALOGUE, TREE, Folder

missing("power-not-written", CATALOGUE, "tests", NUMBER, "needs", "power", told=("tests", NUMBER, "needs"))
missing("make-safe-missing", CATALOGUE, "procedures", "make-safe", told=("tests", NUMBER))
missing("re-energise-missing", CATALOGUE, "procedures", "re-energise", told=("tests", NUMBER))
missing("hand-back-missing", CATALOGUE, "procedures", "hand-back", told=("tests", NUMBER))
missing("pairs-missing", CATALOGUE, "procedures", "make-safe", "steps", 6, "between",
         told=("procedures", "make-safe", "steps", 6))  # fmt: skip
value_mistake("absence-limit-too-high", CAR, "safety", "dead_below", 75)
value_mistake("wait-says-nothing", CAR, "safety", "wait", 0)


@plants("dead-on-the-road")
def _dead_on_the_road(folder: Folder) -> Planted:
    name = another_test(folder, place="road", needs={"power": "dead"})
    return at_key(folder, CATALOGUE, "tests", name, "needs")


@plants("open-on-the-road")
def _open_on_the_road(folder: Folder) -> Planted:
    name = another_test(folder, place="road", needs={"power": "live", "open": ["lid"]})
    return at_key(folder, CATALOGUE, "tests", name)


@plants("live-needs-closed")
def _live_needs_closed(folder: Folder) -> Planted:
    put(folder, CATALOGUE, "tests", NUMBER, "needs", "power", "live")
    return at_key(folder, CATALOGUE, "tests", NUMBER)


@plants("stop-goes-on")
def _stop_goes_on(folder: Folder) -> Planted:
    put(folder, TREE, "steps", QUESTION, "then", "yes", NUMBER)
    return at_key(folder, TREE, "steps", QUESTION, "then", "yes")


@plants("stop-not-done")
def _stop_not_done(folder: Folder) -> Planted:
    put(folder, TREE, "steps", QUESTION, "then", "not-done", NUMBER)
    return at_key(folder, TREE, "steps", QUESTION, "then", "not-done")


@plants("make-safe-order")
def _make_safe_order(folder: Folder) -> Planted:
    drop(folder, CATALOGUE, "procedures", "make-safe", "steps", 3)
    return at_value(folder, CATALOGUE, "procedures", "make-safe", "steps", 3, "kind")


@plants("make-safe-opens-dead-only")
def _make_safe_opens_dead_only(folder: Folder) -> Planted:
    put(folder, CATALOGUE, "procedures", "make-safe", "needs", {"open": ["clip"]})
    return at_key(folder, CATALOGUE, "procedures", "make-safe")


@plants("absence-pairs-missing")
def _absence_pairs_missing(folder: Folder) -> Planted:
    drop(folder, CATALOGUE, "procedures", "make-safe", "steps", 6, "between", 1)
    return at_key(folder, CATALOGUE, "procedures", "make-safe", "steps", 6)


@plants("high-voltage-unqualified")
def _high_voltage_unqualified(folder: Folder) -> Planted:
    put(folder, CATALOGUE, "tests", NUMBER, "ask", "Voltage between DC+ and DC-")
    put(folder, CATALOGUE, "tests", NUMBER, "needs", "power", "any")
    drop(folder, CATALOGUE, "tests", NUMBER, "qualification")
    return at_key(folder, CATALOGUE, "tests", NUMBER)


@plants("danger-without-caution")
def _danger_without_caution(folder: Folder) -> Planted:
    put(folder, CATALOGUE, "tests", NUMBER, "how", ["Look at it.", "Look for water in it."])
    put(folder, CATALOGUE, "tests", NUMBER, "mind", ["Wear boots."])
    return at_value(folder, CATALOGUE, "tests", NUMBER, "how", 1)


@plants("battery-inside-opened")
def _battery_inside_opened(folder: Folder) -> Planted:
    put(folder, CATALOGUE, "causes", "cause-0", "where", "battery")
    put(folder, CATALOGUE, "causes", "cause-0", "correction", "do", "Open the battery and replace the sensor.")
    return at_key(folder, CATALOGUE, "causes", "cause-0", "correction")


@plants("live-resistance")
def _live_resistance(folder: Folder) -> Planted:
    name = another_test(
        folder, place="bay", needs={"power": "live"}, reads={"pin": "ohm"},
        outcomes={"delta": "below 5", "echo": "otherwise"},
    )  # fmt: skip
    return at_key(folder, CATALOGUE, "tests", name, "reads", "pin")




# Words.

value_mistake("question-unclear", CATALOGUE, "tests", QUESTION, "ask", "Inlet burnt or wet")


@plants("how-step-too-long")
def _how_step_too_long(folder: Folder) -> Planted:
    put(folder, CATALOGUE, "tests", NUMBER, "how", ["Look at it.", "Look at it, and " + "again, and " * 14 + "stop."])
    return at_value(folder, CATALOGUE, "tests", NUMBER, "how", 1)


@plants("confusable-outcomes")
def _confusable_outcomes(folder: Folder) -> Planted:
    name = another_test(folder, outcomes=["sealed", "unsealed"], healthy="sealed")
    return at_value(folder, CATALOGUE, "tests", name, "outcomes", 1)
