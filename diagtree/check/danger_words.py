"""Dangers that a text can name, and the words of the cautions that answer them. Read by `rules/danger_without_caution`.

Words are English, as the knowledge is; a caution need not be clever, it must be about the danger. Source of the list:
common practice in workshops that work on high-voltage cars.
"""

from __future__ import annotations

import re

from diagtree.records import dataclass


@dataclass(frozen=True, slots=True)
class DangerWords:
    """One danger: how texts name it, how cautions speak of it, and a caution to begin with."""

    id: str
    named: re.Pattern[str]
    answered: re.Pattern[str]
    caution: str


def _words(pattern: str) -> re.Pattern[str]:
    return re.compile(pattern, re.IGNORECASE)


# A sentence that tells to keep away from something is itself a caution, wherever it stands.
KEEPS_AWAY = _words(r"\b(?:keep|no|not|never|nobody|nothing|off|away|clear of|without touching)\b")

ORANGE = _words(r"\borange\b|\bhigh[- ]voltage\b|\bHV\b|\bDC ?\+|\bDC ?[-−](?=\W|$)")

DANGERS = (
    DangerWords(
        "burnt",
        _words(r"\b(?:burnt|burned|melted|scorched|charred|smok(?:e|ing))\b"),
        _words(r"\b(?:plug in|unplug\w*|charg(?:e|ing)|stop|smoke|smell|fire|burn\w*|heat|hot|touch\w*)\b"),
        "Do not plug in again; stop at smell or smoke.",
    ),
    DangerWords(
        "water",
        _words(r"\b(?:water|wet|flooded|soaked)\b"),
        _words(r"\b(?:water|wet|dry|plug in|unplug\w*|touch|made safe|proven dead|high[- ]voltage|orange)\b"),
        "Do not plug in while it is wet; touch no orange part.",
    ),
    DangerWords(
        "airbag",
        _words(r"\bairbags?\b|\bbelt tensioners?\b"),
        _words(r"\bairbags?\b|\bbelt\b|\b12 ?V\b"),
        "Part airbag connectors only with 12 V off, after the maker's waiting time.",
    ),
    DangerWords(
        "lift",
        _words(
            r"\b(?:lift|raise|jack|hoist)(?:ed)?\b[^.;]{0,15}\b(?:car|vehicle)\b|\bjack(?:ed)? up\b|"
            r"\b(?:car|vehicle)\b[^.;]{0,15}\b(?:lifted|raised|jacked|on (?:the|a) (?:lift|hoist|ramp))\b|"
            r"\bon (?:the|a) (?:lift|hoist|ramp)\b|\bunder the (?:lifted|raised) car\b"
        ),
        _words(r"\b(?:lift\w*|jack\w*|hoist|stands?|slip\w*|secured?|maker's points)\b"),
        "Lift the car at the maker's points only, and secure it before anybody reaches under it.",
    ),
    DangerWords(
        "high voltage",
        ORANGE,
        _words(
            r"\b(?:orange|high[- ]voltage|HV|made safe|proven dead|danger to life|gloves?|mains|touch\w*|"
            r"qualified|keep (?:\w+ )?off|nothing but|pins)\b|\d ?V\b"
        ),
        "High voltage: only on a car that is made safe and proven dead.",
    ),
    DangerWords(
        "12 V off",
        _words(
            r"\b(?:disconnect|unclamp|remove|take)\b[^.;]{0,40}\b12[- ]?V (?:battery|supply|clamp)|"
            r"\bclamp (?:off|from) the 12[- ]?V battery"
        ),
        _words(r"\b(?:12[- ]?V|clamp|negative|airbags?|memory|codes?|key|short)\b"),
        "Negative clamp first; wait as the maker says before airbag connectors; keep the key out of the car.",
    ),
)
