"""The record that describes one verdict: a quantity of charging whose result is a word, not a number.

What state a pilot voltage means, what a trouble code's bytes spell, whether a lock's feedback says locked. Inputs
are declared as in `quantity`; "text" is a further unit, for what is copied from a tester (`96A1`).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache

from diagtree.discover import names, single
from diagtree.errors import WrongUse
from diagtree.physics.quantity import Input, Value
from diagtree.records import dataclass

HAZARDOUS = "HAZARDOUS"
"""Words that begin with it hold wherever the uncertainty of a reading reaches them: not sure counts as not safe."""


@dataclass(frozen=True, slots=True)
class Spelled:
    """One worked example: inputs, the expected words, where they are printed or how they were got."""

    inputs: Mapping[str, Value]
    expected: str
    source: str


@dataclass(frozen=True, slots=True)
class Verdict:
    """One verdict.

    id : kebab-case, equal to the module's name with hyphens.
    compute : pure function of the inputs, by keyword or in order. Raises OutOfRange naming the input and its range.
    rule : how the words follow from the inputs, in one line.
    hazard : "none", "live" (measured on a live circuit) or "high-voltage"; heads the output with the caution.
    """

    id: str
    meaning: str
    inputs: tuple[Input, ...]
    compute: Callable[..., str]
    rule: str
    source: str
    worked: tuple[Spelled, ...]
    hazard: str = "none"


@cache
def verdict_names() -> frozenset[str]:
    """Return the names of all verdicts (underscores), without importing any of them."""
    from diagtree.physics import verdicts

    return names(verdicts)


@cache
def verdict(name: str) -> Verdict:
    """Return the verdict called `name` (hyphens or underscores). Raises WrongUse where there is none."""
    module_name = name.replace("-", "_")
    if module_name not in verdict_names():
        raise WrongUse(f"there is no verdict `{name}`; `diagtree calc --list` names them all")
    from diagtree.physics import verdicts

    return single(verdicts, module_name, "VERDICT", Verdict)


def verdicts() -> tuple[Verdict, ...]:
    """Return every verdict, by name. Imports them all: for listings, never for a walk."""
    return tuple(verdict(name) for name in sorted(verdict_names()))
