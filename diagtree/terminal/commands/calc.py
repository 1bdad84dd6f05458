"""Compute a quantity of charging at the bench, with its formula and source."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import click

from diagtree.errors import WrongUse
from diagtree.terminal.commands import FINDINGS, FINE
from diagtree.terminal.options import json_option
from diagtree.terminal.setting import Setting

if TYPE_CHECKING:
    from diagtree.physics.quantity import Quantity
    from diagtree.physics.verdict import Verdict

SHORT = {
    "absence": "absence-of-voltage",
    "discharge": "discharge-time",
    "dtc": "trouble-code",
    "insulation": "insulation-minimum",
    "pilot": "pilot-voltage",
    "power": "ac-power",
    "pp": "proximity-voltage",
    "proximity": "proximity-voltage",
    "sensor": "sensor-resistance",
}
"""Short names of the quantities asked for most."""


@click.command("calc", context_settings={"ignore_unknown_options": True})
@click.argument("words", nargs=-1, type=click.UNPROCESSED, metavar="QUANTITY [--INPUT VALUE]...")
@click.option("--list", "as_list", is_flag=True, help="Every quantity, defect and observable; words narrow it.")
@json_option
@click.pass_obj
def calc(setting: Setting, words: tuple[str, ...], as_list: bool, as_json: bool) -> int:
    """Compute QUANTITY from its inputs: `calc pilot --state C --series 300`, `calc ntc --temperature 18 --sensor ...`.

    Readings take units and prefixes (1.2 k, 230 V); the input's own unit is assumed. A sensor is typed as
    `ntc r25=10000 beta=3435`, or named in the car's profile: `--vehicle petrel-2 --sensor inlet.ac_sensor`.

    \b
    --meter multimeter          the numbers are readings of this meter
    --volts "8.1 +/- 0.05"      a reading with its uncertainty (k = 2)
    --reading "12.4 k"          a reading to set against value and limits
                                (or --volts, --ohms ... where no input is)
    --solve series --value 6.8  the other way: which input gives this value
    --csv FILE                  many rows, inputs' names in the header
    --csv-out FILE              the rows' results as CSV (- is the screen)
    calc card VEHICLE           the car's bench card, one sheet
                                (--format text|markdown|html --out FILE)
    calc defect ...             which defect explains readings

    Status 1 where a voltage is not below what counts as hazardous: a proof that failed.
    """
    if as_list:
        from diagtree.terminal.calc_list import print_list

        return print_list(setting, words, as_json)
    if not words or words[0].startswith("--"):
        raise WrongUse("name a quantity first, `diagtree calc pilot-voltage --state C`; `calc --list` names them all")
    if words[0] == "card":
        from diagtree.terminal.calc_card import run

        return run(setting, words[1:], as_json)
    if words[0] == "defect":
        from diagtree.terminal import calc_defect

        return calc_defect.run(setting, words[1:], as_json)
    return _compute(setting, named(words[0]), words[1:], as_json)


def _compute(setting: Setting, one: Quantity | Verdict, words: Sequence[str], as_json: bool) -> int:
    from diagtree.terminal.calc_given import given
    from diagtree.terminal.views import calc as view

    found = given(setting, one, words)
    if "csv" in found.options:
        from diagtree.terminal.calc_csv import run

        return run(found, as_json)
    for option in ("csv_out", "overwrite"):
        if option in found.options:
            raise WrongUse(f"`--{option.replace('_', '-')}` goes with `--csv FILE`: name the file of the readings")
    result = found.results(found.inputs)
    if as_json:
        setting.document(view.document(result))
    else:
        from diagtree.terminal.calc_list import say_lines

        say_lines(setting, view.lines(result))
    return FINDINGS if result.hazardous else FINE


def named(word: str) -> Quantity | Verdict:
    """Return the quantity or verdict called `word`, short names too. Raises WrongUse with the nearest name."""
    from diagtree.physics.nearest import did_you_mean
    from diagtree.physics.quantity import quantity, quantity_names
    from diagtree.physics.verdict import verdict, verdict_names

    name = SHORT.get(word.lower(), word.lower()).replace("-", "_")
    if name in quantity_names():
        return quantity(name)
    if name in verdict_names():
        return verdict(name)
    known = [one.replace("_", "-") for one in (*quantity_names(), *verdict_names(), *SHORT, "card", "defect")]
    hint = did_you_mean(word, known)
    raise WrongUse(f"there is no quantity `{word}`{hint}; `diagtree calc --list` names them all")


COMMAND = calc
