"""Events of a round to plain data for storage, and back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, fields
from typing import Any

from diagtree.errors import WrongUse
from diagtree.quiz.events import Event

FORMAT = 1  # of the stored form
_TYPES: dict[str, type[Event]] = {kind.__name__: kind for kind in Event.__args__}


def event_to_json(event: Event) -> dict[str, Any]:
    """Return an event as plain data for JSON."""
    return {"type": type(event).__name__, "v": FORMAT, **asdict(event)}


def event_from_json(data: Mapping[str, Any]) -> Event:
    """Return the event that `data` was made from. Raises WrongUse where this program does not know its form."""
    kind = _TYPES.get(str(data.get("type")))
    if kind is None or data.get("v") != FORMAT:
        raise WrongUse(
            f"the round holds an event `{data.get('type')}` of form {data.get('v')}, which another version wrote; "
            "deal a new round"
        )
    known = {item.name for item in fields(kind) if item.init}
    try:
        return kind(**{name: _frozen(value) for name, value in data.items() if name in known})
    except TypeError as error:
        raise WrongUse(f"an event `{data.get('type')}` of the round cannot be read: {error}; deal a new one") from None


def _frozen(value: Any) -> Any:
    return tuple(_frozen(inner) for inner in value) if isinstance(value, list | tuple) else value
