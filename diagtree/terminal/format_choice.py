"""Which format a text is written in: the one that is named, else that of the file's suffix, else plain text."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Protocol, TypeVar

from diagtree.errors import WrongUse
from diagtree.physics.nearest import did_you_mean


class Format(Protocol):
    """What all formats with files of their own have."""

    @property
    def id(self) -> str: ...

    @property
    def suffix(self) -> str: ...


Chosen = TypeVar("Chosen", bound=Format)


def chosen_format(formats: Iterable[Chosen], wanted: str | None, file: str | None) -> Chosen:
    """Return the format called `wanted`. Raises WrongUse, with the nearest name, where there is none."""
    known = {one.id: one for one in formats}
    if wanted is None:
        suffix = Path(file).suffix.lower() if file else ""
        return next((one for one in known.values() if one.suffix == suffix), known["text"])
    if wanted not in known:
        hint = did_you_mean(wanted, known)
        raise WrongUse(f"there is no format `{wanted}`{hint}; expected one of: {', '.join(known)}")
    return known[wanted]
