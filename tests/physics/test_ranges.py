"""The words of a refusal."""

from __future__ import annotations

import math

import pytest

from diagtree.errors import OutOfRange, WrongUse
from diagtree.physics.quantity import Input
from diagtree.physics.ranges import amount, check, checked, plain, range_words

MESSAGES = [
    (Input("duty", "percent", "share", 0.0, 100.0), 101.0,
     "`duty` = 101 percent is out of range (share): type 0 to 100 percent"),
    (Input("t", "degC", "sensor", -60.0, 300.0), -300.0,
     "`t` = -300 degC is out of range (below absolute zero) (sensor): type -60 to 300 degC"),
    (Input("r", "ohm", "contact", 0.0, 1e7), -1.0, "`r` = -1 ohm is out of range (contact): type 0 ohm to 10 Mohm"),
    (Input("r", "ohm", "contact", 0.0), -1.0, "`r` = -1 ohm is out of range (contact): type 0 ohm or more"),
    (Input("r", "ohm", "leak", 0.0, math.inf), math.nan,
     "`r` = nan is not a number (leak): type 0 ohm or more (or infinity)"),
    (Input("v", "V", "level", None, 20.0), 21.0, "`v` = 21 V is out of range (level): type at most 20 V"),
    (Input("v", "V", "level"), math.inf, "`v` = infinity V is out of range (level): type any number of V"),
    (Input("n", "", "count"), "1,2,3", "`n` = '1,2,3' is not a number (count): type any number"),
    (Input("c", "F", "line", 0.0, 1e-7), 1.0, "`c` = 1 F is out of range (line): type 0 F to 100 nF"),
    (Input("s", "word", "state", words=("B", "C")), "Z",
     "`s` = 'Z' is not a word known here (state): type one of B, C"),
    (Input("k", "text", "code"), 5.0, "`k` = 5.0 is not a word (code): type it as the tester shows it"),
    (Input("f", "facts", "sensor"), 5.0, "`f` = 5.0 is not a part of a vehicle profile (sensor): "
     "type the name of a part of the vehicle profile, such as vehicle.inlet.ac_sensor"),
    (Input("f", "facts", "the sensor"), "unknown", "`f` (the sensor) is unknown on this car: find the maker's value"),
]  # fmt: skip


@pytest.mark.parametrize(("wanted", "given", "message"), MESSAGES, ids=[message for *_, message in MESSAGES])
def test_refusals_name_input_value_range_and_what_to_type(wanted, given, message):
    """Whole messages."""
    with pytest.raises(OutOfRange) as caught:
        check(wanted, given)
    assert str(caught.value) == message


def test_range_ends_are_inside():
    """A closed range takes both its ends, whole numbers included."""
    wanted = Input("x", "V", "level", 0.0, 5.0)
    for value in (0.0, 5.0, 0, 5, 2.5):
        check(wanted, value)


def test_numbers_as_a_person_writes_them():
    """No tails of zeros, no exponents where a prefix says it."""
    assert [plain(value) for value in (5.0, 0.1, -12.25, math.inf, -math.inf)] == ["5", "0.1", "-12.25", "infinity",
                                                                                    "minus infinity"]  # fmt: skip
    assert amount(1e7, "ohm") == "10 Mohm"
    assert amount(50e-6, "s") == "50 µs"
    assert amount(1500.0, "V") == "1500 V"
    assert range_words(Input("x", "", "ratio", 0.0, 1.0)) == "0 to 1"


def test_defaults_and_names():
    """What is left out is not checked; what is given twice is told."""

    @checked(Input("one", "V", "first", 0.0, 1.0), Input("two", "V", "second", 0.0, 1.0, 0.5))
    def total(one: float, two: float = 0.5) -> float:
        return one + two

    assert total(0.5) == 1.0
    assert total(two=0.25, one=0.5) == 0.75
    assert total.__name__ == "total"
    with pytest.raises(WrongUse, match="`one` is given twice"):
        total(0.5, one=0.5)
    with pytest.raises(WrongUse, match=r"`one` \(first\) is missing; type 0 to 1 V"):
        total(two=0.5)
