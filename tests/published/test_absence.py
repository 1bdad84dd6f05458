"""When a car counts as dead: limits, uncertainty and the order of the proof, each beside its source.

The clause numbers of ISO 6469-3 and EN 50110-1 are from memory; the limits are those of voltage class B.
"""

from __future__ import annotations

from math import sqrt

import pytest

from diagtree.errors import AnswerError
from diagtree.knowledge.library import read_library
from diagtree.walk.absence import AC_LIMIT, DC_LIMIT, Pair, measure, pairs
from diagtree.walk.answers import Back, Chosen, Ticked, Typed
from diagtree.walk.context import Walk
from diagtree.walk.prompts import Kind
from tests.walk.bay import Bay
from tests.walk.knowledge import TEXTS

DC, AC = "DC+ and DC-", "AC L1 and N"
BETWEEN = "between: [DC+ and DC-, DC+ and chassis, DC- and chassis], below: vehicle.safety.dead_below"
UNTIL_COVER = {"danger-look": "no", "desk-question": "no"}


def walk_on(dead_below: str = "30", meter: str = "", between: str = f"[{DC}, {AC}]") -> Walk:
    """Return a walk on a car whose profile says `dead_below`, in a house with one voltmeter (none by default)."""
    texts = dict(TEXTS)
    head, _, _ = texts["workshop.yaml"].partition("meters:")
    texts["workshop.yaml"] = head + (f"meters: {{tester: {{volt: {meter}}}}}\n" if meter else "")
    texts["vehicles/petrel-9.yaml"] = texts["vehicles/petrel-9.yaml"].replace(
        "dead_below: 30", f"dead_below: {dead_below}"
    )
    texts["catalogue/all.yaml"] = texts["catalogue/all.yaml"].replace(
        BETWEEN, f"between: {between}, below: vehicle.safety.dead_below"
    )
    return Walk.begin(read_library(texts), "first", "petrel-9")


def limits(dead_below: str) -> tuple[float, ...]:
    """Return the limits of the DC and of the AC pair on a car whose profile says `dead_below`."""
    walk = walk_on(dead_below)
    steps = walk.catalogue.procedures["make-safe"].steps
    step = next(step for step in steps if step.kind == "absence")
    return tuple(pair.limit for pair in pairs(walk, step, {}))


def proven(text: str, limit: float, meter: str = "") -> bool:
    """Return whether one reading proves the absence of voltage below `limit`."""
    return measure(walk_on(meter=meter), (Pair(DC, limit),), (text,))[0].proven


def test_the_limits_are_those_of_voltage_class_b() -> None:
    """Above 60 V DC or 30 V AC rms a voltage is hazardous: class B. Source: UN Regulation No. 100; ISO 6469-3."""
    assert (DC_LIMIT, AC_LIMIT) == (60.0, 30.0)
    assert limits("unknown") == (60.0, 30.0)


@pytest.mark.parametrize(
    ("dead_below", "expected"),
    [
        ("30", (30.0, 30.0)),  # the profile's limit is lower than the standard's: it counts
        ("5", (5.0, 5.0)),
        ("45", (45.0, 30.0)),  # lower than the one, higher than the other
        ("60", (60.0, 30.0)),
        ("100", (60.0, 30.0)),  # a profile cannot allow more than the standard
        ("1000", (60.0, 30.0)),
        ("unknown", (60.0, 30.0)),  # not known: the standard's
        ("a word", (60.0, 30.0)),  # cannot be computed with: the standard's
        ("-1", (0.0, 0.0)),  # then no reading at all is below it
    ],
)
def test_the_lower_of_standard_and_profile_counts(dead_below: str, expected: tuple[float, ...]) -> None:
    """Source: UN Regulation No. 100 and ISO 6469-3 for the upper bound; a maker may demand less (common practice)."""
    assert limits(dead_below) == expected


