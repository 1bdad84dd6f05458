"""What is said with a tick, held against what was asked: `done` is no answer to a question, and nobody holds no key."""

from __future__ import annotations

from diagtree.walk.prompts import Tick

_NOBODY = frozenset({"nobody", "no one", "noone", "no-one", "none", "no", "nothing", "-", "--", "?", ".", "x", "n/a"})


def trouble(tick: Tick, says: str) -> str:
    """Return what is wrong with an answer to `tick.says`, and what is expected; "" where it can be taken."""
    text = says.strip()
    if not tick.says:
        return ""
    if text.casefold() == tick.word:
        then = "" if tick.good else f" first, then `{tick.word}`"
        return f"`{text}` does not say {tick.says}; type that{then}"
    if tick.says.casefold().startswith("who ") and text.casefold() in _NOBODY:
        return f"`{text}`: somebody must; type {tick.says}, by role"
    return ""
