"""Which dangers somebody's own words tell of: to ask once more where the first look found nothing.

A plain list of words with their endings. Too much is heard rather than too little: it costs one question.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache

from diagtree.records import dataclass
from diagtree.walk.dangers import DANGERS


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


_PART = r"(?:plugs?|sockets?|inlets?|cables?|leads?|connectors?)"
_WORDS: dict[str, str] = {
    "burnt": r"burn(?:s|t|ed|ing)?|scorch\w*|melt(?:s|ed|ing)?|molten|charred|singed|brown|blackened|discolou?red"
    r"|smell(?:s|ed|ing|y)?|smelt|stinks?|stank|spark(?:s|ed|ing|y)?|arcing",
    "cracked": rf"crack(?:s|ed)?|frayed|bare (?:wires?|metal|copper)|exposed (?:wires?|metal|copper)"
    rf"|(?:broken|damaged|split|torn|chipped) {_PART}|{_PART} (?:is|are|was) (?:broken|damaged|split|torn|chipped)",
    "wet": r"wet(?! weather)|water|damp|soak(?:ed|ing)|moist|moisture|mud|muddy|dripping|puddles?|drenched"
    r"|(?:full of|filled with) (?:\w+ )?(?:rain|snow|sleet)|rained (?:into|onto)",
    "flooded": r"flood(?:s|ed|ing)?|submerged|waded|wading|under ?water|drowned"
    r"|(?:stood|standing|stuck|parked|drove|driven|driving|drown\w*)"
    r" (?:\w+ ){0,3}(?:water|puddles?)",
    "crash": r"crash(?:es|ed)?|accident|collision|collided|rear ended|bumped"
    r"|(?:hit|struck) (?:(?:a|an|the|my|our|from) )?(?:kerb|curb|rock|stone|pothole|wall|post|tree|deer|below|behind)",
    "smoke": r"smok(?:e|es|ed|ing|y)|hiss(?:es|ed|ing)?|fumes?|flames?|fire|steam(?:s|ed|ing)?"
    r"|sweet(?:ish)? smell\w*|smell\w* sweet(?:ish)?|hot battery|battery (?:is |was |gets |got |feels )?(?:very )?hot",
    "shock": r"shock(?:s|ed|ing)?(?! absorber)|tingl(?:e|es|ed|ing|y)|zap(?:s|ped)?|electrocuted",
    "insulation-warning": r"(?:insulation|isolation) (?:warning|fault|error|message|failure)s?"
    r"|high voltage (?:warning|fault|error|message)s?",
}
# A negation reaches a danger's word only over these: with any other word between, the question is asked.
_BETWEEN = _words(
    "a an any the of or nor sort kind sign signs trace traces visible actual smell smells smoke feel feels felt see "
    "saw seen notice noticed get gets got getting give gives gave been be was is at all ever have had seem seems look "
    "looks real single hint electric me us him her anyone anybody"
)
_NOT = _words(
    "no not never without nothing none neither nobody didnt doesnt dont isnt wasnt arent werent hasnt havent hadnt "
    "cant couldnt wont"
)
_TOKEN = re.compile(r"[^\W_]+|[.,;:!?()\n]")


@dataclass(frozen=True, slots=True)
class Told:
    """A danger (of `dangers.DANGERS`) that words tell of, and those words as they were typed."""

    danger: str
    words: tuple[str, ...]


def dangers_told(texts: Iterable[str]) -> tuple[Told, ...]:
    """Return the dangers that the texts tell of, in the order of the first look; what is denied is not told."""
    heard: dict[str, list[str]] = {}
    for text in texts:
        for danger, word in _heard(text):
            heard.setdefault(danger, []).append(word)
    return tuple(Told(one.id, tuple(dict.fromkeys(heard[one.id]))) for one in DANGERS if one.id in heard)


@lru_cache(maxsize=256)
def _heard(text: str) -> tuple[tuple[str, str], ...]:
    # An apostrophe parts no word, a hyphen or slash does.
    plain = re.sub(r"[-/]", " ", re.sub(r"[’'`´]", "", text))
    plain = re.sub(r"[^\S\n]+", " ", plain)
    found = [
        (hit.start(), hit.end(), danger, hit[0])
        for danger, pattern in _PATTERNS for hit in pattern.finditer(plain)
    ]  # fmt: skip
    places = [(start, end) for start, end, _, _ in found]
    return tuple((danger, word) for start, _, danger, word in sorted(found) if not _denied(plain, start, places))


def _denied(plain: str, start: int, dangers: list[tuple[int, int]]) -> bool:
    """Return whether the word at `start` is denied: "no smoke", "never any smoke or burnt smell"."""
    for token in reversed(list(_TOKEN.finditer(plain, 0, start))):
        word = token[0].casefold()
        if word in _NOT:
            return True
        if word not in _BETWEEN and not any(begin <= token.start() < end for begin, end in dangers):
            return False
    return False


_PATTERNS = tuple((danger, re.compile(rf"\b(?:{pattern})\b", re.IGNORECASE)) for danger, pattern in _WORDS.items())