@pytest.mark.parametrize("points", ["AC L1 and N", "L2 and chassis", "N and PE", "ac inlet", "phase 1 and 2", "L, PE"])
def test_alternating_pairs_have_the_lower_limit(points: str) -> None:
    """30 V rms holds wherever mains can stand. Source: UN Regulation No. 100; ISO 6469-3. Names: common practice."""
    walk = walk_on("unknown", between=f"['{points}']")
    steps = walk.catalogue.procedures["make-safe"].steps
    assert pairs(walk, next(step for step in steps if step.kind == "absence"), {})[0].limit == 30


@pytest.mark.parametrize(
    ("text", "limit", "expected"),
    [
        ("59.9", 60, True),
        ("60", 60, False),  # the limit itself is not below it
        ("60.0", 60, False),
        ("60.1", 60, False),
        ("29,9", 30, True),
        ("30", 30, False),
        ("-59.9", 60, True),
        ("-60", 60, False),  # the tester's leads may be swapped: the absolute value counts
        ("-400", 60, False),
        ("+12", 60, True),
        ("0", 60, True),
        ("OL", 60, False),  # above the meter's range is above every limit
        ("-OL", 60, False),
        ("0", 0, False),
    ],
)
def test_absolute_value_in_plain_volts(text: str, limit: float, expected: bool) -> None:
    """Below 60 V DC and 30 V AC, either way round. Source: UN Regulation No. 100; ISO 6469-3."""
    assert proven(text, limit) is expected


@pytest.mark.parametrize("text", ["0.3 k", "0.05 kV", "3 mV", "300 m", "0.3k", "1e-3", "1,200", "0L", "about 3", ""])
def test_no_prefix_and_nothing_that_reads_two_ways(text: str) -> None:
    """`0.3 k` taken for 0.3 V would hide 300 V: plain volts only (common practice), and the pair is named."""
    with pytest.raises(AnswerError, match="DC\\+ and DC-"):
        proven(text, 60)


@pytest.mark.parametrize("sign", ["", "-"])
@pytest.mark.parametrize(
    ("volts", "digits", "limit"),
    [(59.9, 1, 60), (59.5, 1, 60), (59.4, 1, 60), (59, 1, 60), (57, 0, 60), (58, 0, 60), (29.6, 1, 30), (29.5, 1, 30)],
)
def test_the_whole_expanded_uncertainty_lies_on_the_safe_side(
    volts: float, digits: int, limit: float, sign: str
) -> None:
    """Meter 0.5 % + 2 counts: U = 2 a / sqrt(3). Source: JCGM 100:2008, 4.3.7 and 6.2; guard band: ILAC-G8:09/2019."""
    error = 0.005 * volts + 2 * 10**-digits
    safe = volts + 2 * error / sqrt(3) < limit
    assert proven(f"{sign}{volts:.{digits}f}", limit, meter="{percent: 0.5, counts: 2}") is safe


def test_the_uncertainty_decides_where_the_reading_alone_would_pass() -> None:
    """59.5 V with 0.5 % + 2 counts: a = 0.4975 V, U = 0.574 V, so up to 60.07 V. 59.4 V: up to 59.97 V. By hand."""
    meter = "{percent: 0.5, counts: 2}"
    assert proven("59.5", 60) is True
    assert proven("59.5", 60, meter) is False
    assert proven("59.4", 60, meter) is True
    assert proven("58", 60, meter) is False  # whole volts: two counts are 2 V
    assert proven("57", 60, meter) is True


def at_the_absence(walk: Walk) -> Bay:
    """Return a technician who stands before the measurement of the absence of voltage."""
    bay = Bay(walk)
    bay.until(Kind.ABSENCE, answers=UNTIL_COVER)
    return bay


def test_three_points_tester_object_tester() -> None:
    """The tester is proven on a known source before and after. Source: EN 50110-1, 6.2.3 (clause from memory)."""
    bay = at_the_absence(walk_on(between=f"[{DC}]"))
    steps = bay.walk.catalogue.procedures["make-safe"].steps
    kinds = [steps[int(key.split(":")[1])].kind for kind, key in bay.asked if key.startswith("make-safe:")]
    assert kinds == ["unplug", "switch-off", "disconnect", "secure", "wait", "prove-tester"]
    bay.type(pair1="0.3")
    assert not bay.state.arrangement.dead  # a tester that fails now would have shown nothing before either
    assert steps[int(bay.prompt.key.split(":")[1])].kind == "prove-tester"
    bay.give(Ticked("done", "yes, 12 V battery, 12.6 V"))
    assert bay.state.arrangement.dead


