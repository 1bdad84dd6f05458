"""Rules about danger and words: what they must see, what they must leave alone, and where they put the finger."""

from __future__ import annotations

import re

import pytest

from diagtree.check.danger_words import DANGERS
from diagtree.check.example import BASE
from diagtree.check.rule import rules
from diagtree.check.rules import absence_limit_too_high
from diagtree.check.rules.confusable_outcomes import confusable
from diagtree.check.run import check_library
from diagtree.knowledge.files import load
from diagtree.knowledge.library import read_library
from diagtree.knowledge.place import Finding
from diagtree.knowledge.words import Conclude
from diagtree.walk import absence
from diagtree.walk.absence import AC_LIMIT, DC_LIMIT
from tests.check.replay import replay

MORE = "catalogue/more.yaml"
CAR = "vehicles/petrel-2.yaml"


def said(rule: str, more: dict[str, str]) -> list[Finding]:
    """Return what one rule says of the base folder with more files."""
    chosen = [one for one in rules() if one.id == rule]
    assert chosen
    return [one for one in check_library(read_library({**BASE, **more}), chosen) if one.rule == rule]


def a_test(**keys: str) -> dict[str, str]:
    """Return a catalogue file with one test in the bay; keys replace its lines, `key_` for `key`."""
    lines = {
        "ask": "What does it show?", "place": "bay", "minutes": "5", "needs": "{power: live}", "outcomes": "[yes, no]",
        "healthy": "no", "source": "estimate, common practice",
    } | keys  # fmt: skip
    text = "".join(f"    {key}: {value}\n" for key, value in lines.items() if value)
    return {MORE: f"tests:\n  probe:\n{text}"}


VOLTS = {"reads": "{level: volt}", "outcomes": "{low: below 300, high: otherwise}", "healthy": "low"}
ORANGE = "access:\n  lead: {name: orange lead of the inlet, open: 4, close: 4}\n"


@pytest.mark.parametrize(
    "keys",
    [
        VOLTS,  # more than 60 V by its own limit
        VOLTS | {"reads": "{level: kV}", "outcomes": "{low: below 0.3, high: otherwise}"},  # the same in kilovolts
        VOLTS | {"outcomes": "{low: below 12, high: otherwise}", "ask": "Voltage DC+ to DC-"},
        VOLTS | {"outcomes": "{low: below 12, high: otherwise}", "reads": "{level: {unit: V, of: 'voltage(dc link)'}}"},
        {"reads": "{insulation: ohm}", "outcomes": "{low: below 9, good: otherwise}", "healthy": "good",
         "needs": "{power: any}"},
        {"ask": "Does the orange plug sit home?", "needs": "{power: any}"},
        {"how": "[Feel along the orange cable.]"},
        {"place": "road"} | VOLTS,
    ],
)  # fmt: skip
def test_high_voltage_for_anybody_is_told(keys: dict[str, str]) -> None:
    (found,) = said("high-voltage-unqualified", a_test(**keys))
    assert (found.place.file, found.place.line) == (MORE, 2)


@pytest.mark.parametrize(
    ("keys", "why"),
    [
        (VOLTS | {"qualification": "high-voltage"}, "somebody is qualified for it"),
        (VOLTS | {"needs": "{power: dead}"}, "the car is dead"),
        (VOLTS | {"place": "reception", "needs": ""}, "at the desk a display is read, nothing is touched"),
        (VOLTS | {"outcomes": "{low: below 11.5, high: otherwise}"}, "the 12 V system"),
        (VOLTS | {"outcomes": "{low: below 9000, high: otherwise}", "reads": "{level: mV}"}, "nine volts"),
        ({"how": "[Keep your hands off orange cables.]"}, "a caution"),
        ({"ask": "Is the high-voltage warning lamp lit?"}, "a question about a lamp"),
    ],
)
def test_harmless_readings_are_left_alone(keys: dict[str, str], why: str) -> None:
    assert said("high-voltage-unqualified", a_test(**keys)) == [], why


