"""Compute a quantity of charging at the bench, with its formula and source."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import click

from diagtree.errors import WrongUse
from diagtree.terminal.commands import FINE
from diagtree.terminal.options import json_option
from diagtree.terminal.setting import Setting

if TYPE_CHECKING:
    from diagtree.physics.quantity import Facts, Quantity
    from diagtree.physics.verdict import Verdict

SHORT = {
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
@click.option("--list", "as_list", is_flag=True, help="Every quantity with its inputs, one line each.")
@json_option
@click.pass_obj
def calc(setting: Setting, words: tuple[str, ...], as_list: bool, as_json: bool) -> int:
    """Compute QUANTITY from its inputs: `calc pilot --state C --series 300`, `calc ntc --temperature 18 --sensor ...`.

    Readings take units and prefixes (1.2 k, 230 V); the input's own unit is assumed. A sensor is typed as
    `ntc r25=10000 beta=3435`, or named in the car's profile: `--vehicle petrel-2 --sensor inlet.ac_sensor`.
    """
    from diagtree.physics.typed_inputs import values
    from diagtree.terminal.views import calc as view

    if as_list:
        return _list(setting, as_json)
    if not words or words[0].startswith("--"):
        raise WrongUse("name a quantity first, `diagtree calc pilot-voltage --state C`; `calc --list` names them all")
    one = named(words[0])
    given = typed(words[1:])
    # Not an option of click's: the cable check has an input of this name, and a value may be several words.
    vehicle = None if any(item.name == "vehicle" for item in one.inputs) else given.pop("vehicle", None)
    inputs = values(one.inputs, given, one.id, _facts(setting, vehicle))
    found = one.compute(**inputs)
    if as_json:
        setting.document(view.document(one, found, inputs))
    else:
        for line in view.lines(one, found, inputs):
            setting.say(line)
    return FINE


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
    known = [one.replace("_", "-") for one in (*quantity_names(), *verdict_names(), *SHORT)]
    hint = did_you_mean(word, known)
    raise WrongUse(f"there is no quantity `{word}`{hint}; `diagtree calc --list` names them all")


def typed(words: Sequence[str]) -> dict[str, str]:
    """Return what was typed for each input; a value may be several words. Raises WrongUse for a stray or twice."""
    found: dict[str, list[str]] = {}
    current: list[str] | None = None
    for word in words:
        if word.startswith("--"):
            name, mark, value = word.removeprefix("--").partition("=")
            if name.replace("-", "_") in {one.replace("-", "_") for one in found}:
                raise WrongUse(f"`--{name}` is given twice; give each input once")
            current = found[name] = [value] if mark else []
        elif current is None:
            raise WrongUse(f"`{word}` stands alone; name the input it is for, like `--state C`")
        else:
            current.append(word)
    return {name: " ".join(parts) for name, parts in found.items()}


def _facts(setting: Setting, vehicle: str | None) -> Facts:
    return {} if vehicle is None else setting.library().vehicle(vehicle).facts


def _list(setting: Setting, as_json: bool) -> int:
    from diagtree.physics.quantity import quantities
    from diagtree.physics.verdict import verdicts
    from diagtree.terminal.views import calc as view

    known: tuple[Quantity | Verdict, ...] = (*quantities(), *verdicts())
    if as_json:
        setting.document({"schema": 1, "quantities": [view.list_row(one) for one in known]})
    else:
        for one in known:
            setting.say(view.list_line(one))
    return FINE


COMMAND = calc
