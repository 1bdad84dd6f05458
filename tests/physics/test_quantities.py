"""What every quantity and every verdict keeps: its examples, its ranges, its docstring, its name."""

from __future__ import annotations

import inspect
import math
import re
import subprocess
import sys

import pytest

from diagtree.errors import OutOfRange, WrongUse
from diagtree.physics.quantity import quantities, quantity, quantity_names
from diagtree.physics.ranges import LARGEST
from diagtree.physics.units import unit
from diagtree.physics.verdict import verdict, verdict_names, verdicts

ALL = (*quantities(), *verdicts())
KINDS = ("facts", "word", "text")


def named(one):
    return one.id


EXAMPLES = [(one, example) for one in ALL for example in one.worked]


@pytest.mark.parametrize(
    ("one", "example"), EXAMPLES, ids=[f"{one.id}-{place}" for place, (one, _) in enumerate(EXAMPLES)]
)
def test_worked_examples(one, example):
    """Every worked example gives what it says."""
    got = one.compute(**example.inputs)
    if isinstance(example.expected, str) or math.isinf(example.expected):
        assert got == example.expected
    else:
        assert got == pytest.approx(example.expected, abs=max(example.tolerance, 1e-12 * abs(example.expected)))
    assert example.source


@pytest.mark.parametrize("one", ALL, ids=named)
def test_record_and_function_agree(one):
    """Names, order and defaults of the declared inputs are those of the function; so are the inverses'."""
    name = one.id.replace("-", "_")
    assert one.compute.__name__ == name
    assert one.compute.__module__.endswith(f".{name}")
    parameters = inspect.signature(one.compute).parameters
    assert [wanted.name for wanted in one.inputs] == list(parameters)
    for wanted in one.inputs:
        default = parameters[wanted.name].default
        assert wanted.default == (None if default is inspect.Parameter.empty else default)
        assert wanted.meaning
        assert (wanted.words != ()) == (wanted.unit == "word")
    assert one.hazard in ("none", "live", "high-voltage")
    assert one.worked
    for target, inverse in getattr(one, "inverses", {}).items():
        expected = {"value", *(wanted.name for wanted in one.inputs)} - {target}
        assert set(inspect.signature(inverse).parameters) == expected


@pytest.mark.parametrize("one", ALL, ids=named)
def test_units_are_known(one):
    """Every unit is one that readings may carry."""
    for text in (getattr(one, "unit", ""), *(wanted.unit for wanted in one.inputs if wanted.unit not in KINDS)):
        unit(text)


@pytest.mark.parametrize("one", ALL, ids=named)
def test_docstring_promises(one):
    """A docstring tells meaning, inputs, errors and source, and the unit of a number."""
    text = inspect.getdoc(one.compute)
    assert text.startswith("Return ")
    assert "Raises OutOfRange" in text
    assert "Source: " in text
    for wanted in one.inputs:
        shared = "the parts" in text.lower() or "as for `pilot-voltage`" in text
        assert re.search(rf"\b{wanted.name}\b", text) or shared, wanted.name
    if hasattr(one, "unit"):
        assert f"[{one.unit or '-'}]" in text.split("\n\n")[0]


NUMERIC = [(one, wanted) for one in ALL for wanted in one.inputs if wanted.unit not in KINDS]


def with_value(one, name, value):
    """The inputs of the first example, one of them replaced."""
    return {**one.worked[0].inputs, name: value}


