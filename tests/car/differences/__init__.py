"""Where physics and the catalogue's per cents differ, and why: one file a family of causes, found by itself.

The catalogue's figures are of workshops: a cause is every way in which such a car comes in. `fault:` is one of them,
the commonest, and physics is exact about it. `physics` is what it shows, in per cent, on each car where it differs; the
test holds simulated cars against it, so that a change of physics, of a fault or of a figure does not pass unseen.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from importlib import import_module
from pkgutil import iter_modules

PETREL, MARLIN = "petrel-2", "marlin-1"


@dataclass(frozen=True)
class Explained:
    """Why the figures of one cause at one test differ from physics, and what physics shows."""

    reason: str
    physics: Mapping[str, Mapping[str, float]]


def both(reason: str, physics: Mapping[str, float]) -> Explained:
    """Return a difference that is the same on both cars."""
    return Explained(reason, {PETREL: physics, MARLIN: physics})


class _Sure(dict[str, Mapping[str, float]]):
    """Every car shows that one outcome: `SURE["open"]`."""

    def __missing__(self, outcome: str) -> Mapping[str, float]:
        return {outcome: 100.0}


SURE = _Sure()


def differences() -> Iterator[tuple[str, tuple[str, str], Explained]]:
    """Yield each difference of every file here: file, cause and test, explanation."""
    for info in iter_modules(__path__):
        for pair, explained in import_module(f"{__name__}.{info.name}").EXPLAINED.items():
            yield info.name, pair, explained
