"""price, plan and next on the command line: their machine faces, their words, and a plan that is read back."""

from __future__ import annotations

import json
from pathlib import Path
from shutil import copytree
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings

from diagtree.check.run import check_library, usual_rules
from diagtree.knowledge.files import load
from diagtree.knowledge.library import read_library
from diagtree.reason.next_act import Advised
from diagtree.reason.plan import Solver
from diagtree.reason.plan_tree import TooLarge, strategy_tree
from diagtree.reason.price import price
from diagtree.reason.problem import compile_problem
from diagtree.report.tree_yaml import tree_text
from diagtree.terminal.main import main
from diagtree.terminal.text import hanging
from diagtree.terminal.views.advice import costs, proven
from tests.documents import texts, words
from tests.oracles.expectimax import ListedPaths
from tests.reason.test_next_act import workshop
from tests.strategies import documents


def on_sale(document: Any) -> Any:
    """Return the document with what the format demands but the sums do not use."""
    from tests.documents import MAKE_SAFE_STEPS

    document["procedures"] = {
        "make-safe": {"minutes": 25, "steps": MAKE_SAFE_STEPS},
        "re-energise": {"minutes": 10, "steps": [{"kind": "re-energise", "do": "Close the service disconnect."}]},
    }
    return document


@pytest.fixture
def trees(tmp_path: Path) -> Path:
    return laid_out(on_sale(workshop(referral=5000, comeback=6000)), tmp_path / "trees")


def laid_out(document: Any, folder: Path) -> Path:
    for name, text in texts(document).items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text, encoding="utf-8")
    return folder


def answered(capsys: pytest.CaptureFixture[str], *arguments: str) -> Any:
    assert main([*arguments, "--json"]) == 0
    return json.loads(capsys.readouterr().out)