@pytest.mark.parametrize("text", ["30", "-31", "400", "OL"])
def test_a_reading_that_is_not_below_stops_the_work(text: str) -> None:
    """Nothing goes past voltage; a repeat proves the tester again, before and after. Source: EN 50110-1, 6.2.3."""
    bay = at_the_absence(walk_on(between=f"[{DC}]"))
    bay.type(pair1=text)
    assert bay.prompt.kind is Kind.VOLTAGE_FOUND
    assert not bay.state.arrangement.dead
    for answer in (Ticked("done"), Typed({"pair1": "0.3"}), Chosen(("accept",))):
        with pytest.raises(AnswerError):
            bay.give(answer)
    with pytest.raises(AnswerError):
        bay.give(Back())
    bay.choose("repeat")
    bay.give(Ticked("done"))  # the waiting time once more
    bay.give(Ticked("done", "yes, 12 V battery"))
    assert bay.prompt.kind is Kind.ABSENCE
    bay.type(pair1="0.2")
    assert not bay.state.arrangement.dead
    bay.give(Ticked("done", "yes, 12 V battery"))
    assert bay.state.arrangement.dead
    assert [(item.readings, item.proven) for item in bay.state.absences] == [((text,), False), (("0.2",), True)]


def test_one_pair_above_is_enough_to_stop() -> None:
    """All poles are measured, each to the other and to chassis. Source: EN 50110-1, 6.2.3; UN Regulation No. 100."""
    bay = at_the_absence(walk_on("unknown", between="[DC+ and DC-, DC+ and chassis, DC- and chassis]"))
    bay.type(pair1="0.1", pair2="0.2", pair3="-60")
    assert bay.prompt.kind is Kind.VOLTAGE_FOUND


def test_left_isolated_is_the_only_other_way_out() -> None:
    """Voltage that stays: the car is left isolated, for a qualified person (common practice; local law first)."""
    bay = at_the_absence(walk_on(between=f"[{DC}]"))
    bay.type(pair1="80")
    assert bay.prompt.form.options[0].danger  # typed in full, never a bare key
    bay.choose("isolated")
    assert bay.state.closed == "left-isolated"


ORDER = ("unplug", "switch-off", "disconnect", "secure", "wait", "prove-tester", "absence", "prove-tester")


@pytest.mark.parametrize("gone", range(8))
def test_making_safe_that_leaves_a_step_out_is_refused(gone: int) -> None:
    """Disconnect, secure, prove dead with a proven tester. Source: EN 50110-1, 6.2 (clause from memory)."""
    rows = TEXTS["catalogue/all.yaml"].splitlines()
    first = rows.index("      - {kind: unplug}")
    del rows[first + gone]
    found = read_library({**TEXTS, "catalogue/all.yaml": "\n".join(rows)}).all_findings()
    assert any(finding.rule == "make-safe-order" and f"`{ORDER[gone]}`" in finding.message for finding in found)


@pytest.mark.parametrize("swapped", range(7))
def test_making_safe_in_another_order_is_refused(swapped: int) -> None:
    """The order is part of the rule: measured before it is isolated proves nothing. Source: EN 50110-1, 6.2."""
    rows = TEXTS["catalogue/all.yaml"].splitlines()
    at = rows.index("      - {kind: unplug}") + swapped
    rows[at], rows[at + 1] = rows[at + 1], rows[at]
    found = read_library({**TEXTS, "catalogue/all.yaml": "\n".join(rows)}).all_findings()
    line = at + 2 if swapped == 6 else at + 1  # without a tester at its end, making safe breaks off at its last step
    assert [finding.place.line for finding in found if finding.rule == "make-safe-order"] == [line]
