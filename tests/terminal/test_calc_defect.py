"""`calc defect` at the bench: verdict, machine face, and words for what is typed wrongly."""

from __future__ import annotations

import io
import json

import pytest

from diagtree.errors import DiagtreeError, OutOfRange, WrongUse
from diagtree.report.quantities_page import CAUTIONS
from diagtree.terminal.calc_defect import run
from diagtree.terminal.main import main
from diagtree.terminal.setting import Setting


def said(*words: str, as_json: bool = False) -> str:
    setting = Setting(out=io.StringIO(), err=io.StringIO())
    assert run(setting, words, as_json) == 0
    return setting.out.getvalue()


def test_the_caution_comes_first_and_the_defect_is_named_with_its_interval():
    """A pilot measured on a live circuit."""
    lines = said("pilot", "--station-end", "C=6.82", "C-=-11.9", "--vehicle-end", "C=5.3").splitlines()
    assert lines[0] == f"CAUTION: {CAUTIONS['live']}"
    assert lines[1].startswith(
        "Control pilot: series resistance in the loop of pilot and protective earth: 293 ohm (95 %"
    )
    assert "no proof that the circuit, or the car, is safe" in lines[-1]


def test_the_first_word_may_be_the_command_itself():
    """`calc` may hand over all its words."""
    assert said("defect", "pilot", "--station-end", "C=6") == said("pilot", "--station-end", "C=6")


def test_the_machine_face_has_the_keys_of_calc_and_every_explanation():
    """One document; infinity is a word."""
    found = json.loads(
        said(
            "proximity",
            "--inlet",
            "ccs2",
            "--cable",
            "220",
            "--pin",
            "empty=4.67",
            "--plug",
            "latched=OL",
            as_json=True,
        )
    )
    assert {"quantity", "value", "unit", "source", "inputs"} <= set(found)
    assert (found["quantity"], found["value"], found["verdict"]) == ("proximity-defect", "plug-resistor-open", "named")
    assert found["caution"] == CAUTIONS["live"]
    assert found["inputs"]["resistance(proximity, plug)"] == "inf"
    assert [one["rank"] for one in found["explanations"]] == list(range(1, len(found["explanations"]) + 1))
    assert found["explanations"][0]["foretold"]["resistance(proximity, plug)"] == "inf"


def test_cannot_tell_says_between_which_and_what_to_read_next():
    """One reading of state B is not much."""
    text = said("pilot", "--station-end", "b=8.98")
    assert "cannot tell" in text.splitlines()[1]
    assert "these readings do not tell apart" in text
    assert "next     voltage(pilot, station end, state C" in text


def test_units_and_the_average_under_the_wave_are_typed_as_a_technician_does():
    """`8980 m` volts are 8.98 V; `C@27` is the average at 27 % duty."""
    assert "= 8.98 V" in said("pilot", "--station-end", "B=8980 mV")
    assert "average at 26.667 percent" in said("pilot", "--station-end", "C@26.667=-7.2")


def test_a_better_meter_gives_a_narrower_interval():
    """The meter's accuracy is the technician's own: typed, or the house's by its name."""

    def width(*meter: str) -> float:
        found = json.loads(said("pilot", "--station-end", "C=6.82", "--vehicle-end", "C=5.3", *meter, as_json=True))
        first = found["explanations"][0]
        return float(first["high"] - first["low"])

    assert width("--meter", "0.05%+1") < width() < width("--meter", "2%+5")
    assert width("--meter", "multimeter") == pytest.approx(width())


BAD = [
    ([], "pilot or proximity"),
    (["pilt"], "did you mean `pilot`"),
    (["pilot"], "no reading was given"),
    (["pilot", "C=3"], "`C=3` stands alone"),
    (["pilot", "--station-end"], "no reading was given"),
    (["pilot", "--station-ends", "C=3"], "did you mean `station-end`"),
    (["pilot", "--station-end", "C"], "like `C=6.8`"),
    (["pilot", "--station-end", "C="], "like `C=6.8`"),
    (["pilot", "--station-end", "Z=3"], "one of A, B, C, D"),
    (["pilot", "--station-end", "E=0"], "one of A, B, C, D"),
    (["pilot", "--vehicle-end", "A=0"], "one of B, C, D"),
    (["pilot", "--station-end", "C=nan"], "-20 to 20 V"),
    (["pilot", "--station-end", "C=inf"], "-20 to 20 V"),
    (["pilot", "--station-end", "C=OL"], "`--station-end C` = infinity"),
    (["pilot", "--station-end", "C=1,2,3"], "-20 to 20 V"),
    (["pilot", "--station-end", "C=25"], "`--station-end C` = 25 V is out of range"),
    (["pilot", "--station-end", "C=3 ohm"], "-20 to 20 V"),
    (["pilot", "--station-end", "C=3", "c+=4"], "given twice"),
    (["pilot", "--station-end", "C@120=3"], "0 to 100 percent"),
    (["pilot", "--station-end", "C@x=3"], "0 to 100 percent"),
    (["pilot", "--station-end", "C-@20=3"], "no state to read"),
    (["pilot", "--station-end", "C=6", "--meter", "x"], "no meter of the house"),
    (["pilot", "--station-end", "C=6", "--meter", "-1%+2"], "`--meter -1%+2`"),
    (["pilot", "--station-end", "C=6", "--meter", "a+b"], "like `0.5%+2`"),
    (["pilot", "--station-end", "C=6", "--meter"], "takes one value"),
    (["proximity", "--pin", "latched=1.5"], "type-1, ccs1, type-2, ccs2"),
    (["proximity", "--inlet", "type-2", "--pin", "latched=1.5"], "100, 220, 680 or 1500"),
    (["proximity", "--inlet", "type-2", "--cable", "300", "--pin", "latched=1.5"], "no coding"),
    (["proximity", "--inlet", "type-2", "--cable", "nan", "--pin", "latched=1.5"], "`--cable`"),
    (["proximity", "--inlet", "type-1", "--cable", "220", "--pin", "latched=1.5"], "type 2 plugs"),
    (["proximity", "--inlet", "type-1", "--pin", "open=1.5"], "empty, latched, unlatched"),
    (["proximity", "--inlet", "type-1", "--plug", "empty=150"], "latched, unlatched"),
    (["proximity", "--inlet", "type-1", "--plug", "latched=-3"], "`--plug latched`"),
    (["proximity", "--inlet", "type-1", "--pin", "latched=31"], "0 to 30 V"),
    (["proximity", "--inlet", "type-2", "--cable", "220", "--pin", "pressed=2"], "no latch button"),
]


@pytest.mark.parametrize(("words", "told"), BAD, ids=[" ".join(words) or "nothing" for words, _ in BAD])
def test_what_is_typed_wrongly_is_told_by_name_and_range(words, told):
    """An error of ours, in one line, that names the input and what to type."""
    with pytest.raises(DiagtreeError) as caught:
        said(*words)
    assert isinstance(caught.value, WrongUse | OutOfRange)
    assert told in str(caught.value)
    assert "\n" not in str(caught.value)


def test_calc_hands_over_to_it(capsys):
    """Through the command line: status 0 with one document, status 2 with a word on standard error."""
    assert main(["calc", "defect", "pilot", "--station-end", "C=6.82", "C-=-11.9", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["value"] == "series-resistance"
    assert main(["calc", "defect", "pilot", "--station-end", "Z=1"]) == 2
    assert "one of A, B, C, D" in capsys.readouterr().err
