"""One published check value: what it is, what we get, what is printed, where, and how sure."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

Result = float | str | tuple[float | str, ...]

L = "looked up: the value itself is printed in the source"
CL = "computed from a looked-up formula and inputs"
CM = "computed from a remembered formula or value"
C = "plain mathematics"
CV = "computed; diode drop from memory, the rest looked up"


@dataclass(frozen=True)
class Row:
    """A check value. `got` is called by the test; tolerance is absolute, 0 means to the last digit of a float."""

    id: str
    got: Callable[[], Result]
    expected: Result
    tolerance: float
    source: str
    mark: str

    def holds(self) -> bool:
        """Return whether every part of the result agrees with the printed one."""
        got, expected = self.got(), self.expected
        pairs = zip(_parts(got), _parts(expected), strict=True)
        return all(_agrees(one, other, self.tolerance) for one, other in pairs)


def _parts(result: Result) -> tuple[float | str, ...]:
    return result if isinstance(result, tuple) else (result,)


def _agrees(got: float | str, expected: float | str, tolerance: float) -> bool:
    if isinstance(got, str) or isinstance(expected, str):
        return got == expected
    return abs(got - expected) <= max(tolerance, 1e-12 * abs(expected))


def number(name: str, *inputs: object, **named: object) -> float:
    """Return a quantity's value, through the record that trees and the bench calculator use."""
    from diagtree.physics.quantity import quantity

    return quantity(name).compute(*inputs, **named)


def words(name: str, *inputs: object, **named: object) -> str:
    """Return a verdict's words."""
    from diagtree.physics.verdict import verdict

    return verdict(name).compute(*inputs, **named)