def test_what_a_car_differs_in_is_told_in_its_profile() -> None:
    """A test that is dead in the catalogue and live on one car: at the profile's own entry."""
    more = a_test(**VOLTS | {"needs": "{power: dead}"})
    profile = "vehicle: petrel-2\ndiffers:\n  tests:\n    probe: {needs: {power: live}}\n"
    (found,) = said("high-voltage-unqualified", {**more, CAR: profile})
    assert (found.place.file, found.place.line) == (CAR, 4)


def test_an_orange_part_behind_an_access_is_told() -> None:
    """Also by way of what it is after."""
    more = a_test(needs="{power: any, open: [clip]}")
    more["catalogue/parts.yaml"] = ORANGE + "  clip: {name: clip, after: [lead], open: 1, close: 1}\n"
    (found,) = said("high-voltage-unqualified", more)
    assert "`lead`" in found.message


@pytest.mark.parametrize(
    ("keys", "told"),
    [
        ({"tools": "multimeter"}, True),
        ({"tools": "scan-tool"}, False),  # the car's own number
        ({"tools": "scan-tool, multimeter"}, True),
        ({"tools": "earth-loop-tester"}, False),  # made for it
    ],
)
def test_ohms_on_a_live_circuit(keys: dict[str, str], told: bool) -> None:
    more = a_test(needs=f"{{power: live, tools: [{keys['tools']}]}}", reads="{pin: kohm}", healthy="low",
                  outcomes="{low: below 9, high: otherwise}")  # fmt: skip
    found = said("live-resistance", more)
    assert [(one.place.file, one.place.line) for one in found] == ([(MORE, 10)] if told else [])


DIFFERS = """differs:
  procedures:
    make-safe:
      steps:
        - {kind: unplug}
        - {kind: switch-off}
        - {kind: disconnect}
        - {kind: secure}
        - {kind: wait, minutes: 5}
        - {kind: prove-tester}
        - kind: absence
          between: [%s]
          below: %s
        - {kind: prove-tester}
"""
DC = "DC+ and DC-, DC+ and chassis, DC- and chassis"


@pytest.mark.parametrize(
    ("facts", "between", "below", "line"),
    [
        ("safety: {wait: 5}", DC, "60", None),
        ("safety: {wait: 5}", DC, "60.1", 15),
        ("safety: {wait: 5}", "L1 and N, L1 and PE, N and PE", "30", None),
        ("safety: {wait: 5}", "L1 and N, L1 and PE, N and PE", "31", 15),
        ("safety: {wait: 5}", f"{DC}, L1 and chassis", "60", None),  # the walk itself takes 30 V for the AC pair
        ("safety:\n  wait: 5\n  dead_below: 61", DC, "vehicle.safety.dead_below", 4),  # where the fact is written
        ("safety: {dead_below: unknown}", DC, "vehicle.safety.dead_below", None),
        ("safety: {dead_below: 30}", DC, "vehicle.safety.dead_below * 3", 2),
    ],
)
def test_a_limit_above_the_standard_is_told_where_it_is_written(
    facts: str, between: str, below: str, line: int | None
) -> None:
    assert (DC_LIMIT, AC_LIMIT) == (60, 30)  # UN R100 and ISO 6469-3: voltage class B begins above these
    found = said("absence-limit-too-high", {CAR: f"vehicle: petrel-2\n{facts}\n{DIFFERS % (between, below)}"})
    assert [(one.place.file, one.place.line) for one in found] == ([] if line is None else [(CAR, line)])


def test_walk_and_check_know_the_same_ac_points() -> None:
    assert absence_limit_too_high._AC.pattern == absence._AC_PAIR.pattern


