"""Rules of graph and meaning: places, other trees, other cars."""

from __future__ import annotations

from diagtree.check.example import BASE, CATALOGUE, TREE
from diagtree.check.rule import rules
from diagtree.check.run import check_library
from diagtree.knowledge.library import read_library
from diagtree.knowledge.place import Finding

RULES = {rule.id: rule for rule in rules()}


def found(rule: str, files: dict[str, str]) -> list[Finding]:
    return [one for one in check_library(read_library({**BASE, **files}), [RULES[rule]]) if one.rule == rule]


def line_of(text: str, part: str) -> int:
    return next(number for number, line in enumerate(text.splitlines(), 1) if part in line)


def test_a_loop_is_told_at_the_branch_that_leads_back_and_names_its_steps() -> None:
    text = TREE.replace("normal: {refer: the maker's helpline}", "normal: other-point")
    (one,) = found("loop", {"tree.yaml": text})
    assert one.place.line == line_of(text, "normal: other-point")
    assert "other-point > sensor-resistance > other-point" in one.message


def test_a_step_that_leads_to_itself_is_a_loop() -> None:
    text = TREE.replace("normal: {refer: the maker's helpline}", "normal: sensor-resistance")
    (one,) = found("loop", {"tree.yaml": text})
    assert one.place.line == line_of(text, "normal: sensor-resistance")


def test_a_ring_of_three_trees_is_told_at_each_of_its_hand_overs() -> None:
    def handing(name: str, to: str) -> str:
        named = TREE.replace("tree: tree", f"tree: {name}")
        return named.replace("{refer: the maker's helpline}", f"{{hand-over: {to}}}")

    ring = {"tree": "two", "two": "three", "three": "tree"}
    files = {f"{name}.yaml": handing(name, to) for name, to in ring.items()}
    told = found("hand-over-ring", files)
    assert {one.place.file for one in told} == set(files)
    assert "tree > two > three > tree" in next(one for one in told if one.place.file == "tree.yaml").message
    files["three.yaml"] = TREE.replace("tree: tree", "tree: three")
    assert found("hand-over-ring", files) == []


def test_a_tree_that_hands_over_to_itself_is_a_ring() -> None:
    text = TREE.replace("{refer: the maker's helpline}", "{hand-over: tree}")
    (one,) = found("hand-over-ring", {"tree.yaml": text})
    assert "tree > tree" in one.message


def test_a_cause_that_another_tree_concludes_after_a_hand_over_is_no_mistake() -> None:
    steps = TREE.index("steps:")
    here = TREE[:steps] + "steps:\n  other-point:\n    then: {yes: {conclude: point-fault}, no: {hand-over: other}}\n"
    other = TREE.replace("tree: tree", "tree: other")
    assert found("cause-never-concluded", {"tree.yaml": here, "other.yaml": other}) == []
    alone = here.replace("{hand-over: other}", "{refer: somebody}")
    (one,) = found("cause-never-concluded", {"tree.yaml": alone, "other.yaml": other})
    assert "`sensor-open`" in one.message
    assert one.place.line == line_of(alone, "causes:")


PROFILE = "vehicle: {}\nname: Petrel\nlimits: {{low: {}, high: 50000}}\n"


def test_limits_that_cross_on_one_car_name_that_car_and_how_to_see_it() -> None:
    limits = "{low: below vehicle.limits.low, normal: below vehicle.limits.high, open: otherwise}"
    text = CATALOGUE.replace("{normal: below 50000, open: otherwise}", limits)
    tree = TREE.replace("      normal:", "      low: {refer: x}\n      normal:")
    files = {"catalogue/catalogue.yaml": text, "tree.yaml": tree}
    files["vehicles/petrel-1.yaml"] = PROFILE.format("petrel-1", 5000)
    assert found("limits-out-of-order", files) == []
    files["vehicles/petrel-2.yaml"] = PROFILE.format("petrel-2", 60000)
    (one,) = found("limits-out-of-order", files)
    assert one.message.endswith("(on `petrel-2`)")
    assert one.witness is not None
    assert "vehicle: petrel-2" in one.witness


def test_a_danger_is_asked_whatever_the_causes_show() -> None:
    asks = "ask: Is it burnt?, place: reception, minutes: 1, outcomes: [no, yes], healthy: no"
    text = CATALOGUE.replace("tests:\n", f"tests:\n  burnt: {{{asks}, stop: [yes], source: x}}\n")
    first = "start: burnt\nsteps:\n  burnt: {then: {yes: {refer: x}, no: other-point}}\n"
    tree = TREE.replace("start: other-point\nsteps:\n", first)
    files = {"catalogue/catalogue.yaml": text, "tree.yaml": tree}
    assert found("branch-never-taken", files) == []
    assert found("test-parts-nothing", files) == []
    again = {**files, "catalogue/catalogue.yaml": text.replace("stop: [yes], ", "")}
    assert len(found("branch-never-taken", again)) == 1
    assert len(found("test-parts-nothing", again)) == 1


def test_costs_that_a_folder_without_a_workshop_cannot_have_are_not_asked_for() -> None:
    files = {name: text for name, text in BASE.items() if name != "workshop.yaml"}
    library = read_library(files)
    assert check_library(library, [RULES["referral-missing"], RULES["comeback-missing"]]) == ()


def test_a_share_that_cannot_be_read_is_told_once() -> None:
    text = TREE.replace("point-fault: 40", "point-fault: -40")
    assert found("share-zero", {"tree.yaml": text}) == []
    assert found("shares-not-100", {"tree.yaml": text}) == []
    assert "bad-number" in {one.rule for one in check_library(read_library({**BASE, "tree.yaml": text}), [])}


def test_a_repeat_at_a_step_without_a_branch_for_the_answer_is_told_all_the_same() -> None:
    again = "  again: {test: other-point, then: {yes: {conclude: point-fault}}}\n"
    text = TREE.replace("normal: {refer: the maker's helpline}", "normal: again") + again
    (one,) = found("test-repeated", {"tree.yaml": text})
    assert one.place.line == line_of(text, "  again:")
    assert one.witness is not None
    assert "other-point: no" in one.witness
