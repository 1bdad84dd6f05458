"""Canonical JSON and the hash chain of a case. Pure.

Each event's hash covers the one before, so a change in the middle shows in every later hash. The chain makes a case
tamper-*evident*, not tamper-proof: whoever owns the file can rebuild the whole chain. The anchor is the head as it was
printed on the job record.
"""

from __future__ import annotations

import hashlib
import json
import math
from collections.abc import Callable, Iterable, Mapping
from typing import Any

from diagtree.errors import StoreError, WrongUse

_FORMAT = "diagtree case 1"
_DEEPEST = 64  # far beyond any event; keeps junk from running into Python's own limit


def canonical(value: object) -> str:
    """Return `value` as JSON that is the same for equal data: as `compact`, and keys sorted."""
    return json.dumps(_plain(value, "$", 0), sort_keys=True, separators=(",", ":"))


def compact(value: object) -> str:
    """Return `value` as JSON to be kept: keys in their order, no blanks, ASCII.

    ASCII, because a typed text may hold undecodable bytes (lone surrogates), and it must be kept all the same.
    Raises WrongUse, naming the place, for what JSON cannot give back as it was.
    """
    return json.dumps(_plain(value, "$", 0), separators=(",", ":"))


def parsed(text: object) -> dict[str, Any] | None:
    """Return the JSON object that `text` holds; None if it holds none, as in a damaged row."""
    try:
        value = json.loads(text) if isinstance(text, str) else None
    except (ValueError, RecursionError):
        return None
    return value if isinstance(value, dict) else None


def whole(rows: Iterable[tuple[int, object]], trouble: Callable[[int], str]) -> list[dict[str, Any]]:
    """Return the events that `rows` (number, text) hold, none left out.

    Raises StoreError, in the words that `trouble` has for its number, at the first that is missing or is no event.
    """
    events: list[dict[str, Any]] = []
    for number, text in rows:
        event = parsed(text)
        if event is None or number != len(events):
            raise StoreError(trouble(len(events)))
        events.append(event)
    return events


def sha256(data: bytes) -> str:
    """Return the SHA-256 of `data` in hexadecimal."""
    return hashlib.sha256(data).hexdigest()


def opening_hash(
    case_id: str, tree: str, knowledge: str, opened: str, by: str | None, meta: Mapping[str, Any]
) -> str:
    """Return the hash that a case's chain begins with: SHA-256 of the canonical JSON of the list of these.

    knowledge : digest of the set of texts.
    """
    return sha256(canonical([_FORMAT, case_id, tree, knowledge, opened, by, meta]).encode("ascii"))


def event_hash(previous: str, seq: int, at: str | None, event: Mapping[str, Any]) -> str:
    """Return the hash of event number `seq` after the hash `previous`: SHA-256 of the list's canonical JSON."""
    return sha256(canonical([previous, seq, at, event]).encode("ascii"))


def _plain(value: object, where: str, depth: int) -> Any:
    if depth > _DEEPEST:
        raise WrongUse(f"an event is nested deeper than {_DEEPEST} levels")
    if value is None or isinstance(value, bool | int | str):
        return value
    if isinstance(value, float):
        if not math.isfinite(value):
            raise WrongUse(f"{where}={value!r} cannot be kept: expected a finite number")
        return value
    if isinstance(value, Mapping):
        return {_key(key, where): _plain(item, f"{where}.{key}", depth + 1) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(item, f"{where}[{index}]", depth + 1) for index, item in enumerate(value)]
    raise WrongUse(f"{where}={value!r} ({type(value).__name__}) cannot be kept: expected plain JSON data")


def _key(key: object, where: str) -> str:
    if not isinstance(key, str):
        raise WrongUse(f"{where} has the key {key!r} ({type(key).__name__}); expected text")
    return key
