"""Jobs as a technician lives them: what is asked, what is told, and when."""

from __future__ import annotations

import json
from collections import Counter

import pytest

from diagtree.errors import AnswerError, KnowledgeError
from diagtree.knowledge.library import read_library
from diagtree.walk.answers import Back, DoNow, NotDone, Ticked
from diagtree.walk.context import Walk
from diagtree.walk.event_json import event_from_json, event_to_json
from diagtree.walk.events import Answered, FactSupplied
from diagtree.walk.prompts import Choice, Kind
from diagtree.walk.route import belief, route
from tests.walk.bay import Bay, usual
from tests.walk.knowledge import TEXTS

TO_COVER = {"danger-look": "no", "desk-question": "no"}
NTC = "ntc r25=10000 beta=3435"
KEY = "vehicle.inlet.dc_sensor"


@pytest.fixture
def bay() -> Bay:
    """A technician at the beginning of the small tree."""
    return Bay(Walk.begin(read_library(TEXTS), "first", "petrel-9"))


def at_cover(bay: Bay) -> Bay:
    """Bring the walk to the resistance behind the cover."""
    bay.until("cover-resistance", answers=TO_COVER)
    bay.until(Kind.READING)
    return bay


def at_sensor(bay: Bay) -> Bay:
    """Bring the walk to the ratio of the sensor, whose nominal value the profile does not know."""
    at_cover(bay).type(resistance="1500")
    bay.until(Kind.READING)
    assert bay.prompt.key == "sensor-ratio"
    return bay


def at_proof(bay: Bay) -> Bay:
    """Conclude the contact, correct it, and come to its proof."""
    at_cover(bay).type(resistance="50")
    assert bay.prompt.kind is Kind.CONCLUSION
    bay.choose("correct")
    bay.until(Kind.PROOF)
    return bay


def charged(bay: Bay, minutes: str, cut_out: str = "no") -> None:
    """Type what was seen at the proof charge."""
    bay.type(minutes=minutes, watched="5", power="7.2", cut_out=cut_out, inlet_temperature="41 degC")


def options(bay: Bay) -> list[str]:
    """Return the options of the prompt that is due."""
    form = bay.prompt.form
    assert isinstance(form, Choice)
    return [option.id for option in form.options]


def test_number_first_limit_after(bay: Bay) -> None:
    """No prompt up to the number shows a limit, an outcome or what is expected; after it all of that is told."""
    bay.until("cover-resistance", answers=TO_COVER)
    while bay.prompt.kind is not Kind.READING:
        shown = bay.limits_shown()
        assert not [word for word in ("below 100", "2000", "2.00 k", "normal", "otherwise") if word in shown], shown
        bay.give(usual(bay.prompt, TO_COVER))
    shown = bay.limits_shown()
    assert not [word for word in ("100", "2000", "2 k", "below", "normal", "low", "high:") if word in shown.split()]
    bay.type(resistance="1.500 k")
    told = "\n".join(bay.prompt.told)
    assert "resistance = 1.5 kohm" in told
    assert "normal means between 100 ohm and 2 kohm on this car" in told
    assert "source: common practice" in told


def test_a_hand_over_asks_nothing_twice(bay: Bay) -> None:
    """The other tree begins with questions that are answered already: it goes on behind them, access untouched."""
    at_cover(bay).type(resistance="5.00 k")
    assert (bay.prompt.kind, bay.prompt.key) == (Kind.HAND_OVER, "second")
    opened = bay.state.opened
    bay.choose("go-on")
    prompt = bay.until(Kind.READING)
    assert prompt.key == "sensor-ratio"
    bay.type(resistance="5.00 k", temperature="25")
    tests = Counter(key for kind, key in bay.asked if kind in (Kind.OUTCOME, Kind.READING))
    assert tests == Counter({"danger-look": 1, "desk-question": 1, "cover-resistance": 1, "sensor-ratio": 1})
    assert set(opened) <= set(bay.state.opened)


def test_not_fixed_strikes_the_cause_out(bay: Bay) -> None:
    """After a correction in vain the cause has no chance left and is not offered again; the tests not done are."""
    at_proof(bay)
    charged(bay, "30", "yes")
    bay.choose("not-fixed")
    found = route(bay.walk, bay.state)
    assert found.struck == ["contact"]
    assert belief(bay.walk, found).chances["contact"] == 0
    assert bay.prompt.kind is Kind.REMAINING
    assert "correct:contact" not in options(bay)
    assert {"correct:sensor", "advise:point", "test:sensor-ratio", "test:live-voltage", "refer"} <= set(options(bay))


