"""Arithmetic in knowledge: what is read, what is refused and where, and what comes out."""

from __future__ import annotations

from contextlib import suppress
from math import inf, isnan, nan
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from diagtree.knowledge.limits import (
    Expression,
    ExpressionError,
    LimitError,
    MissingName,
    UnknownFact,
    evaluate,
    parse_expression,
)
from diagtree.physics.quantity import quantity, quantity_names

CAR: dict[str, Any] = {
    "inlet": {
        "ac_sensor": {"kind": "ntc", "r25": 10000.0, "beta": 3435.0},
        "dc_sensor": "unknown",
        "half_known": {"kind": "ntc", "r25": 10000.0, "beta": "unknown"},
        "half_written": {"kind": "ntc", "r25": 10000.0},
    },
    "safety": {"wait": 5, "dead_below": 30.0},
}
VALUES: dict[str, Any] = {
    "resistance": 12000.0, "expected": 10000.0, "temperature": 18, "zero": 0.0, "above": inf, "vehicle": CAR,
}  # fmt: skip

COMPUTED = [
    ("5", 5.0),
    ("0.9", 0.9),
    ("1e3", 1000.0),
    (".5", 0.5),
    ("-40", -40.0),
    ("+40", 40.0),
    ("resistance", 12000.0),
    ("resistance / expected", 1.2),
    ("2 + 3 * 4 - 6 / 3", 12.0),
    ("(2 + 3) * 4", 20.0),
    ("-(2 + 3)", -5.0),
    ("2 - 3 - 4", -5.0),
    ("abs(-2)", 2.0),
    ("min(3, 1, 2)", 1.0),
    ("max(3, 1, 2)", 3.0),
    ("round(2.6)", 3.0),
    ("round(2.345, 1)", 2.3),
    ("vehicle.safety.wait", 5.0),
    ("vehicle.safety.dead_below * 2", 60.0),
    ("  temperature\n + 1", 19.0),
    ("above / expected", inf),
    ("expected / above", 0.0),
    ("min(above, 5)", 5.0),
    ("round(above)", inf),
    ("((((((((((((((((((((((1))))))))))))))))))))))", 1.0),
]


@pytest.mark.parametrize(("text", "value"), COMPUTED, ids=[text for text, _ in COMPUTED])
def test_arithmetic_is_computed(text: str, value: float) -> None:
    assert evaluate(parse_expression(text), VALUES) == pytest.approx(value)


@pytest.mark.parametrize("number", [5, 0.9, -3, 1e3])
def test_a_bare_number_is_an_expression(number: float) -> None:
    assert evaluate(parse_expression(number), {}) == number


def test_a_published_quantity_is_called_in_order_and_by_name() -> None:
    value = quantity("ntc").compute(18.0, CAR["inlet"]["ac_sensor"])
    for text in (
        "ntc(temperature, vehicle.inlet.ac_sensor)",
        "ntc(18, sensor=vehicle.inlet.ac_sensor)",
        "ntc(sensor = vehicle.inlet.ac_sensor, temperature = 18)",
    ):
        assert evaluate(parse_expression(text), VALUES) == value


def test_an_expression_tells_what_it_uses() -> None:
    expr = parse_expression("resistance / ntc(temperature, vehicle.inlet.ac_sensor) + resistance - expected")
    assert expr.names == ("resistance", "temperature", "vehicle.inlet.ac_sensor", "expected")
    assert expr.functions == ("ntc",)
    assert expr == parse_expression(expr.text)


