"""What happened in a made-up walk, in order, as an answers file's `script` that `walk --answers` replays."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from json import dumps
from typing import TypeAlias, assert_never

from diagtree.records import dataclass
from diagtree.walk.answers import (
    Answer,
    Back,
    Changed,
    ChooseNow,
    Chosen,
    DidNot,
    DoNow,
    Leave,
    NotDone,
    Note,
    RecordTest,
    Ticked,
    Typed,
)


@dataclass(frozen=True, slots=True)
class Waited:
    """Time went by at a prompt. [min]"""

    minutes: float


_PLAIN = re.compile(r"[A-Za-z_][\w-]*", re.ASCII)

Said: TypeAlias = Answer | Waited
"""`Leave` in a script means left and come back to."""


def script_text(said: Iterable[tuple[Said, str]], vehicle: str | None, head: Iterable[str]) -> str:
    """Return an answers file. said : what was said, with what it was said to. head : comment lines."""
    lines = [f"# {line}" for line in head]
    lines += [f"vehicle: {vehicle}"] if vehicle is not None else []
    rows = [f"  - {_row(one)}  # {prompt}" for one, prompt in said]
    return "\n".join([*lines, "script:" if rows else "script: []", *rows]) + "\n"


def _row(said: Said) -> str:
    match said:
        case Waited(minutes=minutes):
            return _map({"wait": minutes})
        case Chosen(options=options):
            return _map({"choose": list(options)})
        case Typed(values=values, meter=meter):
            return _map({"type": values, "meter": meter})
        case Ticked(word=word, says=says):
            return _map({"tick": word, "says": says})
        case NotDone(reason=reason):
            return _map({"not-done": reason})
        case Back(count=count):
            return _map({"back": count})
        case DidNot(reason=reason):
            return _map({"did-not": reason})
        case Changed():
            return _map({"changed": {
                "powered": "yes" if said.powered else "no", "opened": list(said.opened), "closed": list(said.closed),
                "note": said.note,
            }})  # fmt: skip
        case Note(text=text):
            return _map({"note": text})
        case RecordTest():
            return _map({"record": {
                "test": said.test, "outcome": said.outcome, "values": said.values, "note": said.note,
                "was-mistake": "yes" if said.was_mistake else "",
            }})  # fmt: skip
        case DoNow(test=test):
            return _map({"do-now": test})
        case ChooseNow():
            return "choose-now"
        case Leave():
            return "leave-and-return"
    assert_never(said)


def _map(entries: Mapping[str, object]) -> str:
    said = (f"{_key(key)}: {_value(value)}" for key, value in entries.items() if value not in (None, ""))
    return "{" + ", ".join(said) + "}"


def _key(key: str) -> str:
    return key if _PLAIN.fullmatch(key) else dumps(key, ensure_ascii=False)


def _value(value: object) -> str:
    if isinstance(value, Mapping):
        return _map(value)
    if isinstance(value, list):
        return "[" + ", ".join(_value(item) for item in value) + "]"
    return dumps(value, ensure_ascii=False) if isinstance(value, str) else f"{value:g}"
