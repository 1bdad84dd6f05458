"""A number whose unit seems to be missing is asked back once; what was typed on purpose, or is a danger, is not."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.car.car import Car
from diagtree.errors import ReadingError
from diagtree.knowledge.files import load
from diagtree.physics.reading import parse_reading
from diagtree.terminal.dialogue import Dialogue
from diagtree.walk.another_order import doubt
from diagtree.walk.answers import Typed
from diagtree.walk.context import Walk
from diagtree.walk.prompts import Field, Fields, Kind, Prompt
from tests.terminal.samples import ScriptFace, scene


@lru_cache(maxsize=1)
def walk() -> Walk:
    return Walk.begin(load(), "ac-fails-dc-works", "marlin-1")


@pytest.mark.parametrize(
    ("test", "typed", "instead"),
    [
        ("cell-spread", "12", ("12 mV",)),
        ("cell-spread", "35", ("35 mV",)),
        ("lock-feedback-unlocked", "600", ("600 mV",)),
        ("inlet-insulation", "550", ("550 kohm", "550 Mohm")),
        ("parked-current", "18", ("18 mA",)),
        ("smooth-residual-current", "2,4", ("2,4 mA",)),
        ("ac-power-readout", "7200", ("7200 W",)),
        ("residual-current-charging", "0.62", ("0.62 mA",)),
    ],
)
def test_a_number_of_another_order_is_asked_back(test: str, typed: str, instead: tuple[str, ...]) -> None:
    """Common practice: a meter in its millivolt or kilo-ohm range shows the number, and the number is typed."""
    found = doubt(walk(), {}, walk().test(test), {read.name: typed for read in walk().test(test).reads})
    assert found is not None
    assert found.instead == instead
    assert all(text in found.question for text in instead)
    assert ("Hands off first" in found.question) is (test == "lock-feedback-unlocked" or typed == "35"), "30 V and more"


@pytest.mark.parametrize(
    ("test", "typed", "why"),
    [
        ("cell-spread", "12 mV", "the unit was typed"),
        ("cell-spread", "12 V", "so was this one, whatever it means"),
        ("cell-spread", "0.258", "a true spread; no meter shows thousandths of a millivolt"),
        ("cell-spread", "0.012", "what the test expects"),
        ("low-voltage-battery-volts", "550", "no meter shows kilovolts there; that much on such a wire is a danger"),
        ("low-voltage-battery-volts", "0.3", "an empty battery"),
        ("inlet-insulation", "OL", "above the range"),
        ("inlet-insulation", "300000", "more digits than a display has: written out on purpose"),
        ("inlet-insulation", "3e2", "an exponent is typed on purpose"),
        ("inlet-insulation", "0", "nothing of nothing"),
        ("dc-pin-volts", "740", "a test for a hazardous voltage: nobody is asked to doubt it"),
        ("charger-fuse", "0.002", "healthy as it stands"),
    ],
)
def test_what_was_meant_is_not_asked_back(test: str, typed: str, why: str) -> None:
    found = doubt(walk(), {}, walk().test(test), {read.name: typed for read in walk().test(test).reads})
    assert found is None, why


def test_an_open_sensor_in_ohms_is_no_slip() -> None:
    """Megohms, or OL, beside a temperature: nothing that another prefix would make a sensor of."""
    for resistance in ("OL", "4.5 M", "4500000", "1.2 M"):
        typed = {"resistance": resistance, "inlet_temperature": "18"}
        assert doubt(walk(), {}, walk().test("inlet-sensor-resistance"), typed) is None


def test_what_broken_cars_truly_read_is_seldom_asked_back() -> None:
    """Readings of a car with each cause, typed in the test's unit without any prefix: one in five hundred at most.

    Every fifth cause here; all causes on four cars came to 8 of 30,246, leaks and weak cells.
    """
    catalogue, asked, count = walk().catalogue, 0, 0
    measured = [test for test in catalogue.tests.values() if test.reads]
    for cause in tuple(catalogue.causes)[::5]:
        car = Car(catalogue, walk().facts, walk().meters, cause, 1)
        for test in measured:
            readings = car.answer(test.id).readings
            typed = {read.name: bare(readings[read.name], read.unit) for read in test.reads if readings}
            count += bool(typed)
            asked += bool(typed) and doubt(walk(), {}, test, typed) is not None
    assert count > 500
    assert asked <= count / 500


def bare(text: str, measured_in: str) -> str:
    """Return a reading as its number alone, in the test's unit."""
    reading = parse_reading(text, measured_in)
    return "OL" if reading.over_range else f"{float(f'{reading.value:.4g}'):f}".rstrip("0").rstrip(".") or "0"


PROMPT = Prompt(Kind.READING, "cell-spread", "x", "Spread?", Fields((Field("spread", "spread in V", "V"),)))


@settings(deadline=None, max_examples=150)
@given(typed=st.from_regex(r"[+-]?[0-9]{1,5}([.,][0-9]{1,4})?( ?(m|k|M|mV|V))?", fullmatch=True))
def test_it_is_asked_at_most_once_and_taken_when_repeated(typed: str) -> None:
    """Whatever reads as a number is taken as it was typed, at the first or at the second time."""
    try:
        parse_reading(typed, "V")
    except ReadingError:
        return
    face = ScriptFace(typed, typed, typed)
    looked = replace(scene(), doubt=told)
    assert Dialogue(face).answer(PROMPT, looked) == Typed({"spread": typed})
    assert face.text.count("Look at the meter again") == 2 - len(face.rest)
    assert len(face.rest) >= 1
    unattended = ScriptFace(typed)
    assert Dialogue(unattended, attended=False).answer(PROMPT, looked) == Typed({"spread": typed})


def told(test: str, typed: object) -> tuple[str, str] | None:
    assert isinstance(typed, dict)
    found = doubt(walk(), {}, walk().test(test), typed)
    return None if found is None else (found.field, found.question)
