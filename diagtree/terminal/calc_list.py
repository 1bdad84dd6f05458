"""What the bench calculator knows, and lines laid out for the screen."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from diagtree.terminal.commands import FINE

if TYPE_CHECKING:
    from diagtree.physics.quantity import Quantity
    from diagtree.physics.verdict import Verdict
    from diagtree.terminal.setting import Setting

_BEHIND = " " * 11  # where a result's own lines begin


def say_lines(setting: Setting, lines: Iterable[str]) -> None:
    """Print lines, wrapped at words where they go to a screen."""
    import textwrap

    for line in lines:
        deep = _BEHIND if line.startswith("  ") else "  "
        wrapped = setting.columns and textwrap.wrap(
            line, setting.columns, subsequent_indent=deep, break_on_hyphens=False
        )
        for part in wrapped or [line]:
            setting.say(part)


def print_list(setting: Setting, as_json: bool) -> int:
    """Print every quantity, verdict and observable, one a line."""
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
