"""Mistakes of graph and meaning: trees that say what cannot be meant."""

from __future__ import annotations

from tests.check.mutant_tools import (
    NUMBER,
    QUESTION,
    Planted,
    another_cause,
    another_step,
    another_test,
    at_key,
    at_value,
    drop,
    first_step,
    missing,
    plants,
    put,
)
from tests.check.valid_folders import CATALOGUE, SECOND, SHOP, TREE, Folder

missing("no-correction", CATALOGUE, "causes", "cause-1", "advise", told=("causes", "cause-1"))
missing("proof-missing", CATALOGUE, "causes", "cause-0", "proof", told=("causes", "cause-0"))


@plants("access-ring")
def _access_ring(folder: Folder) -> Planted:
    put(folder, CATALOGUE, "access", "lid", "after", ["clip"])
    return at_key(folder, CATALOGUE, "access", "lid")


@plants("shows-not-100")
def _shows_not_100(folder: Folder) -> Planted:
    put(folder, CATALOGUE, "causes", "cause-0", "shows", QUESTION, {"no": 80, "yes": 15})
    return at_key(folder, CATALOGUE, "causes", "cause-0", "shows", QUESTION)


@plants("correction-and-advice")
def _correction_and_advice(folder: Folder) -> Planted:
    put(folder, CATALOGUE, "causes", "cause-0", "advise", {"do": "Tell the owner.", "minutes": 1})
    return at_key(folder, CATALOGUE, "causes", "cause-0")




@plants("unreached-step")
def _unreached_step(folder: Folder) -> Planted:
    another_step(folder, {"delta": {"refer": "a friend"}, "echo": {"conclude": "cause-0"}})
    return at_key(folder, TREE, "steps", "planted")


@plants("dead-end")
def _dead_end(folder: Folder) -> Planted:
    another_step(folder, {"delta": "planted", "echo": "planted"})
    put(folder, TREE, "steps", NUMBER, "then", "alpha", "planted")
    return at_key(folder, TREE, "steps", "planted")


@plants("loop")
def _loop(folder: Folder) -> Planted:
    put(folder, TREE, "steps", NUMBER, "then", "alpha", QUESTION)
    return at_key(folder, TREE, "steps", NUMBER, "then", "alpha")


@plants("unreached-conclusion")
def _unreached_conclusion(folder: Folder) -> Planted:
    another_cause(folder)
    another_step(folder, {"delta": {"conclude": "planted"}, "echo": {"refer": "a friend"}})
    return at_key(folder, TREE, "steps", "planted", "then", "delta")


@plants("cause-never-concluded")
def _cause_never_concluded(folder: Folder) -> Planted:
    another_cause(folder)
    return at_key(folder, TREE, "causes", "planted")


@plants("hand-over-ring")
def _hand_over_ring(folder: Folder) -> Planted:
    put(folder, TREE, "steps", NUMBER, "then", "not-done", {"hand-over": "second"})
    start = folder.files[SECOND]["start"]
    put(folder, SECOND, "steps", start, "then", "not-done", {"hand-over": "made-up"})
    return at_key(folder, TREE, "steps", NUMBER, "then", "not-done")


@plants("limits-out-of-order")
def _limits_out_of_order(folder: Folder) -> Planted:
    another_test(folder, reads={"level": "V"}, outcomes={"delta": "below 5", "echo": "below 3", "golf": "otherwise"})
    return at_key(folder, CATALOGUE, "tests", "planted", "outcomes", "echo")


@plants("outcome-impossible")
def _outcome_impossible(folder: Folder) -> Planted:
    another_test(folder, reads={"level": "V"}, outcomes={"delta": "below 5", "echo": "below 1e9", "golf": "otherwise"})
    return at_key(folder, CATALOGUE, "tests", "planted", "outcomes", "golf")


@plants("branch-never-taken")
def _branch_never_taken(folder: Folder) -> Planted:
    first_step(folder, {"delta": QUESTION, "echo": {"refer": "a friend"}})
    return at_key(folder, TREE, "steps", "planted", "then", "echo")


@plants("test-parts-nothing")
def _test_parts_nothing(folder: Folder) -> Planted:
    first_step(folder, {"delta": QUESTION, "echo": {"refer": "a friend"}})
    return at_key(folder, TREE, "steps", "planted")


@plants("test-without-effect")
def _test_without_effect(folder: Folder) -> Planted:
    first_step(folder, {"delta": QUESTION, "echo": QUESTION})
    return at_key(folder, TREE, "steps", "planted")


@plants("test-repeated")
def _test_repeated(folder: Folder) -> Planted:
    outcomes = folder.files[CATALOGUE]["tests"][NUMBER]["outcomes"]
    ends = {outcome: {"refer": f"friend {number}"} for number, outcome in enumerate(outcomes)}
    put(folder, TREE, "steps", "again", {"test": NUMBER, "then": ends})
    put(folder, TREE, "steps", NUMBER, "then", "alpha", "again")
    return at_key(folder, TREE, "steps", "again")


@plants("conclusion-excluded")
def _conclusion_excluded(folder: Folder) -> Planted:
    last = list(folder.files[CATALOGUE]["tests"][NUMBER]["outcomes"])[-1]
    put(folder, CATALOGUE, "causes", "cause-0", "shows", NUMBER, {"alpha": 100})
    put(folder, TREE, "steps", NUMBER, "then", last, {"conclude": "cause-0"})
    return at_key(folder, TREE, "steps", NUMBER, "then", last)


@plants("attended-above-minutes")
def _attended_above_minutes(folder: Folder) -> Planted:
    put(folder, CATALOGUE, "tests", NUMBER, "attended", 999)
    return at_value(folder, CATALOGUE, "tests", NUMBER, "attended")


@plants("share-zero")
def _share_zero(folder: Folder) -> Planted:
    put(folder, TREE, "causes", "cause-1", 0)
    return at_key(folder, TREE, "causes", "cause-1")


@plants("shares-not-100")
def _shares_not_100(folder: Folder) -> Planted:
    put(folder, TREE, "causes", "cause-1", 500)
    return at_key(folder, TREE, "causes", "cause-0")


@plants("something-else-missing")
def _something_else_missing(folder: Folder) -> Planted:
    drop(folder, TREE, "causes", "something-else")
    return at_key(folder, TREE, "causes", "cause-0")


@plants("comeback-below-referral")
def _comeback_below_referral(folder: Folder) -> Planted:
    put(folder, SHOP, "comeback", 20)
    return Planted(folder.texts(), SHOP, 1)


@plants("comeback-missing")
def _comeback_missing(folder: Folder) -> Planted:
    drop(folder, SHOP, "comeback")
    return Planted(folder.texts(), SHOP, 1)


@plants("referral-missing")
def _referral_missing(folder: Folder) -> Planted:
    drop(folder, SHOP, "referral")
    return Planted(folder.texts(), SHOP, 1)