def test_price_gives_the_figures_of_the_slow_twin(trees: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = answered(capsys, "--trees", str(trees), "price", "t")
    twin = ListedPaths(on_sale(workshop(referral=5000, comeback=6000))).price()
    for key in ("expected_cost", "expected_minutes", "best_cost", "comeback"):
        assert found[key] == pytest.approx(float(twin[key]))
    assert found["lower_bound"] == pytest.approx(found["best_cost"])
    assert set(found["wrong_part"]) == {"harness", "sensor"}
    assert found["steps"] == {"ohms": pytest.approx({k: float(v) for k, v in twin["steps"]["ohms"].items()})}


def test_the_rate_on_the_command_line_counts(trees: Path, capsys: pytest.CaptureFixture[str]) -> None:
    dear = answered(capsys, "--trees", str(trees), "price", "t", "--rate", "120")
    assert dear["expected_cost"] == pytest.approx(2 * 131 + 0.78 * 1450 + 0.22 * 20)


def test_price_in_words_with_the_guesses_that_matter(trees: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--trees", str(trees), "price", "t", "--guesses", "--every-vehicle"]) == 0
    said = capsys.readouterr().out
    assert "expected cost      1,266.40" in said
    assert "proven: nothing is cheaper" in said
    assert "(catalogue as written)" in said
    assert "The guesses that matter most" in said
    assert "ohms: bad > conclude harness" in said


def test_a_branch_to_which_no_cause_leads_is_said_to_be_never_reached(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    document = on_sale(workshop(referral=5000, comeback=6000))
    document["causes"]["harness"]["shows"] = {"ohms": {"fine": 100}}
    assert main(["--trees", str(laid_out(document, tmp_path / "trees")), "price", "t", "--no-guesses"]) == 0
    said = capsys.readouterr().out
    assert "never         no cause leads here  ohms: bad > conclude harness" in said
    assert "The guesses" not in said


def test_every_car_is_on_the_page_where_none_is_named(capsys: pytest.CaptureFixture[str]) -> None:
    library = load()
    small = min((tree for tree in library.trees.values() if tree.causes), key=lambda tree: len(tree.steps)).id
    arguments = ["price", small, "--seconds", "0.2", "--no-guesses"]
    assert main(arguments) == 0
    said = capsys.readouterr().out
    assert all(f"\n  {car}" in said for car in ("(catalogue as written)", *library.profiles))
    assert main([*arguments, "--vehicle", "marlin-1"]) == 0
    assert "petrel-2" not in capsys.readouterr().out


def test_plan_gives_its_figures(trees: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = answered(capsys, "--trees", str(trees), "plan", "t")
    assert found["first_act"] == {"kind": "test", "id": "ohms"}
    assert found["exact"] is True
    assert found["expected_cost"] == pytest.approx(1266.4)
    assert found["lower_bound"] == pytest.approx(1266.4)


def test_plan_writes_a_tree_that_check_passes(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    document = on_sale(workshop(referral=5000, comeback=6000))
    document["tree"]["causes"] = {"harness": 76, "sensor": 20, "something-else": 4}
    trees = laid_out(document, tmp_path / "trees")
    assert main(["--trees", str(trees), "plan", "t", "--out", str(trees / "better.yaml")]) == 0
    capsys.readouterr()
    assert main(["check", str(trees / "better.yaml")]) == 0, capsys.readouterr().out
    capsys.readouterr()
    again = answered(capsys, "--trees", str(trees), "price", "better")
    assert again["expected_cost"] == pytest.approx(again["best_cost"])


def test_a_small_proven_plan_is_written_whole_and_costs_what_the_strategy_costs(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Rare branches too: a harness in a thousand cars, found only by measuring after looking."""
    document = on_sale(workshop(referral=5000, comeback=6000))
    document["tree"]["causes"] = {"harness": 0.1, "sensor": 99.9}
    document["causes"]["harness"]["shows"] = {"ohms": {"bad": 90, "fine": 10}, "looks": {"bad": 90, "fine": 10}}
    document["causes"]["sensor"]["correction"]["parts"] = [{"name": "sensor", "price": 1450}]
    for test in document["tests"].values():
        test |= {"mistake": 0.1, "minutes": 0.01}
    trees = laid_out(document, tmp_path / "trees")
    assert main(["--trees", str(trees), "plan", "t", "--out", str(trees / "better.yaml")]) == 0
    capsys.readouterr()
    strategy = answered(capsys, "--trees", str(trees), "plan", "t")
    again = answered(capsys, "--trees", str(trees), "price", "better")
    assert strategy["exact"] is True
    assert again["expected_cost"] == pytest.approx(strategy["expected_cost"], rel=1e-9)


def test_plan_never_writes_over_a_file(trees: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = (trees / "t.yaml").read_text(encoding="utf-8")
    assert main(["--trees", str(trees), "plan", "t", "--out", str(trees / "t.yaml")]) == 2
    assert "is there already" in capsys.readouterr().err
    assert (trees / "t.yaml").read_text(encoding="utf-8") == before


@pytest.mark.parametrize("vehicle", ["petrel-2"])
def test_the_plan_of_the_shipped_tree_has_no_error_on_any_car(
    vehicle: str | None, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Warnings remain: what only mistakes lead to has to end somewhere, and a cheap referral leaves causes unnamed."""
    shipped = Path(__file__).parents[2] / "trees"
    trees = tmp_path / "trees"
    copytree(shipped, trees)
    car = ["--vehicle", vehicle] if vehicle else []
    out = str(trees / "planned.yaml")
    assert main(["--trees", str(trees), "plan", "ac-fails-dc-works", "--seconds", "1", "--out", out, *car]) == 0
    capsys.readouterr()
    main(["--trees", str(trees), "check", "--format", "json", str(trees)])
    findings = json.loads(capsys.readouterr().out)["findings"]
    assert [one for one in findings if one["level"] == "error"] == []
    library = read_library({str(p.relative_to(trees)): p.read_text("utf-8") for p in trees.rglob("*.yaml")}, "")
    tree, catalogue = library.require("planned", vehicle)
    # No dearer than giving every car away after the hand-back of 10 minutes, which needs no plan at all.
    away = library.house.referral + 10 / 60 * library.house.rate
    assert price(tree, catalogue, library.house, out_of_time=lambda: True).expected_cost <= away


@settings(deadline=None, max_examples=80, suppress_health_check=list(HealthCheck))
@given(documents(max_causes=3, max_tests=3, stops=True))
def test_a_plan_read_back_is_the_same_tree_and_costs_what_the_strategy_costs(document: Any) -> None:
    """Dearer only where a danger must end the walk at once. No conclusion is one that its own answers exclude."""
    known = words(document)
    solver = Solver(compile_problem(known.tree, known.catalogue, known.house))
    best = solver.solve()
    drawn = strategy_tree(solver, known.tree, known.catalogue, "planned")
    files = texts(document) | {"planned.yaml": tree_text(drawn, above=["for people: a # comment"])}
    library = read_library(files, "")
    tree, catalogue = library.require("planned", None)
    assert {step: (s.test, dict(s.then)) for step, s in tree.steps.items()} == {
        step: (s.test, dict(s.then)) for step, s in drawn.steps.items()
    }
    assert dict(tree.causes) == dict(known.tree.causes)
    cost = price(tree, catalogue, known.house).expected_cost
    assert cost >= best.expected_cost * (1 - 1e-9) - 1e-9
    stops = any(test.stop for test in known.catalogue.tests.values())
    if not stops and best.first_act is not None and best.first_act.kind == "test":
        assert cost == pytest.approx(best.expected_cost)
    with pytest.raises(TooLarge):
        strategy_tree(solver, known.tree, known.catalogue, "planned", most=0)
    excluded = [rule for rule in usual_rules() if rule.id == "conclusion-excluded"]
    told = check_library(library, excluded)
    assert [one for one in told if one.rule == "conclusion-excluded" and one.place.file == "planned.yaml"] == []


def walked(trees: Path, store: str, capsys: pytest.CaptureFixture[str], answers: str) -> str:
    file = trees.parent / "answers.yaml"
    file.write_text(answers, encoding="utf-8")
    main(["--trees", str(trees), "--store", store, "walk", "t", "--answers", str(file), "--json"])
    capsys.readouterr()
    assert main(["--store", store, "cases", "--json"]) == 0
    return str(json.loads(capsys.readouterr().out)["cases"][0]["case"])


def test_next_ranks_the_acts_of_a_case(trees: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The walk stops for want of an answer; the advice is for the case as it stands."""
    store = str(tmp_path / "cases.db")
    case = walked(trees, store, capsys, "answers: {}\n")
    found = answered(capsys, "--store", store, "next", case)
    first = found["acts"][0]
    assert (first["kind"], first["id"]) == ("test", "ohms")
    assert first["expected_cost"] == pytest.approx(1266.4)
    assert first["minutes"] == pytest.approx(41)
    assert first["why"]
    assert [act["expected_cost"] for act in found["acts"]] == sorted(act["expected_cost"] for act in found["acts"])
    assert main(["--store", store, "next", case]) == 0
    said = capsys.readouterr().out
    assert "1. test ohms: whole case 1,266" in said
    assert "proven, nothing is cheaper." in said
    assert found["tree_says"] == {"kind": "test", "id": "ohms"}
    assert found["evidence_says"] is None
    assert main(["--store", store, "next", case, "--seconds", "0", "--rate", "120"]) == 0
    assert "1. test ohms: whole case 1,397, this act 82, 41 min" in capsys.readouterr().out


def test_nothing_but_referral_is_advised_once_a_danger_was_found(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    document = on_sale(workshop(referral=5000, comeback=6000))
    document["tests"]["looks"] |= {"stop": ["bad"], "place": "reception", "needs": {}}
    document["tree"]["start"] = "looks"
    document["tree"]["steps"]["looks"] = {"then": {"fine": "ohms", "bad": {"refer": "a high-voltage specialist"}}}
    trees, store = laid_out(document, tmp_path / "trees"), str(tmp_path / "cases.db")
    case = walked(trees, store, capsys, "answers: {looks: bad}\n")
    found = answered(capsys, "--store", store, "next", case)
    assert [act["kind"] for act in found["acts"]] == ["refer"]
    assert found["doubt"].startswith("A danger was found")
    assert found["shared_access"] == []
    case = walked(trees, store, capsys, "look: smoke\nanswers: {}\n")
    assert [act["kind"] for act in answered(capsys, "--store", store, "next", case)["acts"]] == ["refer"]


def test_next_for_a_case_that_is_not_there(trees: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    store = str(tmp_path / "cases.db")
    assert main(["--store", store, "next", "2020-0001"]) == 2
    assert f"there is no case `2020-0001` in {store}" in capsys.readouterr().err
    walked(trees, store, capsys, "answers: {}\n")
    assert main(["--store", store, "next", "2020-0001"]) == 2
    assert "there is no case `2020-0001`" in capsys.readouterr().err


@pytest.mark.parametrize("option", ["--rate", "--referral", "--comeback", "--seconds"])
@pytest.mark.parametrize("value", ["nan", "inf", "-1", "1e308"])
def test_no_sum_is_begun_with_a_number_that_cannot_be_reckoned_with(
    trees: Path, capsys: pytest.CaptureFixture[str], option: str, value: str
) -> None:
    assert main(["--trees", str(trees), "price", "t", option, value]) == 2
    captured = capsys.readouterr()
    assert not captured.out
    assert f"'{option}'" in captured.err


def test_what_is_open_is_never_told_as_more_than_all_of_the_avoidable(capsys: pytest.CaptureFixture[str]) -> None:
    """Where a referral undercuts some repairs, the floor lies below what known causes cost."""
    quick = ["--seconds", "0", "--vehicle", "petrel-2", "--no-guesses", "--referral", "1300"]
    found = answered(capsys, "price", "ac-fails-dc-works", *quick)
    assert found["lower_bound"] < found["perfect_information"]
    assert main(["price", "ac-fails-dc-works", *quick]) == 0
    said = capsys.readouterr().out
    assert ", 100% of the avoidable)" in said
    assert "cheapest found; another may cost less, none below " in said
    assert "proven" not in said.split("known causes")[0]


def test_nothing_is_weighed_while_a_correction_waits_for_its_proof_and_once_it_has_fixed_the_car(
    trees: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    store = str(tmp_path / "cases.db")
    way = (
        "answers: {ohms: fine}\ncorrection: new sensor\n"
        "procedures: {make-safe: {secure: shift lead, absence: [0.1, 0.1, 0.1]}}\n"
    )
    proof = "proof: [{minutes: 45, watched: 10, power: 7.2, cut_out: no, result: fixed}]\n"
    for text, said in ((way, "its proof comes next"), (way + proof, "The case is closed as fixed: nothing is left")):
        found = answered(capsys, "--store", store, "next", walked(trees, store, capsys, text))
        assert said in found["doubt"]
        assert found["acts"] == []
        assert main(["--store", store, "next", found["case"]]) == 0
        shown = capsys.readouterr().out
        assert "Nothing is left to do" not in shown
        assert said in shown
        assert "whole case" not in shown


@pytest.mark.parametrize("out", ["t.yaml", "t.txt", "no-such-folder/t.yaml"])
def test_a_file_that_cannot_be_written_is_told_before_the_search(
    trees: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, out: str
) -> None:
    monkeypatch.setattr(Solver, "solve", None)  # a search would fail
    assert main(["--trees", str(trees), "plan", "t", "--out", str(trees / out)]) == 2
    assert out in capsys.readouterr().err


def test_a_plan_that_needs_no_test_says_why_it_begins_with_one(
    trees: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["--trees", str(trees), "plan", "t", "--referral", "0"]) == 0
    assert "a tree must begin with one" in capsys.readouterr().out
    assert main(["--trees", str(trees), "plan", "t"]) == 0
    assert "a tree must begin with one" not in capsys.readouterr().out


def test_a_plan_fits_a_screen_and_leaves_owners_words_to_the_tree_of_people(capsys: pytest.CaptureFixture[str]) -> None:
    """Two trees that hear the same would both be meant at the desk."""
    assert load().tree("flat-12v").hears
    assert main(["plan", "flat-12v", "--seconds", "0", "--vehicle", "petrel-2"]) == 0
    written = capsys.readouterr().out
    assert [line for line in written.splitlines() if line.startswith("hears:")] in ([], ["hears: []"])
    head = [line for line in written.split("diagtree: 1")[0].splitlines() if line]
    assert len(head) > 4
    assert all(line.startswith("# ") and len(line) <= 80 for line in head)
    said = " ".join(line.removeprefix("# ") for line in head)
    assert "Put the looks for danger first." in said
    assert "This tree costs " in said


def test_a_plan_says_that_it_leaves_out_the_look_for_danger_and_what_its_own_tree_costs(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The figure of the head is that of the file; the search's is told beside it."""
    out = tmp_path / "own.yaml"
    assert main(["plan", "ac-fails-dc-works", "--vehicle", "petrel-2", "--seconds", "0.5", "--out", str(out)]) == 0
    said = " ".join(line.removeprefix("# ") for line in out.read_text("utf-8").splitlines() if line.startswith("#"))
    assert ("asks `inlet-looks-burnt` first" in said) == ("\nstart: inlet-looks-burnt\n" not in out.read_text("utf-8"))
    own = said.split("This tree costs ")[1].split(" a car")[0]
    assert f"The tree that was written costs {own} a car" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("line", "deep"),
    [
        ("1. test ohms: whole case", 3),
        ("   - open (31 %): sensor", 5),
        ("  2.8 %         1,655.49     285.52  step: outcome > ending", 37),
        ("  share sensor: 14 as written", 4),
        ("in words", 2),
    ],
)
def test_a_long_line_goes_on_under_where_its_words_begin(line: str, deep: int) -> None:
    assert hanging(line, 80) == deep


def test_advice_names_the_house_s_currency() -> None:
    act = Advised("test", "ohms", 1397.4, 1300.0, 41.0, 82.2, "why", ())
    assert costs(act, "EUR") == "whole case 1,397 EUR, this act 82 EUR, 41 min"
    assert costs(act, "") == "whole case 1,397, this act 82, 41 min"
    assert "none below 1,300 EUR (97 EUR or 7% less)" in proven([act], "EUR")