def test_a_limit_of_the_catalogue_is_told_on_the_profile_that_makes_it_too_high() -> None:
    base = BASE["catalogue/catalogue.yaml"].replace("below: 60", "below: vehicle.safety.dead_below")
    cars = {f"vehicles/{name}.yaml": f"vehicle: {name}\nsafety: {{dead_below: {volts}}}\n"
            for name, volts in (("marlin-1", 25), ("petrel-2", 120), ("petrel-3", 400))}  # fmt: skip
    found = said("absence-limit-too-high", {"catalogue/catalogue.yaml": base, **cars})
    assert [one.place.file for one in found] == ["vehicles/petrel-2.yaml", "vehicles/petrel-3.yaml"]
    assert "120 V" in found[0].message


@pytest.mark.parametrize(
    ("do", "told"),
    [
        ("Replace the cell module", True),
        ("Seal the battery lid", True),
        ("Open the battery and dry it", True),
        ("Replace the fuse inside the traction battery", True),
        ("Replace the battery's coolant hose", False),
        ("Replace the battery as a whole", False),
    ],
)
@pytest.mark.parametrize("where", ["battery", "charger"])
def test_the_inside_of_a_battery_is_never_a_correction(do: str, told: bool, where: str) -> None:
    cause = f"""causes:
  weak:
    name: weak
    where: {where}
    correction: {{do: {do}, minutes: 60, needs: {{power: dead}}}}
    proof: {{charge: ac, minutes: 30}}
"""
    found = said("battery-inside-opened", {MORE: cause})
    assert [(one.place.file, one.place.line) for one in found] == ([(MORE, 5)] if told and where == "battery" else [])


NAMED = {
    "burnt": "Is one pin burnt?",
    "water": "Is there water in the plug?",
    "airbag": "Is the airbag plug home?",
    "lift": "Does it drip with the car on the lift?",
    "high voltage": "Does the orange plug sit home?",
    "12 V off": "Does it wake when you disconnect the 12 V battery?",
}


@pytest.mark.parametrize("danger", DANGERS, ids=lambda danger: danger.id)
def test_a_danger_wants_its_caution(danger) -> None:  # type: ignore[no-untyped-def]
    """Any other caution does not do; the one that is proposed does, also on an access."""
    ask = NAMED[danger.id]
    (found,) = said("danger-without-caution", a_test(ask=ask, mind="[Wear boots.]"))
    assert (found.place.file, found.place.line) == (MORE, 3)
    assert danger.caution in found.message
    caution = danger.caution.replace("'", "''")
    assert said("danger-without-caution", a_test(ask=ask, mind=f"['{caution}']")) == []
    opened = a_test(ask=ask, needs="{power: any, open: [lid]}")
    opened["catalogue/parts.yaml"] = f"access:\n  lid: {{name: lid, open: 1, close: 1, mind: ['{caution}']}}\n"
    assert said("danger-without-caution", opened) == []


@pytest.mark.parametrize("danger", DANGERS, ids=lambda danger: danger.id)
def test_the_proposed_caution_is_about_its_danger(danger) -> None:  # type: ignore[no-untyped-def]
    assert danger.answered.search(danger.caution)


@pytest.mark.parametrize(
    "how",
    ["Do not touch the orange cable.", "Keep water off the plug.", "Never part an airbag plug.", "Lift the cover off."],
)
def test_a_caution_among_the_steps_names_no_danger(how: str) -> None:
    assert said("danger-without-caution", a_test(how=f"[{how}]")) == []


def test_a_question_that_stops_the_job_is_its_own_caution() -> None:
    assert said("danger-without-caution", a_test(ask="Is it burnt?", place="reception", needs="", stop="[yes]")) == []


def test_the_danger_in_a_step_is_told_at_that_step() -> None:
    more = a_test(how="\n      - Look into it.\n      - Count the burnt pins.")
    (found,) = said("danger-without-caution", more)
    assert (found.place.line, found.place.column) == (12, 9)


