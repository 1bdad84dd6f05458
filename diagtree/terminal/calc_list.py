"""What the bench calculator knows, and lines laid out for the screen."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any, TypeAlias

from diagtree.errors import WrongUse
from diagtree.terminal.commands import FINE

if TYPE_CHECKING:
    from diagtree.physics.quantity import Quantity
    from diagtree.physics.verdict import Verdict
    from diagtree.terminal.setting import Setting

Listed: TypeAlias = "tuple[str, dict[str, Any]]"
"""A line for a person and a row for a machine."""

CIRCUITS = ("pilot", "proximity")

HEADS = {
    "quantities": "Quantities, for `calc NAME` and for limits in trees (inputs in brackets may be left out)",
    "defects": "Defects that `calc defect pilot` and `calc defect proximity` tell apart",
    "observables": "Observables: what can be measured on a car, for `of:` in trees",
}

_BEHIND = " " * 11  # where a result's own lines begin


def say_lines(setting: Setting, lines: Iterable[str]) -> None:
    """Print lines, wrapped at words where they go to a screen."""
    columns = setting.columns
    if columns is None:
        for line in lines:
            setting.say(line)
        return
    import textwrap

    for line in lines:
        deep = _BEHIND if line.startswith("  ") else "  "
        for part in textwrap.wrap(line, columns, subsequent_indent=deep, break_on_hyphens=False) or [""]:
            setting.say(part)


def print_list(setting: Setting, words: Sequence[str], as_json: bool) -> int:
    """Print every quantity, verdict, defect and observable, one a line; with words, those that have all of them."""
    from diagtree.physics.defects.defect import HEALTHY, defects
    from diagtree.physics.observable import observables
    from diagtree.physics.quantity import quantities
    from diagtree.physics.verdict import verdicts
    from diagtree.terminal.views import calc as view

    known: tuple[Quantity | Verdict, ...] = (*quantities(), *verdicts())
    formulas = [(view.list_line(one), view.list_row(one)) for one in known]
    seen = [pair for family in observables() for pair in view.observable_rows(family)]
    causes = [view.defect_row(circuit, one) for circuit in CIRCUITS for one in defects(circuit) if one.id != HEALTHY]
    lists = {
        "quantities": _with(formulas, words),
        "defects": _with(causes, words),
        "observables": _with(seen, words),
    }
    if words and not any(lists.values()):
        raise WrongUse(f"nothing in the list has `{' '.join(words)}`; `diagtree calc --list` prints all of it")
    if as_json:
        setting.document({"schema": 1} | {name: [row for _, row in rows] for name, rows in lists.items()})
        return FINE
    for name, rows in lists.items():
        if rows:
            say_lines(setting, (f"{HEADS[name]}:",))
        say_lines(setting, (line for line, _ in rows))
    if not words:
        setting.say("Also: calc card VEHICLE; `calc --list WORD` lists less.")
    return FINE


def _with(rows: Iterable[Listed], words: Sequence[str]) -> list[Listed]:
    return [(line, row) for line, row in rows if all(word.lower() in line.lower() for word in words)]