def test_partly_strikes_nothing(bay: Bay) -> None:
    """Better, not well: the repair stays on the record, the cause keeps its chance, a person decides."""
    at_proof(bay)
    before = belief(bay.walk, route(bay.walk, bay.state)).chances["contact"]
    charged(bay, "12")
    bay.choose("partly")
    found = route(bay.walk, bay.state)
    assert found.struck == []
    assert belief(bay.walk, found).chances["contact"] == pytest.approx(before)
    assert bay.state.corrected == ("contact",)
    assert bay.prompt.kind is Kind.REMAINING


@pytest.mark.parametrize(
    ("minutes", "cut_out", "why"), [("29", "no", "29 of 30 min"), ("45", "yes", "cut out"), ("5", "yes", "cut out")]
)
def test_fixed_is_refused_where_the_proof_shows_no_fix(bay: Bay, minutes: str, cut_out: str, why: str) -> None:
    """Too short, or cut out: `fixed` cannot be said; after a longer charge it can, and the case is closed."""
    at_proof(bay)
    charged(bay, minutes, cut_out)
    with pytest.raises(AnswerError, match=why):
        bay.choose("fixed")
    bay.choose("again")
    assert bay.until(Kind.PROOF).key == "contact"
    charged(bay, "30")
    bay.choose("fixed")
    bay.finish()
    assert bay.state.closed == "fixed"
    assert not bay.state.opened
    assert bay.state.spent[-1].kind == "hand-back"


@pytest.mark.parametrize(("owner", "needed"), [("50", "50"), ("", "30"), ("10", "30")])
def test_the_owners_time_to_cut_out_sets_the_length_of_the_proof(bay: Bay, owner: str, needed: str) -> None:
    """The proof runs at least as long as the owner says that it took to stop."""
    bay.until(Kind.COMPLAINT)
    bay.type(words="it stops", cuts_out_after=owner)
    at_cover(bay).type(resistance="50")
    assert any(f"at least {needed} min" in line for line in bay.prompt.about)
    bay.choose("correct")
    assert f"at least {needed} min" in bay.until(Kind.PROOF).ask
    charged(bay, str(int(needed) - 1))
    with pytest.raises(AnswerError, match=f"of {needed} min"):
        bay.choose("fixed")
    bay.choose("again")
    bay.until(Kind.PROOF)
    charged(bay, needed)
    bay.choose("fixed")


@pytest.mark.parametrize(
    "danger", ["burnt", "cracked", "wet", "flooded", "crash", "smoke", "shock", "insulation-warning"]
)
def test_a_danger_at_the_first_look_sets_the_car_apart(bay: Bay, danger: str) -> None:
    """The danger is read and acknowledged with a word; then nobody works on the car: no put-back, no hand-back."""
    bay.choose(danger)
    assert bay.prompt.kind is Kind.DANGER
    assert any("Do not plug the car in" in line for line in bay.prompt.cautions)
    with pytest.raises(AnswerError, match="stopped"):
        bay.give(Ticked("done"))
    bay.give(Ticked("stopped"))
    assert bay.prompt.kind is Kind.REFER
    bay.choose("refer")
    assert bay.state.closed == "set-apart"
    assert not bay.state.spent


def test_a_danger_found_in_the_bay_leaves_everything_as_it_is(bay: Bay) -> None:
    """A stop outcome is never `not-done`; what is open stays open, and the record says so."""
    bay.until(Kind.ALREADY)
    bay.choose("seat")
    prompt = bay.until("danger-look")
    with pytest.raises(AnswerError, match="left out"):
        bay.give(NotDone("no time"))
    assert not prompt.not_done
    bay.choose("yes")
    assert bay.prompt.kind is Kind.DANGER
    bay.give(Ticked("stopped"))
    bay.choose("refer")
    assert (bay.state.closed, bay.state.opened) == ("set-apart", ("seat",))
    assert not [kind for kind, _ in bay.asked if kind in (Kind.CLOSE, Kind.PROCEDURE)]


def test_cheap_tests_are_named_before_an_access_is_closed(bay: Bay) -> None:
    """Before the seat goes back in, the test that it still serves is named, and can be done there and then."""
    at_cover(bay).type(resistance="50")
    bay.choose("refer")
    lines = {}
    while bay.open_prompt is not None:
        prompt = bay.prompt
        if prompt.kind is Kind.CLOSE:
            lines[prompt.key] = " ".join(line for line in prompt.about if "Cheap now" in line)
        if prompt.key == "seat":
            break
        bay.give(usual(bay.prompt, TO_COVER))
    assert "live-voltage" in lines["seat"]
    assert "cover-resistance" not in lines["seat"]  # it is answered already
    bay.give(DoNow("live-voltage"))
    assert bay.until(Kind.READING).key == "live-voltage"
    assert "seat" in bay.state.opened


