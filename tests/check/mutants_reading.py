"""Mistakes of reading: a text that cannot be read, or not as it was meant."""

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
    rewritten,
    text_mistake,
    value_mistake,
)
from tests.check.valid_folders import CATALOGUE, TREE, Folder

value_mistake("wrong-type", CATALOGUE, "tests", NUMBER, "ask", ["What?", "Why?"])
value_mistake("bad-number", CATALOGUE, "tests", NUMBER, "minutes", "ten")
missing("missing-key", CATALOGUE, "tests", NUMBER, "source", told=("tests", NUMBER))
value_mistake("empty-text", CATALOGUE, "tests", NUMBER, "ask", "")
value_mistake("unknown-word", CATALOGUE, "tests", NUMBER, "place", "desk")
value_mistake("unreadable-arithmetic", CATALOGUE, "tests", NUMBER, "outcomes", "alpha", "below 4 +")
value_mistake("unknown-name", CATALOGUE, "tests", NUMBER, "outcomes", "alpha", "below 4 + ambient")
value_mistake("bad-limit", CATALOGUE, "tests", NUMBER, "outcomes", "alpha", "under 4")
value_mistake("bad-unit", CATALOGUE, "tests", NUMBER, "reads", "level", "parsec")
value_mistake("reads-without-limits", CATALOGUE, "tests", NUMBER, "outcomes", ["alpha", "bravo", "charlie"])
value_mistake("tree-not-file", TREE, "tree", "another")
value_mistake("unknown-format", TREE, "diagtree", 2)
text_mistake("tag", lambda row: row.replace("ask: ", "ask: !number "))
text_mistake("anchor", lambda row: row.replace("ask: ", "ask: &question "))
text_mistake("alias", lambda row: row.replace("ask: ", "mind: [&question Why?]\n    ask: *question #"), shift=1)
text_mistake("unreadable-yaml", lambda row: row.replace("ask: ", 'ask: "'))
text_mistake("unreadable-character", lambda row: row + "\x07")
text_mistake("cut-by-comment", lambda row: row.replace("What does", "What number #4 does"))
text_mistake("nested-too-deep", lambda row: row.split("ask:")[0] + "ask: " + "[" * 70 + "]" * 70)
text_mistake("duplicate-key", lambda row: f"{row}\n{row}", shift=1)
text_mistake("merge-key", lambda row: f"{row}\n    <<: {{attended: 1}}", shift=1)
text_mistake("key-not-text", lambda row: f"{row}\n    [attended, minutes]: 1", shift=1)


@plants("cut-at-comma")
def _cut_at_comma(folder: Folder) -> Planted:
    put(folder, CATALOGUE, "tests", NUMBER, "how", ["Release the catch", "pull the housing."])
    return at_value(folder, CATALOGUE, "tests", NUMBER, "how", 1)


@plants("unknown-key")
def _unknown_key(folder: Folder) -> Planted:
    put(folder, CATALOGUE, "tests", NUMBER, "mnid", ["Touch nothing."])
    return at_key(folder, CATALOGUE, "tests", NUMBER, "mnid")


@plants("bad-id")
def _bad_id(folder: Folder) -> Planted:
    put(folder, CATALOGUE, "access", "two words", {"name": "lid", "open": 1, "close": 1})
    return at_key(folder, CATALOGUE, "access", "two words")


@plants("empty-file")
def _empty_file(folder: Folder) -> Planted:
    return Planted(folder.texts() | {"catalogue/later.yaml": "# later\n"}, "catalogue/later.yaml", 1)


@plants("reserved-word")
def _reserved_word(folder: Folder) -> Planted:
    put(folder, CATALOGUE, "tests", QUESTION, "outcomes", ["no", "yes", "not-done"])
    return at_value(folder, CATALOGUE, "tests", QUESTION, "outcomes", 2)


@plants("judge-without-reads")
def _judge_without_reads(folder: Folder) -> Planted:
    put(folder, CATALOGUE, "tests", QUESTION, "judge", "level")
    return at_key(folder, CATALOGUE, "tests", QUESTION)


@plants("judge-missing")
def _judge_missing(folder: Folder) -> Planted:
    put(folder, CATALOGUE, "tests", NUMBER, "reads", {"level": "V", "more": "V"})
    return at_key(folder, CATALOGUE, "tests", NUMBER)


@plants("too-few-outcomes")
def _too_few_outcomes(folder: Folder) -> Planted:
    name = another_test(folder, outcomes=["delta"])
    return at_value(folder, CATALOGUE, "tests", name, "outcomes")


@plants("limits-without-reads")
def _limits_without_reads(folder: Folder) -> Planted:
    drop(folder, CATALOGUE, "tests", NUMBER, "reads")
    return at_value(folder, CATALOGUE, "tests", NUMBER, "outcomes")


@plants("last-outcome-not-open")
def _last_outcome_not_open(folder: Folder) -> Planted:
    last = list(folder.files[CATALOGUE]["tests"][NUMBER]["outcomes"])[-1]
    put(folder, CATALOGUE, "tests", NUMBER, "outcomes", last, "below 99")
    return at_value(folder, CATALOGUE, "tests", NUMBER, "outcomes", last)


@plants("duplicate-outcome")
def _duplicate_outcome(folder: Folder) -> Planted:
    put(folder, CATALOGUE, "tests", QUESTION, "outcomes", ["no", "yes", "no"])
    return at_value(folder, CATALOGUE, "tests", QUESTION, "outcomes", 2)


@plants("no-shares")
def _no_shares(folder: Folder) -> Planted:
    put(folder, TREE, "causes", dict.fromkeys(folder.files[TREE]["causes"], 0))
    return Planted(folder.texts(), TREE, 1)


@plants("unit-mismatch")
def _unit_mismatch(folder: Folder) -> Planted:
    put(folder, CATALOGUE, "tests", NUMBER, "reads", {"level": "V", "warmth": "degC"})
    put(folder, CATALOGUE, "tests", NUMBER, "judge", "level - warmth")
    return at_value(folder, CATALOGUE, "tests", NUMBER, "judge")




# Comments that allow a finding, each wrong in its own way.
text_mistake("stale-suppression", lambda row: f"{row}  # check: allow empty-text because it was short")
text_mistake("suppression-of-unknown-rule", lambda row: f"{row}  # check: allow short-text because it is")
text_mistake("suppression-without-reason", lambda row: f"{row}  # check: allow empty-text")
text_mistake("suppression-not-understood", lambda row: f"{row}  # Check: allow empty-text because it was short")
text_mistake("suppression-refused", lambda row: "    ask: ''  # check: allow empty-text because it is known")


@plants("carriage-returns")
def _carriage_returns(folder: Folder) -> Planted:
    texts = folder.texts()
    return Planted({**texts, CATALOGUE: texts[CATALOGUE].replace("\n", "\r\n")}, CATALOGUE, 1)


@plants("decimal-comma")
def _decimal_comma(folder: Folder) -> Planted:
    short = "{name: lid, open: 2,5, close: 3}"
    return rewritten(folder, CATALOGUE, ("access", "lid"), lambda row: f"{row} {short}\n  old:")


@plants("rules-wait")
def _rules_wait(folder: Folder) -> Planted:
    step = folder.files[TREE]["start"]
    steps = folder.files[TREE]["steps"]
    steps[step]["thn"] = steps[step].pop("then")
    return at_key(folder, TREE, "steps", step)


@plants("catalogue-missing")
def _catalogue_missing(folder: Folder) -> Planted:
    texts = {name: text for name, text in folder.texts().items() if not name.startswith("catalogue/")}
    return Planted(texts, "catalogue/", 1)
