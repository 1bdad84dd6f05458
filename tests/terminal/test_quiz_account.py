"""The account of a round: a sum that adds up, the same figures in words and in data; cars and drills kept apart."""

from __future__ import annotations

import json
import re

import pytest

from diagtree.errors import AnswerError
from diagtree.knowledge.files import load
from diagtree.knowledge.library import read_library
from diagtree.quiz.modes import MODES
from diagtree.quiz.round import deal
from diagtree.terminal.face import Look
from diagtree.terminal.quiz_car import CarTable
from diagtree.terminal.views.quiz_pictures import Pictures
from diagtree.walk.context import Walk
from tests.terminal.house import FILES
from tests.terminal.quiz_work import WORK, Run

LIBRARY = read_library(FILES)
SUM = re.compile(r"^ +(-?\d+)  (the best way|the price of 1 hint|lost by [a-z' ]+|luck)", re.MULTILINE)
GUIDED = "hint\ntest burnt\nmake-safe\n" + "go\n" * 8 + "50\n"  # a hint, a step of one's own, then the tree


def table(tree: str = "no-charge", car: str = "petrel", mode: str = "practice", *, ships: bool = False) -> CarTable:
    played = deal(Walk.begin(load() if ships else LIBRARY, tree, car), "1", MODES[mode])
    return CarTable(played, [played.dealt], Pictures(drawn=False))


def shown(one: CarTable, line: str) -> str:
    return "\n".join(block.text for block in one.take(line).blocks)


@pytest.mark.parametrize(("mode", "acts"), [("practice", WORK), ("practice", "hint\n" + WORK), ("guided", GUIDED)])
def test_words_and_data_hold_the_same_figures(quiz: Run, mode: str, acts: str) -> None:
    """The talk goes to the error stream beside `--json`: one round, told twice."""
    status, out, err = quiz("--mode", mode, "--seed", "1", "--json", acts=acts)
    assert status == 0, err
    found, account = json.loads(out), err.split("You spent ")[-1]
    lines = {what.strip(): int(amount) for amount, what in SUM.findall(account)}
    wanted = {"the best way": found["expected"], "lost by your own decisions": found["regret_own"],
              "luck": found["luck"]}  # fmt: skip
    if mode == "guided":
        wanted["lost by the tree's steps"] = found["regret_by_the_tree"]
    if found["hints"]:
        wanted["the price of 1 hint"] = found["price_of_hints"]
        wanted["lost by what hints told you to do"] = found["regret_by_hints"]
    assert lines == {what: round(amount) for what, amount in wanted.items()}
    assert sum(wanted.values()) == pytest.approx(found["money"])
    assert account.startswith(f"{found['money']:,.0f} and {found['minutes']:g} min")
    minutes = found["regret_own_minutes"] + found["regret_by_the_tree_minutes"] + found["regret_by_hints_minutes"]
    assert minutes + found["price_of_hints_minutes"] == pytest.approx(found["regret_minutes"])
    if found["regret_own_minutes"] >= 1:
        assert f"(and {found['regret_own_minutes']:.0f} min)" in account
    assert f"({found['expected_minutes']:.0f} min)" in account
    assert f"{found['points']:.0f} of 100 points" in err


def test_a_round_that_was_given_up_counts_no_rest_of_the_way(quiz: Run) -> None:
    _, out, err = quiz("--mode", "practice", "--seed", "1", "--json", acts="other-point\nmake-safe\nstop")
    assert json.loads(out)["luck"] is None
    account = err.split("You spent ")[-1]
    assert "How the rest would have gone is not counted" in account
    assert [what.strip() for _, what in SUM.findall(account)] == ["lost by your own decisions"]


def test_what_is_not_certain_is_said_once_in_the_account(quiz: Run) -> None:
    """On a large tree nothing is proven in a few seconds."""
    acts = "hint\ncar-message\ncharge-log\nhint\ncharges-on-after\nstop"
    status, out, err = quiz(
        "--mode", "practice", "--tree", "cuts-out-after-a-while", "--vehicle", "marlin-2", "--seed", "1", "--json",
        acts=acts, ships=True,
    )  # fmt: skip
    assert status == 0, err
    found = json.loads(out)
    assert found["regret_at_most"] - found["regret_at_least"] > 1
    assert err.count("How certain that is") == 1
    assert err.count('"Perhaps" means') <= 1
    assert "proven)" not in err