@pytest.mark.parametrize(("one", "wanted"), NUMERIC, ids=[f"{one.id}-{wanted.name}" for one, wanted in NUMERIC])
def test_bad_numbers_are_refused_by_name_and_range(one, wanted):
    """NaN, text, and what lies outside the range raise OutOfRange that names the input and what to type."""
    bad = [math.nan, "1,2,3", None, -math.inf]
    if wanted.low is not None:
        bad.append(math.nextafter(wanted.low, -math.inf))
    if wanted.high != math.inf:
        bad.append(math.inf)
    if wanted.high not in (None, math.inf):
        bad.append(math.nextafter(wanted.high, math.inf))
    for value in bad:
        with pytest.raises(OutOfRange) as caught:
            one.compute(**with_value(one, wanted.name, value))
        assert f"`{wanted.name}` = " in str(caught.value)
        assert ": type " in str(caught.value)
    with pytest.raises(OutOfRange, match=f"`{wanted.name}`.*is unknown on this car: find the maker's value"):
        one.compute(**with_value(one, wanted.name, "unknown"))


WORDS = [(one, wanted) for one in ALL for wanted in one.inputs if wanted.unit == "word"]


@pytest.mark.parametrize(("one", "wanted"), WORDS, ids=[f"{one.id}-{wanted.name}" for one, wanted in WORDS])
def test_bad_words_are_refused_with_the_good_ones(one, wanted):
    """A word that is none of the input's raises OutOfRange listing those it takes."""
    for value in ("nonsense", 3.0, {"kind": "ntc"}):
        with pytest.raises(OutOfRange, match=f"`{wanted.name}` = .*one of {', '.join(wanted.words)}"):
            one.compute(**with_value(one, wanted.name, value))


@pytest.mark.parametrize("one", ALL, ids=named)
def test_wrong_calls_are_refused_in_words(one):
    """Missing, unknown, doubled and surplus inputs raise WrongUse naming what the quantity takes."""
    inputs = one.worked[0].inputs
    with pytest.raises(WrongUse, match="has no input `nonsense`"):
        one.compute(**inputs, nonsense=1.0)
    with pytest.raises(WrongUse, match="are too many"):
        one.compute(*(0.0 if wanted.unit not in KINDS else "x" for wanted in one.inputs), 1.0)
    for wanted in one.inputs:
        if wanted.default is None:
            given = {name: value for name, value in inputs.items() if name != wanted.name}
            with pytest.raises(WrongUse, match=f"`{wanted.name}`.*is missing"):
                one.compute(**given)


def test_no_function_returns_nan_at_the_corners_of_its_ranges():
    """At every corner of the declared ranges there is a number, or a word that says why not."""
    for one in quantities():
        numeric = [wanted for wanted in one.inputs if wanted.unit not in KINDS]
        for end in ("low", "high"):
            corner = dict(one.worked[0].inputs)
            corner.update({wanted.name: getattr(wanted, end) for wanted in numeric if getattr(wanted, end) is not None})
            try:
                assert not math.isnan(one.compute(**corner)), (one.id, corner)
            except OutOfRange:
                continue


def test_every_file_is_found_and_unknown_names_are_told():
    """Discovery finds each file once; a name that is none raises WrongUse."""
    assert {one.id.replace("-", "_") for one in quantities()} == quantity_names()
    assert {one.id.replace("-", "_") for one in verdicts()} == verdict_names()
    assert not quantity_names() & verdict_names()
    assert quantity("pilot_voltage") is quantity("pilot-voltage")
    for lookup in (quantity, verdict):
        with pytest.raises(WrongUse, match="calc --list"):
            lookup("nonsense")


def test_one_quantity_is_imported_alone():
    """Asking for one quantity imports no other quantity and nothing heavy."""
    script = (
        "import sys; from diagtree.physics.quantity import quantity; quantity('pilot_current').compute(50.0);"
        "print(*sorted(name for name in sys.modules if 'quantities.' in name or name in "
        "('numpy', 'scipy', 'networkx', 'yaml', 'rich', 'click', 'diagtree.physics.units')))"
    )
    found = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert found.stdout.split() == ["diagtree.physics.quantities.pilot_current"]


def test_the_bound_of_an_unbounded_input_is_the_largest_number():
    """Only infinity lies beyond it."""
    assert math.nextafter(LARGEST, math.inf) == math.inf
