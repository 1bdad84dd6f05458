"""The one clock of the terminal. Everything below gets the time handed in."""

from __future__ import annotations

from datetime import datetime


def now() -> str:
    """Return the time with its zone, to the second (ISO 8601)."""
    return datetime.now().astimezone().isoformat(timespec="seconds")


def short(at: str) -> str:
    """Return an ISO time as people read it: date, hour and minute."""
    try:
        return datetime.fromisoformat(at).strftime("%Y-%m-%d %H:%M")
    except ValueError:
        return at
