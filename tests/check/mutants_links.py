"""Mistakes of links: names that lead nowhere, and what nothing leads to."""

from __future__ import annotations

from tests.check.mutant_tools import (
    NUMBER,
    Planted,
    another_test,
    at_key,
    at_value,
    missing,
    plants,
    put,
    value_mistake,
)
from tests.check.valid_folders import CAR, CATALOGUE, SHOP, TREE, Folder

value_mistake("unknown-step", TREE, "start", "nowhere")
value_mistake("unknown-outcome", CATALOGUE, "tests", NUMBER, "healthy", "zulu")
missing("outcome-without-branch", TREE, "steps", NUMBER, "then", "alpha", told=("steps", NUMBER))


@plants("unknown-test")
def _unknown_test(folder: Folder) -> Planted:
    put(folder, TREE, "steps", NUMBER, "test", "nothing")
    return at_value(folder, TREE, "steps", NUMBER, "test")


@plants("unknown-cause")
def _unknown_cause(folder: Folder) -> Planted:
    put(folder, TREE, "causes", "ghost", 3)
    return at_key(folder, TREE, "causes", "ghost")


@plants("unknown-access")
def _unknown_access(folder: Folder) -> Planted:
    put(folder, CATALOGUE, "tests", NUMBER, "needs", "open", ["clip", "ghost"])
    return at_value(folder, CATALOGUE, "tests", NUMBER, "needs", "open", 1)


@plants("unknown-tree")
def _unknown_tree(folder: Folder) -> Planted:
    put(folder, TREE, "steps", NUMBER, "then", "not-done", {"hand-over": "ghost"})
    return at_value(folder, TREE, "steps", NUMBER, "then", "not-done", "hand-over")


@plants("unknown-vehicle")
def _unknown_vehicle(folder: Folder) -> Planted:
    put(folder, SHOP, "vehicle", "petrel-9")
    return Planted(folder.texts(), SHOP, 1)


@plants("branch-without-outcome")
def _branch_without_outcome(folder: Folder) -> Planted:
    put(folder, TREE, "steps", NUMBER, "then", "zulu", {"refer": "a friend"})
    return at_key(folder, TREE, "steps", NUMBER, "then", "zulu")


@plants("unused-test")
def _unused_test(folder: Folder) -> Planted:
    return at_key(folder, CATALOGUE, "tests", another_test(folder))


@plants("unused-cause")
def _unused_cause(folder: Folder) -> Planted:
    put(folder, CATALOGUE, "causes", "planted", {"name": "a fault", "advise": {"do": "Tell them.", "minutes": 1}})
    return at_key(folder, CATALOGUE, "causes", "planted")


@plants("unused-procedure")
def _unused_procedure(folder: Folder) -> Planted:
    """Nothing needs a dead car any more."""
    catalogue = folder.files[CATALOGUE]
    for access in catalogue["access"].values():
        access.pop("power", None)
    for job in (*catalogue["tests"].values(), *(cause.get("correction", {}) for cause in catalogue["causes"].values())):
        if job.get("needs", {}).get("power") == "dead":
            job["needs"]["power"] = "any"
    return at_key(folder, CATALOGUE, "procedures", "make-safe")


@plants("unused-vehicle-value")
def _unused_vehicle_value(folder: Folder) -> Planted:
    put(folder, CAR, "safety", "dead_bellow", 20)
    return at_value(folder, CAR, "safety", "dead_bellow")


@plants("unused-access")
def _unused_access(folder: Folder) -> Planted:
    put(folder, CATALOGUE, "access", "planted", {"name": "lid", "open": 1, "close": 1})
    return at_key(folder, CATALOGUE, "access", "planted")


@plants("unknown-vehicle-value")
def _unknown_vehicle_value(folder: Folder) -> Planted:
    put(folder, CATALOGUE, "tests", NUMBER, "outcomes", "alpha", "below vehicle.inlet.warm")
    return at_value(folder, CATALOGUE, "tests", NUMBER, "outcomes", "alpha")


@plants("vehicle-value-missing")
def _vehicle_value_missing(folder: Folder) -> Planted:
    folder.files["vehicles/marlin-1.yaml"] = folder.files[CAR] | {"vehicle": "marlin-1"}  # type: ignore[index]
    folder.files[CAR] = folder.files[CAR] | {"safety": {"dead_below": 30}}  # type: ignore[index]
    return at_key(folder, CAR, "safety")




@plants("unknown-observable")
def _unknown_observable(folder: Folder) -> Planted:
    put(folder, CATALOGUE, "tests", NUMBER, "reads", "level", {"unit": "V", "of": "voltage(nothing)"})
    return at_value(folder, CATALOGUE, "tests", NUMBER, "reads", "level", "of")


@plants("observable-in-other-unit")
def _observable_in_other_unit(folder: Folder) -> Planted:
    put(folder, CATALOGUE, "tests", NUMBER, "reads", "level", {"unit": "V", "of": "resistance(inlet.ac_sensor)"})
    return at_value(folder, CATALOGUE, "tests", NUMBER, "reads", "level", "of")


@plants("unknown-part")
def _unknown_part(folder: Folder) -> Planted:
    put(folder, CATALOGUE, "causes", "cause-0", "fault", {"inlet.lamp": "open"})
    return at_key(folder, CATALOGUE, "causes", "cause-0", "fault", "inlet.lamp")


@plants("unknown-fault")
def _unknown_fault(folder: Folder) -> Planted:
    put(folder, CATALOGUE, "causes", "cause-0", "fault", {"inlet.ac_sensor": "sleepy"})
    return at_value(folder, CATALOGUE, "causes", "cause-0", "fault", "inlet.ac_sensor")


@plants("tool-misspelt")
def _tool_misspelt(folder: Folder) -> Planted:
    folder.files[CATALOGUE]["tests"][NUMBER]["needs"]["tools"] = ["multimetr", "multimeter", "multimeter"]
    return at_value(folder, CATALOGUE, "tests", NUMBER, "needs", "tools", 0)