@pytest.mark.parametrize(
    ("one", "two"),
    [("sealed", "unsealed"), ("leak", "no-leak"), ("hot", "hat"), ("point-one", "point-ones"), ("charging", "chargnig"),
     ("complete", "incomplete"), ("contact", "contract")],
)  # fmt: skip
def test_confusable_outcomes(one: str, two: str) -> None:
    assert confusable(one, two)
    assert confusable(two, one)


@pytest.mark.parametrize(
    ("one", "two"),
    [("yes", "no"), ("low", "high"), ("open", "shorted"), ("wet-weather", "hot-weather"), ("near-limit", "over-limit"),
     ("normal", "not-normal-at-all"), ("clean", "corroded"), ("1", "2")],
)  # fmt: skip
def test_plain_outcomes_are_not_confusable(one: str, two: str) -> None:
    assert not confusable(one, two)


def test_a_profile_names_the_step_that_is_too_long() -> None:
    """What a car differs in is told in its profile, once."""
    long = "Look " + "and look again " * 12
    how = f"        - Look.\n        - {long}\n"
    profile = f"vehicle: petrel-2\ndiffers:\n  tests:\n    other-point:\n      how:\n{how}"
    (found,) = said("how-step-too-long", {CAR: profile})
    assert (found.place.file, found.place.line, found.place.column) == (CAR, 7, 11)


def test_what_ships_has_no_error_and_no_remark_that_is_not_true() -> None:
    """The rules of this file's families on the knowledge that ships."""
    chosen = [one for one in rules() if one.find and one.family in ("links", "safety", "words")]
    found = [one for one in check_library(load(), chosen) if one.rule in {rule.id for rule in chosen}]
    assert [str(one) for one in found] == []


def test_every_message_says_what_to_do() -> None:
    """A finding of these rules ends in something to write, use or take out."""
    advice = re.compile(r"\b(?:write|take|use|name|give|end|measure|did you mean)\b")
    for rule in rules():
        if rule.find and rule.family in ("links", "safety", "words"):
            from diagtree.check.rule import examples

            library = read_library({**BASE, **examples(rule).fires})
            for found in check_library(library, [rule]):
                assert found.rule != rule.id or advice.search(found.message), found


def test_a_witness_walks_to_the_test_that_endangers() -> None:
    """Played through the real session: the answers that are given hold one at the step that performs the test."""
    dead = "needs: {power: dead, open: [inlet-connector]}\n    qualification: high-voltage\n    reads"
    text = BASE["catalogue/catalogue.yaml"]
    assert dead in text
    more = {"catalogue/catalogue.yaml": text.replace(dead, "needs: {power: live}\n    reads", 1)}
    (found,) = said("live-resistance", more)
    assert found.witness is not None
    played = replay(read_library({**BASE, **more}), "tree", found.witness)
    assert played.answer_at("sensor-resistance") is not None
    assert played.stopped == ""


def test_a_witness_walks_to_the_correction_that_endangers() -> None:
    text = BASE["catalogue/catalogue.yaml"].replace("where: inlet", "where: battery").replace(
        "do: Replace the sensor", "do: Open the battery and replace its sensor"
    )
    (found,) = said("battery-inside-opened", {"catalogue/catalogue.yaml": text})
    assert found.witness is not None
    played = replay(read_library({**BASE, "catalogue/catalogue.yaml": text}), "tree", found.witness)
    assert played.ending == Conclude("sensor-open")


@pytest.mark.parametrize(("wait", "told"), [("0", "comes to 0 min"), ("10 s", "no number of minutes"), ("5", ""),
                                            ("unknown", "")])  # fmt: skip
def test_a_wait_that_does_not_wait_is_told(wait: str, told: str) -> None:
    """No standard gives a shortest time for work on a car: any number of the maker's above 0 is taken."""
    steps = (DIFFERS % (DC, "30")).replace("minutes: 5", "minutes: vehicle.safety.wait")
    found = said("wait-says-nothing", {CAR: f"vehicle: petrel-2\nsafety: {{wait: {wait}}}\n{steps}"})
    assert [told in one.message for one in found] == ([True] if told else [])