def test_the_history_keeps_cars_and_drills_apart(quiz: Run) -> None:
    assert quiz("--mode", "practice", "--seed", "1", acts=WORK)[0] == 0
    assert quiz("--mode", "exam", "--seed", "p", acts="refer")[0] == 0
    for seed in "123":
        assert quiz("--mode", "safety", "--seed", seed, "--questions", "4", acts="1\n" * 4)[0] == 0
    out = quiz("--history")[1]
    assert "trainee: 2 cars (1 practice, 1 exam) and 3 drills (3 safety) played" in out
    cars, drills = out.split("On cars: ")[1].split("In drills: ")
    found = json.loads(quiz("--history", "--json")[1])
    assert (found["cars"]["played"], found["drills"]["played"]) == (2, 3)
    for said, told in ((cars, found["cars"]), (drills, found["drills"])):
        for one in told["subjects"]:
            wanted = f"{one['right']} of {one['count']} " if one["count"] else "never practised"
            assert re.search(rf"^{one['subject']} .*{wanted}", said, re.MULTILINE)
    assert sum(one["count"] for one in found["drills"]["subjects"]) == 12
    assert [len(one["by_round"]) for one in found["drills"]["subjects"] if one["subject"] == "safety"] == [3]
    both = {one["subject"]: one["count"] for one in found["subjects"]}
    for one, other in zip(found["cars"]["subjects"], found["drills"]["subjects"], strict=True):
        assert both[one["subject"]] == one["count"] + other["count"]


def test_the_accesses_are_those_of_the_complaint_in_a_few_paragraphs() -> None:
    one = table("cuts-out-after-a-while", "petrel-2", ships=True)
    few, every = shown(one, "access"), shown(one, "access all")
    assert len(few.splitlines()) <= 4
    assert "To be opened on a dead car only (minutes): " in few
    assert "charger-cover" in few
    assert "boot-floor" not in few
    assert "boot-floor" in every
    assert re.search(r"`access all`: \d+ more, of other complaints", few)
    assert shown(one, "list access") == every
    assert "boot-floor" in shown(one, "access boot")  # a part of a name finds every one


def test_what_stands_open_is_shortened_at_a_question_and_whole_where_one_looks() -> None:
    one = table("cuts-out-after-a-while", "petrel-2", ships=True)
    names = ["bonnet", "wheel-liner", "undertray", "rear-bench", "boot-side-trim", "cabin-fuse-box"]
    one.take(f"open {', '.join(names)}")
    asked = next(block.text for block in one.asked())
    assert "and 2 more (`look` names all)" in asked
    assert sum(name in asked for name in names) == 4
    assert all(name in shown(one, "look").splitlines()[-1] for name in names)


def test_a_hint_that_stands_is_seen_where_one_looks() -> None:
    one = table()
    assert "hint still stands" not in shown(one, "look")
    told = shown(one, "hint").splitlines()[0]
    stands = shown(one, "look").split("The last hint still stands: `")[1].split("`")[0]
    assert stands in told
    assert "no charge" in shown(one, "hint")


def test_a_part_of_a_name_means_what_serves_the_complaint() -> None:
    """`charge-point` is in several causes of the catalogue that ships, in one of this complaint's."""
    one = table("cuts-out-after-a-while", "petrel-2", ships=True)
    assert sum("charge-point" in cause for cause in load().catalogue("petrel-2").causes) > 1
    assert "before that, say how sure" in shown(one, "advise charge-point")
    assert "Not done" in shown(one, "back")
    assert one.take("volts").events[0]["test"] == "point-volts"  # other complaints have other `volts`
    with pytest.raises(AnswerError, match="may be"):
        one.take("correct cuts-out")


def test_a_guided_round_says_what_is_to_be_minded_before_the_act_and_once() -> None:
    one = table("flat-12v", "petrel-2", "guided", ships=True)
    due, told = "", list[str]()
    for _ in range(12):
        blocks = list(one.asked())
        due = next(block.text for block in blocks if block.text.startswith("The tree: ")).split(" ")[3].rstrip(",")
        told += [block.text for block in blocks if block.look is Look.CAUTION]
        minded = one._played.walk.catalogue.tests[due].mind if due in one._played.walk.catalogue.tests else ()
        assert set(minded) <= set(told) or ", on the way" in " ".join(block.text for block in blocks)
        one.take("go")
        if one.over or one.label.startswith("How sure"):
            break
    assert told
    assert len(told) == len(set(told))