REFUSED = [
    # text, column (None: where Python's grammar sees it, which differs between its versions), part of the message
    ("", 0, "empty"),
    ("   ", 0, "empty"),
    ("2 ** 3", 2, "write a power as a product"),
    ("2 ^ 3", 2, "write a power as a product"),
    ("7 // 2", 2, "use / and round"),
    ("7 % 2", 2, "write / 100"),
    ("x < 3", 2, "leave comparisons to `below`"),
    ("x == 3", 2, "leave comparisons to `below`"),
    ("'a'", 0, "without quotes"),
    ('ntc("a")', 4, "without quotes"),
    ("x[0]", 1, "use round brackets"),
    ("{1}", 0, "use round brackets"),
    ("x and y", 2, "`and` is a reserved word"),
    ("1 if x else 2", 2, "`if` is a reserved word"),
    ("lambda: 1", 0, "`lambda` is a reserved word"),
    ("True", 0, "`True` is a reserved word"),
    ("12k", 2, "write numbers in full"),
    ("x + 12 kohm", 7, "write numbers in full"),
    ("1_000", 1, "write numbers in full"),
    ("0x10", 1, "write numbers in full"),
    ("1.2.3", 3, "write numbers in full"),
    ("0,9", 0, "a decimal number takes a point"),
    ("(1, 2)", 0, "a decimal number takes a point"),
    ("x − 1", 2, "use the hyphen"),
    ("2 × 3", 2, "use * for times"),
    ("12 Ω", 3, "without units"),
    ("1e999", 0, "finite"),
    ("012", 0, "write 12"),
    ("(1", None, "breaks off"),
    ("1)", None, "breaks off"),
    ("1 +", None, "breaks off"),
    ("* 2", None, "breaks off"),
    ("x y", None, "breaks off"),
    ("a = 1", None, "breaks off"),
    ("min(1, *x)", 7, "not allowed"),
    ("a.b", 0, "only `vehicle` has dots"),
    ("vehicle", 0, "name a fact"),
    ("ntc(1, vehicle.a).real", 0, "only `vehicle` has dots"),
    ("vehicle.wait()", 0, "cannot be called"),
    ("abs(1)(2)", 0, "cannot be called"),
    ("1 + nct(18)", 4, "did you mean `ntc`"),
    ("flurb(18)", 0, "calc --list"),
    ("__import__(1)", 0, "there is no function"),
    ("abs()", 0, "takes one number"),
    ("min(1)", 0, "two numbers or more"),
    ("round(1, 2.5)", 9, "whole number"),
    ("round(1, x)", 9, "whole number"),
    ("round(1, digits=2)", 0, "takes a number"),
    ("ntc(18)", 0, "lacks `sensor`"),
    ("ntc(18, vehicle.a, 3)", 19, "it takes temperature, sensor"),
    ("ntc(18, vehicle.a, warmth=3)", 19, "has no input `warmth`"),
    ("ntc(18, vehicle.a, temperature=3)", 19, "given twice"),
    ("ntc(18, 5)", 8, "a part of the vehicle profile"),
    ("ntc(18, resistance)", 8, "a part of the vehicle profile"),
    ("  1 + 'a'", 6, "without quotes"),
    ("x; y", 1, "not allowed"),
    ("x # y", 2, "not allowed"),
    ("x\\y", 1, "not allowed"),
    ("\x00", 0, "not allowed"),
    ("1" + " + 1" * 60, 200, "at most 200"),
    ("-" * 30 + "1", 20, "nested more than 20 deep"),
    ("ab.5", 2, "not a name"),
]


@pytest.mark.parametrize(("text", "column", "says"), REFUSED, ids=[ascii(row[0])[:30] for row in REFUSED])
def test_all_else_is_refused_with_its_column(text: str, column: int | None, says: str) -> None:
    with pytest.raises(ExpressionError) as caught:
        parse_expression(text)
    assert says in str(caught.value)
    assert caught.value.column == column or (column is None and 0 <= caught.value.column <= len(text))


NO_NUMBER = [
    ("resistance / zero", LimitError, "division by zero"),
    ("resistance / (expected - expected)", LimitError, "division by zero"),
    ("above / above", LimitError, "readings above the range (OL) stand against each other"),
    ("above - above", LimitError, "readings above the range (OL)"),
    ("min(above - above, 1)", LimitError, "readings above the range (OL)"),
    ("ntc(1000, vehicle.inlet.ac_sensor)", LimitError, "type -100 to 400 degC"),
    ("resistence", MissingName, "did you mean `resistance`"),
    ("vehicle.safety.wiat", MissingName, "did you mean `wait`"),
    ("vehicle.safty.wait", MissingName, "did you mean `safety`"),
    ("vehicle.safety.wait.long", MissingName, "`vehicle.safety.wait` has no `long`: it is 5"),
    ("ntc(18, vehicle.inlet.half_written)", LimitError, "beta"),
    ("vehicle.inlet.ac_sensor", LimitError, "a part of the profile, not a number"),
    ("vehicle.inlet.ac_sensor.kind", LimitError, "the word `ntc`, not a number"),
]


@pytest.mark.parametrize(("text", "error", "says"), NO_NUMBER, ids=[row[0] for row in NO_NUMBER])
def test_what_gives_no_number_says_why(text: str, error: type[LimitError], says: str) -> None:
    with pytest.raises(error) as caught:
        evaluate(parse_expression(text), VALUES)
    assert says in str(caught.value)


UNKNOWN = [
    ("vehicle.inlet.dc_sensor", "vehicle.inlet.dc_sensor"),
    ("vehicle.inlet.dc_sensor.beta", "vehicle.inlet.dc_sensor"),
    ("ntc(18, vehicle.inlet.dc_sensor)", "vehicle.inlet.dc_sensor"),
    ("ntc(18, vehicle.inlet.half_known)", "vehicle.inlet.half_known.beta"),
    ("resistance / ntc(18, vehicle.inlet.half_known)", "vehicle.inlet.half_known.beta"),
]


