"""The nearest known word to a mistyped one, for messages."""

from __future__ import annotations

from collections.abc import Iterable


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """Return "; did you mean `x`?" for the nearest of `known`, or "" where none is near. Empty words are never near."""
    from difflib import get_close_matches

    choices = sorted({choice for choice in known if choice})
    lowered = {choice.lower(): choice for choice in reversed(choices)}
    near = get_close_matches(word[:80].lower(), list(lowered), n=1, cutoff=0.6)
    return f"; did you mean `{lowered[near[0]]}`?" if near else ""
