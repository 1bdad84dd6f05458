"""Events to plain data for the case store, and back. Old events are never rewritten; this reads them all."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, fields
from math import inf
from typing import Any

from diagtree.errors import WrongUse
from diagtree.walk.events import Event

FORMAT = 1  # of the stored form
_TYPES: dict[str, type[Event]] = {kind.__name__: kind for kind in Event.__args__}


def event_to_json(event: Event) -> dict[str, Any]:
    """Return an event as plain data for JSON."""
    return {"type": type(event).__name__, "v": FORMAT, **_finite(asdict(event))}


def event_from_json(data: Mapping[str, Any]) -> Event:
    """Return the event that `data` was made from. Raises WrongUse where this program does not know its form."""
    kind = _TYPES.get(str(data.get("type")))
    if kind is None or data.get("v") != FORMAT:
        raise WrongUse(
            f"the case holds an event `{data.get('type')}` of form {data.get('v')}, which a newer program wrote; "
            "update this one"
        )
    known = {item.name for item in fields(kind)}
    read = {True: _number, False: _frozen}
    return kind(**{name: read[name in _NUMBERS](value) for name, value in data.items() if name in known})


# Numbers that may be above a meter's range; JSON has no infinity, so it is written as the word that a meter shows.
_NUMBERS = frozenset({"values", "deviations", "limits", "expected", "judged", "deviation"})
_OVER, _UNDER = "OL", "-OL"


def _finite(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _finite(inner) for key, inner in value.items()}
    if isinstance(value, float) and value in (inf, -inf):
        return _OVER if value > 0 else _UNDER
    return value


def _number(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {key: _number(inner) for key, inner in value.items()}
    return {_OVER: inf, _UNDER: -inf}[value] if value in (_OVER, _UNDER) else _frozen(value)


def _frozen(value: Any) -> Any:
    return tuple(value) if isinstance(value, list) else value