@pytest.mark.parametrize(("text", "path"), UNKNOWN, ids=[row[0] for row in UNKNOWN])
def test_an_unknown_fact_names_its_path(text: str, path: str) -> None:
    """The walk asks for exactly this value; a fact that is unknown and not needed is never asked for."""
    with pytest.raises(UnknownFact) as caught:
        evaluate(parse_expression(text), VALUES)
    assert caught.value.path == path


def test_without_a_vehicle_the_message_says_so() -> None:
    with pytest.raises(MissingName, match="needs a vehicle"):
        evaluate(parse_expression("vehicle.safety.wait"), {"resistance": 1.0})


NUMBERS = st.floats(-1e6, 1e6).map(lambda value: round(value, 3))
LEAVES = NUMBERS.map(lambda value: f"({value!r})") | st.sampled_from(["resistance", "expected", "temperature"])


def _joined(parts: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
    pair = st.tuples(parts, parts)
    return (
        st.tuples(parts, st.sampled_from("+-*/"), parts).map(lambda part: f"({part[0]} {part[1]} {part[2]})")
        | parts.map(lambda part: f"-{part}")
        | parts.map(lambda part: f"abs({part})")
        | pair.map(lambda part: f"min({part[0]}, {part[1]})")
        | pair.map(lambda part: f"max({part[0]}, {part[1]})")
    )


ARITHMETIC = st.recursive(LEAVES, _joined, max_leaves=8).filter(lambda text: len(text) <= 200)


@given(ARITHMETIC)
@settings(deadline=None, max_examples=300)
def test_arithmetic_agrees_with_python(text: str) -> None:
    """The second opinion is Python's own eval: of text that this test made itself."""
    names = {name: float(VALUES[name]) for name in ("resistance", "expected", "temperature")}
    try:
        theirs = eval(text, {"__builtins__": {}, "abs": abs, "min": min, "max": max}, names)
    except ZeroDivisionError:
        theirs = nan
    assume(not isnan(theirs))
    assert evaluate(parse_expression(text), names) == theirs


TOKENS = r"1 0.5 . resistance vehicle vehicle.a ntc min ( ) , + - * / ** = lambda : ' [ ] \ é 0 1e5 if not { } ~ @ ` ;"
PIECES = st.lists(st.sampled_from([*TOKENS.split(" "), " ", "\n"]), max_size=16).map("".join)


@given(st.text(max_size=220) | PIECES)
@settings(deadline=None, max_examples=600)
def test_any_text_is_an_expression_or_an_error_with_a_column(text: str) -> None:
    expr: Expression | ExpressionError
    try:
        expr = parse_expression(text)
    except ExpressionError as refusal:
        expr = refusal
    if isinstance(expr, ExpressionError):
        assert 0 <= expr.column <= len(text)
        return
    with suppress(LimitError):
        assert not isnan(evaluate(expr, VALUES))


def test_every_quantity_may_be_called_with_its_worked_inputs() -> None:
    """What a quantity's own examples say is what a tree computes with it."""
    tried = 0
    for name in sorted(quantity_names()):
        found = quantity(name)
        for example in found.worked:
            words = {wanted.name for wanted in found.inputs if wanted.unit == "word"}
            facts = {wanted.name for wanted in found.inputs if wanted.unit == "facts"}
            written = [
                f"{key}={value}" if key in words else f"{key}=vehicle.{key}" if key in facts else f"{key}=in_{key}"
                for key, value in example.inputs.items()
            ]
            values: dict[str, Any] = {f"in_{key}": value for key, value in example.inputs.items()}
            values["vehicle"] = dict(example.inputs)
            expr = parse_expression(f"{name}({', '.join(written)})")
            assert evaluate(expr, values) == pytest.approx(example.expected, abs=example.tolerance), (name, example)
            tried += 1
    assert tried


@pytest.mark.parametrize(
    ("typed", "advice"),
    [
        ("1 Mohm", "judged: 1000000 where the reading is in ohm, 1 where the reading is in Mohm"),
        ("25 mV", "judged: 0.025 where the reading is in V, 25 where the reading is in mV"),
        ("350 k", "judged: 350000"),
        ("500 ohm", "judged: 500 where the reading is in ohm"),
        ("3 quux", "without prefix or unit, like 12000"),
    ],
)
def test_a_limit_with_a_unit_or_prefix_is_told_the_number_to_write(typed: str, advice: str) -> None:
    with pytest.raises(ExpressionError) as error:
        parse_expression(typed)
    assert advice in str(error.value)
