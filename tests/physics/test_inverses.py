"""Inverse of forward returns the input, over inputs drawn around every worked example."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.errors import OutOfRange
from diagtree.physics.quantity import quantities

CASES = [
    (one, target, example)
    for one in quantities()
    for target in one.inverses
    for example in one.worked
    if not (isinstance(example.inputs.get(target), float) and math.isinf(example.inputs[target]))
]

LEVEL = {  # where a formula is level, several inputs give one value: only the value must come back
    ("pilot-current", "duty"),
    ("contact-time-to-limit", "limit"),
    ("proximity-voltage", "plug"),
    ("divider-voltage", "sensor"),
    ("charging-efficiency", "stored"),
    ("pilot-series-resistance", "voltage"),
    ("supply-loop-resistance", "loaded"),
}


def drawn(draw, wanted, value):
    """A number near the example's, inside the declared range; words and facts stay."""
    if isinstance(value, str) or not isinstance(value, (int, float)) or math.isinf(value):
        return value
    factor = draw(st.floats(0.8, 1.25))
    low = -math.inf if wanted.low is None else wanted.low
    high = math.inf if wanted.high is None else wanted.high
    return min(max(float(value) * factor, low), high)


@pytest.mark.parametrize(
    ("one", "target", "example"),
    CASES,
    ids=[f"{one.id}-{target}-{place}" for place, (one, target, _) in enumerate(CASES)],
)
@settings(max_examples=40, deadline=None)
@given(data=st.data())
def test_inverse_of_forward_is_the_input(one, target, example, data):
    """value = f(x): the inverse of value is x again, and f of that is value again."""
    inputs = {
        wanted.name: drawn(data.draw, wanted, example.inputs.get(wanted.name, wanted.default)) for wanted in one.inputs
    }
    others = {name: value for name, value in inputs.items() if name != target}
    try:
        value = one.compute(**inputs)
        back = one.inverses[target](value=value, **others)
    except OutOfRange:
        return
    if math.isinf(value) or math.isinf(back):
        return
    assert one.compute(**{**others, target: back}) == pytest.approx(value, rel=1e-6, abs=1e-9)
    if (one.id, target) not in LEVEL:
        assert back == pytest.approx(inputs[target], rel=1e-5, abs=1e-7)


@pytest.mark.parametrize(
    ("one", "target", "example"),
    CASES,
    ids=[f"{one.id}-{target}-{place}" for place, (one, target, _) in enumerate(CASES)],
)
def test_examples_themselves_are_inverted(one, target, example):
    """At the worked example itself no refusal is allowed: the inverse gives the example's input back."""
    inputs = {wanted.name: example.inputs.get(wanted.name, wanted.default) for wanted in one.inputs}
    value = one.compute(**inputs)
    others = {name: given for name, given in inputs.items() if name != target}
    wanted = next(wanted for wanted in one.inputs if wanted.name == target)
    near = inputs[target] * 1.001 or 0.01
    moved = near if wanted.high is None or near <= wanted.high else inputs[target] * 0.999
    if math.isinf(value) or one.compute(**{**others, target: moved}) == value:
        return  # the value does not depend on this input here: nothing to invert
    back = one.inverses[target](value=value, **others)
    assert one.compute(**{**others, target: back}) == pytest.approx(value, rel=1e-9, abs=1e-12)
