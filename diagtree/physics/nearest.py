"""The nearest known words to a mistyped one, for messages."""

from __future__ import annotations

from collections.abc import Iterable

MOST = 4  # so many are named where several are as near


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """Return "; did you mean `x`?" for the nearest of `known`, or "" where none is near. Empty words are never near.

    All that are equally near are named, and those that begin with the word: `slow` may be `slow-ac` or `slow-dc`.
    """
    from difflib import SequenceMatcher, get_close_matches

    choices = sorted({choice for choice in known if choice})
    lowered = {choice.lower(): choice for choice in reversed(choices)}
    typed = word[:80].lower()
    near = get_close_matches(typed, list(lowered), n=MOST, cutoff=0.6)
    ratios = [SequenceMatcher(None, one, typed).ratio() for one in near]
    alike = sorted(one for one, ratio in zip(near, ratios, strict=True) if ratio == ratios[0])
    begun = sorted(one for one in lowered if typed and one.startswith(typed if len(typed) > 3 else f"{typed}-"))
    found = [f"`{lowered[one]}`" for one in dict.fromkeys((*alike, *begun))][:MOST]
    if not found:
        return ""
    *others, last = found
    return f"; did you mean {', '.join(others)} or {last}?" if others else f"; did you mean {last}?"
