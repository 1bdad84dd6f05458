"""What is watched at a proof charge: numbers with their unit, and a power that the car cannot take is asked back."""

from __future__ import annotations

import re

import pytest

from diagtree.errors import AnswerError
from diagtree.knowledge.files import load
from diagtree.knowledge.library import read_library
from diagtree.knowledge.place import Place
from diagtree.knowledge.words import Proof
from diagtree.terminal.dialogue import Dialogue
from diagtree.walk.answers import Typed
from diagtree.walk.context import Walk
from diagtree.walk.prompts import Fields, Kind
from diagtree.walk.watched import NOT_SEEN, power_field, seen, unit_watched, watched_fields
from tests.terminal.samples import ScriptFace, scene
from tests.walk.bay import Bay
from tests.walk.knowledge import TEXTS
from tests.walk.test_session import at_proof

WORDS = {"insulation_message", "lock", "lock_state", "remote_start", "timer_start"}
CHARGER = {"charger": {"phases": 1.0, "current": 32.0}, "dc": {"power": 100.0}}


def proof(charge: str, *watch: str) -> Proof:
    return Proof(charge, 30, None, watch, Place("causes.yaml"))


def at_petrel_proof() -> Bay:
    return at_proof(Bay(Walk.begin(read_library(TEXTS), "first", "petrel-9")))


def charged(bay: Bay, **values: str) -> None:
    bay.type(**{"minutes": "30", "watched": "5", "power": "7.2", "cut_out": "no", "inlet_temperature": "41"} | values)


def test_everything_the_shipped_proofs_watch_has_a_unit_or_is_known_to_be_words() -> None:
    """A new name that nobody thought of fails here."""
    names = {
        name
        for vehicle in ("petrel-1", "petrel-2", "marlin-1", "marlin-2")
        for cause in load().catalogue(vehicle).causes.values()
        if cause.proof is not None
        for name in cause.proof.watch
    }
    assert {name for name in names if not unit_watched(name)} <= WORDS
    assert {"ac_power", "inlet_temperature", "low_voltage", "parked_current", "insulation", "level"} <= names


def test_the_power_is_asked_for_once() -> None:
    assert [field.name for field in watched_fields(proof("ac", "ac_power", "inlet_temperature"))] == [
        "inlet_temperature"
    ]
    assert [field.name for field in watched_fields(proof("dc", "dc_power", "lock_state"))] == ["lock_state"]


@pytest.mark.parametrize("text", ["no", "banana", "OL", "3 V", "70 F"])
def test_a_temperature_is_a_number(text: str) -> None:
    bay = at_petrel_proof()
    with pytest.raises(AnswerError, match=r"inlet temperature seen, in degC: .*`none` where it was not seen"):
        charged(bay, inlet_temperature=text)
    assert bay.prompt.kind is Kind.PROOF


@pytest.mark.parametrize(("text", "kept"), [
    ("31", "31 degC"), ("-4,5 C", "-4.5 degC"), ("none", NOT_SEEN), ("None", NOT_SEEN), ("", NOT_SEEN),
])  # fmt: skip
def test_what_was_seen_is_kept_with_its_unit(text: str, kept: str) -> None:
    bay = at_petrel_proof()
    charged(bay, inlet_temperature=text)
    assert bay.state.charged is not None
    assert bay.state.charged.seen == {"inlet_temperature": kept}


def test_words_stay_words_and_an_insulation_tester_may_show_ol() -> None:
    fields = watched_fields(proof("ac", "lock_state", "insulation"))
    found = seen(fields, {"lock_state": "locked", "insulation": "OL"})
    assert found["lock_state"] == "locked"
    assert found["insulation"].startswith("OL")


def with_charger() -> Bay:
    """The same house, its car with one phase of 32 A: 230 V x 32 A = 7.36 kW (IEC 60038: 230 V +/-10 %)."""
    texts = {
        path: text + "\ncharger: {phases: 1, current: 32}\n" if path.startswith("vehicles/petrel-9") else text
        for path, text in TEXTS.items()
    }
    return at_proof(Bay(Walk.begin(read_library(texts), "first", "petrel-9")))


def test_a_power_above_what_the_car_takes_is_asked_back_once() -> None:
    bay = with_charger()
    with pytest.raises(AnswerError, match=re.escape("more than this car takes (7.36 kW): typed right?")):
        charged(bay, power="43.2 kW")
    assert bay.prompt.kind is Kind.PROOF
    charged(bay, power="43.2 kW sure")
    assert bay.state.charged is not None
    assert bay.state.charged.power == "43.2 kW (more than this car takes (7.36 kW); asked back: typed right)"


@pytest.mark.parametrize(("charge", "most"), [("ac", 7.36 * 1.1), ("dc", 110.0)])
def test_what_a_car_takes_at_most(charge: str, most: float) -> None:
    assert power_field(proof(charge), CHARGER).most == pytest.approx(most)
    assert power_field(proof(charge), {"charger": {"phases": "unknown", "current": 32.0}}).most is None
    assert power_field(proof(charge), {}).most is None


def test_at_the_keyboard_it_is_asked_back_at_its_own_line() -> None:
    bay = with_charger()
    face = ScriptFace("30", "5", "43.2", "43.2 sure", "no", "banana", "none")
    given = Dialogue(face).answer(bay.prompt, scene())
    assert given == Typed({"minutes": "30", "watched": "5", "power": "43.2 sure", "cut_out": "no"})
    assert "`43.2` is more than this car takes (7.36 kW): typed right?" in face.text
    assert "`banana`" in face.text
    assert isinstance(bay.prompt.form, Fields)
    bay.give(given)
    assert bay.prompt.kind is Kind.PROOF_RESULT