def test_an_unknown_makers_value_is_asked_once_and_recorded_as_supplied(bay: Bay) -> None:
    """The numbers are kept while the value is asked; the record names who supplied it; nothing is asked twice."""
    at_sensor(bay).type(resistance="10.00 k", temperature="25.0")
    prompt = bay.prompt
    assert (prompt.kind, prompt.key) == (Kind.FACT, KEY)
    assert "You typed: resistance 10.00 k" in prompt.about
    with pytest.raises(AnswerError, match="maker's value"):
        bay.type(value="about ten", source="memory")
    bay.type(value=NTC, source="manual, page 12")
    supplied = [event for event in bay.events if isinstance(event, FactSupplied)]
    assert [(event.name, event.source) for event in supplied] == [(KEY, "manual, page 12")]
    assert bay.state.last is not None
    assert (bay.state.last.test, bay.state.last.outcome) == ("sensor-ratio", "normal")
    assert bay.state.last.expected == pytest.approx(10_000)
    bay.give(Back(1))
    assert bay.until(Kind.READING).key == "sensor-ratio"
    bay.type(resistance="20.00 k", temperature="25.0")
    assert [kind for kind, _ in bay.asked].count(Kind.FACT) == 1
    assert bay.state.last.outcome == "high"


def test_compare_on_the_same_car_takes_the_place_of_the_makers_value(bay: Bay) -> None:
    """Where the value is not to be had, the technician judges by the same part on this car; the record says so."""
    at_sensor(bay).type(resistance="10.00 k", temperature="25.0")
    bay.type(value="compare")
    assert bay.prompt.kind is Kind.OUTCOME
    bay.choose("normal")
    last = bay.state.last
    assert last is not None
    assert last.compared
    assert last.readings == {"resistance": "10.00 k", "temperature": "25.0"}


def test_a_close_reading_offers_a_second_measurement_and_a_better_meter(bay: Bay) -> None:
    """100.5 ohm at a limit of 100: the multimeter (1 % + 3 counts) cannot tell, the bench meter (0.1 % + 1) can."""
    at_cover(bay).type(resistance="100.5")
    assert bay.prompt.kind is Kind.CLOSE_READING
    assert options(bay) == ["accept", "again", "with:bench-meter"]
    assert not [event for event in bay.events if isinstance(event, Answered) and event.test == "cover-resistance"]
    bay.choose("with:bench-meter")
    assert bay.until(Kind.READING).key == "cover-resistance"
    bay.type(resistance="100.5")
    last = bay.state.last
    assert last is not None
    assert (last.outcome, last.chances, last.meters) == ("normal", {}, {"resistance": "bench-meter"})


def test_an_accepted_close_reading_counts_each_outcome_by_its_chance(bay: Bay) -> None:
    """P(contact) : P(sensor) = 40 : 20 times the sums of chance * P(outcome | cause), worked out here by hand."""
    at_cover(bay).type(resistance="100.5")
    bay.choose("accept")
    last = bay.state.last
    assert last is not None
    assert last.outcome == "normal"
    assert sum(last.chances.values()) == pytest.approx(1)
    low, normal = last.chances["low"], last.chances["normal"]
    assert 0.1 < low < 0.5
    drawn = 0.02 / 3
    contact = low * (0.98 * 0.9 + drawn) + normal * (0.98 * 0.1 + drawn)
    sensor = low * drawn + normal * (0.98 + drawn)
    chances = belief(bay.walk, route(bay.walk, bay.state)).chances
    assert chances["contact"] / chances["sensor"] == pytest.approx(40 / 20 * contact / sensor)


def test_no_walk_where_making_safe_ends_without_a_measurement() -> None:
    """A car that is only said to be dead is no dead car: the walk does not begin, and says where to write what."""
    steps = TEXTS["catalogue/all.yaml"].index("    steps:\n      - {kind: unplug}")
    after = TEXTS["catalogue/all.yaml"].index("  re-energise:")
    text = TEXTS["catalogue/all.yaml"][:steps] + TEXTS["catalogue/all.yaml"][after:]
    with pytest.raises(KnowledgeError) as caught:
        Walk.begin(read_library({**TEXTS, "catalogue/all.yaml": text}), "first")
    told = [str(finding) for finding in caught.value.findings]
    assert any("cover-resistance" in line and "absence" in line for line in told), told


def test_a_number_below_every_range_is_kept_and_read_back() -> None:
    """A difference with OL in it can come out below every number; the case store must keep that, too."""
    values = {"resistance": float("inf")}
    event = Answered("2026-11-25T10:00:00", "sensor-ratio", "low", judged=float("-inf"), values=values)
    assert event_from_json(json.loads(json.dumps(event_to_json(event), allow_nan=False))) == event
