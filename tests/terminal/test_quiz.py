"""The quiz at the command line, from a file and through a pipe: what is told, asked and scored."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.errors import AnswerError
from diagtree.knowledge.files import load
from diagtree.knowledge.library import read_library
from diagtree.quiz.event_json import event_from_json
from diagtree.quiz.modes import MODES
from diagtree.quiz.round import deal
from diagtree.terminal.quiz_acts import acts_of
from diagtree.terminal.quiz_car import CarTable
from diagtree.terminal.quiz_loop import Left
from diagtree.terminal.views.quiz_pictures import Pictures
from diagtree.walk.context import Walk
from tests.terminal.house import FILES
from tests.terminal.quiz_work import ONLY, WORK, Run


def test_a_round_from_a_file_is_scored(quiz: Run) -> None:
    status, out, err = quiz("--mode", "practice", "--seed", "1", "--trainee", "anna", "--json", acts=WORK)
    assert status == 0, err
    found = json.loads(out)
    assert (found["trainee"], found["mode"], found["seed"], found["tree"]) == ("anna", "practice", "1", "no-charge")
    assert (found["cause"], found["ended"]) == ("sensor-open", "fixed")
    acts = [line.removeprefix("test ") for line in WORK.split("\n") if line]
    assert [one["act"].removeprefix("test ") for one in found["decisions"]] == [*acts[:-1], "correct sensor-open"]
    assert found["regret"] == pytest.approx(sum(one["regret"] for one in found["decisions"]))
    assert found["money"] == pytest.approx(sum(one["money"] for one in found["decisions"]))
    assert found["luck"] == pytest.approx(found["money"] - found["expected"] - found["regret"])
    assert found["points"] == pytest.approx(100 * found["expected"] / (found["expected"] + found["regret"]))
    assert found["statements"][0]["stated"] == 0.7
    assert found["dearest"]["regret"] == max(one["regret"] for one in found["decisions"])
    assert ONLY in err
    # The tree of the small house comes to the same repair; what it spends is what one in a guided round spends.
    led = json.loads(quiz("--mode", "guided", "--seed", "1", "--json", acts="go\n" * 8 + "50\n")[1])
    assert found["tree_follower"] == led["tree_follower"] == {"money": led["money"], "minutes": led["minutes"]}


def test_the_same_seed_is_the_same_round_and_yaml_says_the_same(quiz: Run) -> None:
    acts = [line for line in WORK.splitlines() if line]
    written = ["\n".join(acts), "acts:\n" + "".join(f"  - {act}\n" for act in acts), "# slow\n\n" + WORK]
    ran = [json.loads(quiz("--mode", "practice", "--seed", "1", "--json", acts=text)[1]) for text in written]
    for one in ran:
        del one["round"]
        # How much is proven hangs on how fast the machine is just now.
        for told in (one, *one["decisions"]):
            for key in ("regret_at_least", "regret_at_most", "at_least", "at_most"):
                told.pop(key, None)
    assert ran[0] == ran[1] == ran[2]


def test_an_unsafe_act_gives_no_reading_and_practice_goes_on(quiz: Run) -> None:
    status, out, _ = quiz("--mode", "practice", "--seed", "1", acts="test sensor\n" + WORK)
    assert status == 0
    told = out.split("Act> other-point")[0]
    assert "UNSAFE" in told
    assert "There is no reading" in told
    assert "Answer:" not in told
    assert "Unsafe acts: 1" in out
    assert "1 unsafe act, in an exam 0 points; without it " in out


def test_an_unsafe_act_ends_an_exam_at_zero(quiz: Run) -> None:
    status, out, err = quiz("--mode", "exam", "--seed", "p", "--json", acts="test sensor")
    assert status == 0, err
    found = json.loads(out)
    assert (found["ended"], found["points"], found["unsafe"]) == ("unsafe", 0.0, 1)
    assert found["tree_follower"] is None
    assert found["luck"] is None  # nobody knows what the rest would have cost


def test_an_exam_tells_nothing_before_its_end_and_has_three_cars_a_paper(quiz: Run) -> None:
    first = quiz("--mode", "exam", "--seed", "p", acts="burnt\nhint\nrefer")
    assert "dearer" not in first[1].split("Given to")[0]
    assert "Nothing better" not in first[1]
    assert "There are no hints in this mode" in first[1]
    seeds = [json.loads(quiz("--mode", "exam", "--seed", "p", "--json", acts="refer")[1])["seed"] for _ in range(2)]
    assert seeds == ["exam p 2", "exam p 3"]
    status, _, err = quiz("--mode", "exam", "--seed", "p", acts="refer")
    assert status == 2
    assert "is sat" in err


def test_how_sure_is_asked_where_it_was_not_said(quiz: Run) -> None:
    text = WORK.replace("correct sensor-open 70", "correct sensor-open\nvery\n62,5 %")
    status, out, _ = quiz("--mode", "practice", "--seed", "1", acts=text)
    assert status == 0
    assert "How sure is a number from 0 to 100" in out
    assert "you were 62 % sure" in out


def test_acts_beyond_the_end_are_told(quiz: Run) -> None:
    status, _, err = quiz("--mode", "practice", "--seed", "1", acts="refer\nrefer\n")
    assert status == 0
    assert "over before the last 1 of the acts" in err


@pytest.mark.parametrize(("typed", "told"), [
    ("foo", "`foo` is no act"), ("test", "needs one name"), ("test nothing-like-it", "there is no test"),
    ("open connectr", "did you mean `connector`"), ("correct", "needs one name"), ("7", "no number of the list"),
    ("bench", "open or close?"), ("correct sensor-open 170", "from 0 to 100"), ("tests zzz", "none of the tests"),
    ("make-safe now", "stands alone"), ("\t", "Enter alone"), ("correct o", "may be"),
])  # fmt: skip
def test_slips_get_a_clear_word(quiz: Run, typed: str, told: str) -> None:
    status, out, err = quiz("--mode", "practice", "--seed", "1", lines=f"{typed}\nrefer\n")
    assert status == 0, err
    assert told.casefold() in out.casefold()
    assert "Traceback" not in out + err


def test_several_accesses_on_one_line_stop_at_the_first_that_does_not_open(quiz: Run) -> None:
    status, out, _ = quiz("--mode", "practice", "--seed", "1", lines="make-safe\nopen bench, conn\nlook\nleave\n")
    assert status == 0
    assert "Open: bench, connector." in out
    _, out, _ = quiz("--mode", "practice", "--seed", "2", lines="make-safe\nopen conn, bench\nlook\nleave\n")
    assert "open bench first" in out
    assert "Open: nothing." in out.split("look")[-1]


def test_guided_rounds_follow_the_tree(quiz: Run) -> None:
    status, out, _ = quiz("--mode", "guided", "--seed", "1", lines="go\ngo\ngo\nleave\n")
    assert status == 0
    assert [line for line in out.splitlines() if line.startswith("The tree: ")][:3] == [
        "The tree: test burnt (Is it burnt)",
        # Whether it charges elsewhere the owner has told unasked.
        "The tree: make-safe, on the way to `test sensor` (Resistance of the sensor)",
        "The tree: open bench, on the way to `test sensor` (Resistance of the sensor)",
    ]
    assert 'Asked "Does it charge elsewhere", the owner says: no.' in out


@pytest.mark.parametrize("mode", ["reading", "safety"])
def test_drills_run_to_their_end_and_count(quiz: Run, mode: str) -> None:
    acts = "hint\n" + "1\n" * 6
    status, out, err = quiz("--mode", mode, "--seed", "4", "--questions", "6", "--json", acts=acts, ships=True)
    assert status == 0, err
    found = json.loads(out)
    assert found["asked"] == 6
    assert found["right"] == sum(one["right"] for one in found["answers"])
    assert [one["hinted"] for one in found["answers"]] == [True] + [False] * 5
    _, out, _ = quiz("--history", "--json")
    counted = json.loads(out)["subjects"]
    known = [one["right"] for one in found["answers"] if not (one["right"] and one["hinted"])]
    assert (sum(one["right"] for one in counted), sum(one["count"] for one in counted)) == (sum(known), len(known))
    assert f"{sum(known)} of {len(known)} right" in err


def test_knowledge_without_numbers_to_simulate_is_told(quiz: Run, tmp_path: Path) -> None:
    status, out, err = quiz("--mode", "reading", lines="leave\n")
    assert status == 0, err  # signals can be asked anywhere
    assert "pilot" in out
    assert quiz("--mode", "practice", "--tree", "no-such", lines="")[0] == 2


def test_yaml_that_is_no_list_is_told(quiz: Run) -> None:
    status, _, err = quiz("--mode", "practice", acts="acts: {a: b}")
    assert status == 2
    assert "expected acts" in err
    assert acts_of("", "x") == ()


def test_a_file_that_is_not_there_is_told(quiz: Run) -> None:
    status, _, err = quiz("--mode", "practice", "--answers", "/no/such/file")
    assert status == 2
    assert "cannot be read" in err


WORDS = (
    "test open close make-safe re-energise correct advise refer hint tests causes access look help go back stop sensor "
    "bench connector other-point burnt point sensor-open 1 2 80 -5 nan , % ² ٣ " + "9" * 5000
).split()
TYPED = st.lists(st.sampled_from(WORDS), min_size=1, max_size=4).map(" ".join)
LIBRARY = read_library(FILES)


@given(
    lines=st.lists(st.text(min_size=1) | TYPED, max_size=12),
    mode=st.sampled_from(["guided", "exam"]),
    seed=st.sampled_from("12345"),
)
@settings(deadline=None, max_examples=60)
def test_whatever_is_typed_a_table_takes_it_or_says_why_not(lines: list[str], mode: str, seed: str) -> None:
    played = deal(Walk.begin(LIBRARY, "no-charge", "petrel"), seed, MODES[mode])
    table = CarTable(played, [played.dealt], Pictures())
    saved = []
    for line in lines:
        if table.over or not line.strip():
            continue
        try:
            taken = table.take(line.strip())
        except (AnswerError, Left):
            continue
        assert taken.events or taken.blocks
        saved.extend(event_from_json(json.loads(json.dumps(event))) for event in taken.events)
    again = CarTable(played, [played.dealt, *saved], Pictures())
    assert again.over == table.over
    assert again.over or next(iter(again.asked())) == next(iter(table.asked()))


def shown_at_the_proof(hidden: str, *, drawn: bool) -> list[str]:
    """Return what is shown of the inlet's repair and its proof charge on a Marlin of cause `hidden`."""
    played = deal(Walk.begin(load(), "ac-fails-dc-works", "marlin-1"), "1", cause=hidden)
    table = CarTable(played, [played.dealt], Pictures(drawn=drawn))
    for line in ("make-safe", "open wheel-liner, inlet-connector, inlet-joint"):
        table.take(line)
    return [block.text for block in table.take("correct inlet-sensor-open 50").blocks]


def test_the_proof_charge_is_shown_with_power_and_temperature() -> None:
    shown = shown_at_the_proof("inlet-sensor-open", drawn=False)
    (power,) = [line for line in shown if line.startswith("Charging power over ")]
    assert set(power.split(": ")[1].split(", ")) == {"11"}
    (warm,) = [line for line in shown if line.startswith("Hottest contact of the inlet")]
    degrees = [float(one) for one in warm.split(": ")[1].split(", ")]
    assert degrees == sorted(degrees)
    assert degrees[-1] > degrees[0]


def test_a_car_that_does_not_begin_to_charge_has_no_course() -> None:
    shown = shown_at_the_proof("charger-fault", drawn=True)
    assert any("It does not begin to charge: that was not it" in line for line in shown)
    assert not any("Charging power" in line or "Hottest contact" in line for line in shown)
