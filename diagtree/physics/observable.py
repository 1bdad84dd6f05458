"""What can be measured on a car, by name, and what faults make of it.

`observables/` holds one family of observables a file; this is the record that each of them defines as OBSERVABLE.
A name is `kind(part)` or `kind(part, detail, ...)`: `resistance(inlet.ac_sensor)`,
`voltage(pilot, vehicle end, state C, negative half)`. Trees use these names (`of:`), and no others.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache
from itertools import product

from diagtree.discover import collect
from diagtree.errors import WrongUse
from diagtree.physics.nearest import did_you_mean
from diagtree.physics.part import Fault, fault
from diagtree.physics.quantity import Facts
from diagtree.physics.setup import Conditions, Setup
from diagtree.records import dataclass


@dataclass(frozen=True, slots=True)
class Observable:
    """One family of observables: the same measurement at several places or in several states.

    id : kebab-case, equal to the module's name with hyphens.
    kind : what is measured. details : one choice of each group makes a name; "" leaves that group out.
    unit : of the number. changed_by : parts whose faults change it.
    compute : pure function of the setup and one detail of each group that offers a choice; infinite where a meter
        shows that it is above its range. Raises OutOfRange, naming the fact, where the vehicle profile lacks it.
    assumes : what the simulated car takes for granted, in words; no limit rests on it.
    hazard : "none", "live" (measured on a live circuit) or "high-voltage".
    """

    id: str
    kind: str
    details: tuple[tuple[str, ...], ...]
    unit: str
    meaning: str
    changed_by: tuple[str, ...]
    compute: Callable[..., float]
    source: str
    assumes: str = ""
    hazard: str = "none"

    def chosen(self) -> Mapping[str, tuple[str, ...]]:
        """Return each name of the family with its details, one of each group."""
        return {_name(self.kind, choice): choice for choice in product(*self.details)}

    def names(self) -> tuple[str, ...]:
        """Return every name of the family."""
        return tuple(self.chosen())


def _name(kind: str, details: tuple[str, ...]) -> str:
    return f"{kind}({', '.join(detail for detail in details if detail)})"


@cache
def observables() -> tuple[Observable, ...]:
    """Return every family of observables, by id."""
    from diagtree.physics import observables as package

    return collect(package, "OBSERVABLE", Observable)


@cache
def _by_name() -> Mapping[str, tuple[Observable, tuple[str, ...]]]:
    return {name: (family, details) for family in observables() for name, details in family.chosen().items()}


def observable_names() -> tuple[str, ...]:
    """Return every name that `of:` may use, sorted."""
    return tuple(sorted(_by_name()))


def observable(name: str) -> Observable:
    """Return the family of the observable called `name`. Raises WrongUse, with the nearest name, for no such one."""
    return _find(name)[0]


def _find(name: str) -> tuple[Observable, tuple[str, ...]]:
    found = _by_name().get(_tidy(name))
    if found is None:
        near = did_you_mean(_tidy(name), _by_name()) or _of_kind(name)
        raise WrongUse(f"there is no observable `{name}`{near}")
    return found


def _tidy(name: str) -> str:
    """Return a name with the blanks that a listing has: one after a comma, none at the brackets."""
    kind, bracket, inner = name.strip().partition("(")
    if not bracket or not inner.endswith(")"):
        return name.strip()
    return f"{kind.strip()}({', '.join(' '.join(detail.split()) for detail in inner[:-1].split(','))})"


def _of_kind(name: str) -> str:
    kind = name.partition("(")[0].strip()
    alike = sorted({one.split(",")[0].rstrip(")") + ")" for one in _by_name() if one.startswith(f"{kind}(")})
    if alike:
        return f"; of this kind there are {', '.join(alike)}"
    return f"; a name is `kind(part, ...)`, its kind one of {', '.join(sorted({one.kind for one in observables()}))}"


def observe(
    name: str,
    facts: Facts,
    faults: Mapping[str, str | float | Fault] | None = None,
    conditions: Conditions | None = None,
) -> float:
    """Return what `name` is on a car with these faults. [the observable's unit]

    facts : the vehicle profile. faults : part to fault, as knowledge writes it; nothing is wrong without them.
    conditions : the surroundings; a mild day, half charged, where left out.

    Infinite for an open circuit: a meter shows OL. Pure: the same question has the same answer.
    Raises WrongUse for names that do not exist, and OutOfRange, naming the fact, where the profile lacks a maker's
    value or says `unknown`; only values of a standard stand in for it.
    """
    family, details = _find(name)
    known = {part: one if isinstance(one, Fault) else fault(part, one) for part, one in (faults or {}).items()}
    choices = (detail for detail, group in zip(details, family.details, strict=True) if len(group) > 1)
    return family.compute(Setup(facts, known, conditions or Conditions()), *choices)
