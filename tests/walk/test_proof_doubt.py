"""What was watched at a proof charge is held against the catalogue's own limits before the car is called fixed."""

from __future__ import annotations

import pytest

from diagtree.knowledge.files import load
from diagtree.report.job_record_conclusion import corrections
from diagtree.terminal.dialogue import Dialogue
from diagtree.walk.answers import Chosen
from diagtree.walk.ask_correction import proof_falls_short
from diagtree.walk.context import Walk
from diagtree.walk.events import Answered, ProofCharged
from diagtree.walk.fold import fold
from diagtree.walk.proof_doubt import beyond_limit, doubts
from diagtree.walk.route import route
from tests.terminal.samples import ScriptFace, scene
from tests.walk.bay import AT, Bay
from tests.walk.test_watched import charged, with_charger


@pytest.fixture(scope="module")
def marlin() -> Walk:
    """The shipped 11 kW car: 3 phases x 230 V x 16 A (IEC 60038)."""
    return Walk.begin(load(), "cuts-out-after-a-while", "marlin-1")


def seen(power: str, **watched: str) -> ProofCharged:
    return ProofCharged(AT, "x", 60, 60, power, False, watched)


def doubted(walk: Walk, cause: str, charge: ProofCharged, *answered: Answered) -> str:
    return "; ".join(doubts(walk, walk.catalogue.causes[cause], charge, answered, {}))


def test_a_trickle_and_a_hot_inlet_are_asked_back(marlin: Walk) -> None:
    """IEC 62196-1: a contact gets at most 50 K warmer; 95 degC is more than that from the air of any day."""
    said = doubted(marlin, "inlet-contact-hot", seen("0.2 kW", inlet_temperature="95 degC"))
    assert "0.2 kW is far below the 11 kW that this car takes" in said
    assert "95 degC at the inlet is 55 degrees above" in said
    assert "over-limit" in said
    assert doubted(marlin, "inlet-contact-hot", seen("10.8 kW", inlet_temperature="41 degC")) == ""
    assert doubted(marlin, "inlet-contact-hot", seen("10.8 kW", inlet_temperature="not seen")) == ""


def test_the_rise_counts_from_the_start_of_the_cases_own_test(marlin: Walk) -> None:
    """What a broken sensor showed is no start to count from."""
    answered = Answered(AT, "inlet-temperature-rise", "over-limit", values={"at_start": 18.0, "highest": 80.0})
    charge = seen("10.8 kW", inlet_temperature="60 degC")
    assert "42 degrees above the 18 degC" in doubted(marlin, "inlet-contact-hot", charge, answered)
    assert doubted(marlin, "inlet-sensor-wrong", charge, answered) == ""


def test_a_start_above_the_range_is_no_start_to_count_from(marlin: Walk) -> None:
    over = Answered(AT, "inlet-temperature-rise", "normal", values={"at_start": float("inf"), "highest": 40.0})
    charge = seen("10.8 kW", inlet_temperature="95 degC")
    assert "of the warmest day" in doubted(marlin, "inlet-contact-hot", charge, over)


def test_what_a_test_reads_too_is_judged_by_it() -> None:
    """UN R100, 5.1.3: 100 ohm per volt. The charger's temperature by the profile; an unknown one judges nothing."""
    walk = Walk.begin(load(), "cuts-out-after-a-while", "petrel-2")
    assert "insulation-at-rest` calls that low" in beyond_limit(walk, seen("7 kW", insulation="20 kohm"), {})
    assert beyond_limit(walk, seen("7 kW", insulation="OL (above the meter's range)"), {}) == ""
    hot = seen("7 kW", charger_temperature="90 degC")
    assert "calls that hot" in beyond_limit(walk, hot, {})
    unknown = Walk.begin(load(), "cuts-out-after-a-while", "marlin-1")
    assert beyond_limit(unknown, hot, {}) == ""


def test_fixed_is_asked_back_once_and_the_record_keeps_what_speaks_against_it() -> None:
    bay = with_charger()
    charged(bay, power="0.2")
    face = ScriptFace("fixed", "fixed")
    assert Dialogue(face).answer(bay.prompt, scene()) == Chosen(("fixed",))
    assert "Look again: 0.2 kW is far below the 7.36 kW" in face.text
    bay.choose("fixed")
    (record,) = corrections(bay.walk, bay.events, route(bay.walk, bay.state))
    assert "0.2 kW is far below" in record.charges[0].doubts[0]


def test_a_charge_beyond_a_limit_of_the_catalogue_is_no_fix() -> None:
    bay = Bay(Walk.begin(load(), "insulation-warning", "petrel-2"))
    state = fold(bay.walk, [seen("7 kW", insulation="20 kohm")], bay.state)
    cause = bay.walk.catalogue.causes["inlet-wet-inside"]
    assert "no proof of a fix" in proof_falls_short(bay.walk, route(bay.walk, state), cause, state)
