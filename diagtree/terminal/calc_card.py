"""`calc card VEHICLE`: the bench card of a car, printed or written to a file."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from diagtree.errors import WrongUse
from diagtree.physics.nearest import did_you_mean
from diagtree.terminal.commands import FINE

if TYPE_CHECKING:
    from diagtree.terminal.setting import Setting

_OPTIONS = ("format", "out", "overwrite")


def run(setting: Setting, words: Sequence[str], as_json: bool) -> int:
    """Print or write the card. Raises WrongUse for an unknown car, format or option."""
    from dataclasses import asdict

    from diagtree.report.bench_card import bench_card
    from diagtree.report.card import formats
    from diagtree.terminal.calc_given import typed
    from diagtree.terminal.format_choice import chosen_format
    from diagtree.terminal.write_whole import write_whole

    car = words[0] if words and not words[0].startswith("--") else None
    options = typed(words[1:] if car is not None else words)
    for name in options:
        if name not in _OPTIONS:
            known = ", ".join(f"--{one}" for one in _OPTIONS)
            raise WrongUse(f"`calc card` has no option `--{name}`{did_you_mean(name, _OPTIONS)}; it takes {known}")
    if options.get("overwrite"):
        raise WrongUse(f"`--overwrite` takes no value; `{options['overwrite']}` stands behind it")
    library = setting.library()
    if car is None:
        raise WrongUse(f"name the car: `diagtree calc card VEHICLE`; profiles here: {', '.join(library.profiles)}")
    card = bench_card(library.vehicle(car), library.catalogue(car))
    out = options.get("out")
    if out == "":
        raise WrongUse("name the file behind `--out`")
    if as_json:
        if out or "format" in options:
            raise WrongUse("`--json` goes to standard output by itself: leave `--format` and `--out` out")
        setting.document({"schema": 1, "caution": card.cautions[0], **asdict(card)})
        return FINE
    text = chosen_format(formats(), options.get("format"), out).render(card)
    if out is None:
        for line in text.splitlines():
            setting.say(line)
    else:
        write_whole(Path(out), text, overwrite="overwrite" in options)
        setting.talk(f"{out}: the bench card of {card.vehicle}")
    return FINE
