"""The record that describes one single defect of a circuit, and the circuits' common face."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import Generic, Protocol, TypeVar

from diagtree.physics.defects.spot import PILOT, Spot
from diagtree.records import dataclass


class Loop(Protocol):
    """A circuit that can be read. Its defects are other loops; its parts are fields of a frozen dataclass."""

    def __hash__(self) -> int:
        """A loop is a frozen value."""

    def read(self, spot: Spot) -> float:
        """Return the number at a spot: volts, or for the plug by itself its share of a divider (see `unbounded`)."""

    def parts(self) -> tuple[tuple[str, float], ...]:
        """Return each part that varies from one healthy circuit to the next, and its standard uncertainty."""


AnyLoop = TypeVar("AnyLoop", bound=Loop)


@dataclass(frozen=True, slots=True)
class Span:
    """The values that a defect can have. [ohm]

    low, high : where it begins and ends; infinity is an open one.
    middle : a resistance typical of the circuit: values are searched evenly in value / (value + middle).
    nothing : the value at which the defect is none at all; None where there is no such value.
    """

    low: float
    high: float
    middle: float
    nothing: float | None


@dataclass(frozen=True, slots=True)
class Defect(Generic[AnyLoop]):
    """One single defect.

    id : kebab-case, equal to the module's name with hyphens. name : in words, without its value.
    change : the healthy loop and the defect's value [ohm] to the loop with this defect.
    span : the values it can have; None for a defect without a value.
    remedy : where to look for it, in one line.
    variant_of : id of the defect of which this is the same at another place; of the two the better one counts.
    """

    id: str
    name: str
    change: Callable[[AnyLoop, float], AnyLoop]
    span: Callable[[AnyLoop], Span] | None
    remedy: str
    variant_of: str = ""

    @property
    def kind(self) -> str:
        """What the defect is called in a verdict."""
        return self.variant_of or self.id


HEALTHY = "none"
"""Id of the explanation that nothing is wrong."""


@cache
def defects(circuit: str) -> tuple[Defect[Loop], ...]:
    """Return all defects of a circuit, "none" among them, by id."""
    from diagtree.discover import collect
    from diagtree.physics.defects import pilot, proximity

    found: tuple[Defect[Loop], ...] = collect(pilot if circuit == PILOT else proximity, "DEFECT", Defect)
    return found
