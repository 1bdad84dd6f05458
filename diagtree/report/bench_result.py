"""What the bench calculator finds: a number with its uncertainty, where it stands against the limits, what it means."""

from __future__ import annotations

from collections.abc import Mapping
from math import isfinite

from diagtree.errors import OutOfRange, WrongUse
from diagtree.knowledge.limits_quantity import spread
from diagtree.physics.meter import COVERAGE
from diagtree.physics.quantity import Input, Quantity, Value
from diagtree.physics.standing import Asked, Limit, Standing, limits, meaning, stand
from diagtree.physics.typed_readings import Typed
from diagtree.physics.verdict import HAZARDOUS, Verdict, verdict
from diagtree.records import dataclass

_STEPS = 8  # samples on either side of a reading, to find the words that its uncertainty reaches


@dataclass(frozen=True, slots=True)
class Says:
    """A verdict in words: which, what it says, and what it could say as well within the uncertainty."""

    verdict: str
    words: str
    could_be: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class BenchResult:
    """One result of the bench.

    value : in `unit`; a word where `one` is a verdict. expanded : its expanded uncertainty U (k = 2); None where
    nothing that went in has one. solved : the input that was asked for, its quantity being `given`. reading : what was
    set against the computed value.
    """

    one: Quantity | Verdict
    value: float | str
    unit: str
    meaning: str
    inputs: Mapping[str, Typed]
    expanded: float | None = None
    solved: str | None = None
    given: Typed | None = None
    reading: Typed | None = None
    standings: tuple[Standing, ...] = ()
    says: Says | None = None

    @property
    def hazardous(self) -> bool:
        """Whether the verdict that was asked for is that of a hazard: a proof of absence that failed."""
        return isinstance(self.value, str) and self.value.startswith(HAZARDOUS)


def judged(one: Verdict, inputs: Mapping[str, Typed]) -> BenchResult:
    """Return what a verdict says of these inputs. Raises OutOfRange as the verdict does."""
    plain = {name: item.value for name, item in inputs.items()}
    says = _words(one, plain, {name: item.expanded for name, item in inputs.items()})
    return BenchResult(one, says.words, "", one.meaning, inputs, says=says if says.could_be else None)


def computed(
    one: Quantity, inputs: Mapping[str, Typed], reading: Typed | None = None, own: tuple[Limit, ...] = ()
) -> BenchResult:
    """Return what a quantity computes to, and where it, or the reading, stands.

    own : the car's limits, beside the standards'. Raises OutOfRange as the formula does.
    """
    value, expanded = _spread(one.id, one.compute, inputs)
    judged = value if reading is None else _number(reading)
    asked = Asked(one, _filled(one, inputs), value, judged, expanded or 0.0, reading is not None)
    # What is computed brings its own uncertainty; a reading brings its meter's, and the limit the rest.
    where, says = _stands(asked, (expanded or 0.0) if reading is None else reading.expanded, (*limits(asked), *own))
    return BenchResult(one, value, one.unit, one.meaning, inputs, expanded, reading=reading, standings=where, says=says)


def solved(one: Quantity, wanted: str, given: Typed, inputs: Mapping[str, Typed]) -> BenchResult:
    """Return the input `wanted` that makes the quantity `given`. Raises WrongUse where there is no such inverse."""
    item = solvable(one, wanted)
    value, expanded = _spread(f"{one.id} solved for {wanted}", one.inverses[item.name], {"value": given, **inputs})
    filled = {**_filled(one, inputs), item.name: value}
    asked = Asked(one, filled, _number(given), _number(given))
    # A limit that moves with the value says nothing here: the input was chosen to meet the value.
    fixed = tuple(limit for limit in limits(asked) if not limit.moves)
    where, says = _stands(asked, given.expanded, fixed)
    return BenchResult(one, value, item.unit, item.meaning, inputs, expanded, item.name, given, None, where, says)


def solvable(one: Quantity, wanted: str) -> Input:
    """Return the input called `wanted`. Raises WrongUse, naming what can be solved for, where it cannot."""
    name = wanted.strip().replace("-", "_").lower()
    if name in one.inverses:
        return next(item for item in one.inputs if item.name == name)
    can = ", ".join(f"`--solve {known.replace('_', '-')}`" for known in one.inverses)
    known = f"it can be asked for {can}" if can else "it can be computed forward only"
    raise WrongUse(f"`{one.id}` cannot be solved for `{wanted or 'nothing'}`: {known}")


def _spread(what: str, compute: object, inputs: Mapping[str, Typed]) -> tuple[float, float | None]:
    assert callable(compute)
    plain = {name: item.value for name, item in inputs.items()}
    value, standard = spread(what, compute, plain, {name: item.standard for name, item in inputs.items()})
    return value, COVERAGE * standard if any(item.expanded for item in inputs.values()) else None


def _filled(one: Quantity, inputs: Mapping[str, Typed]) -> dict[str, Value]:
    """Return the inputs with the standard values of those that were left out."""
    defaults: dict[str, Value] = {item.name: item.default for item in one.inputs if item.default is not None}
    return {**defaults, **{name: item.value for name, item in inputs.items()}}


def _stands(asked: Asked, guard: float, against: tuple[Limit, ...]) -> tuple[tuple[Standing, ...], Says | None]:
    """Return where the judged number stands against each limit, and what it means in words."""
    found = tuple(stand(limit, asked, guard) for limit in against)
    meant = meaning(asked)
    if meant is None:
        return found, None
    name, given = meant
    try:
        return found, _words(verdict(name), given, {next(iter(given)): guard})
    except OutOfRange:
        return found, None  # the words are an extra: the number stands by itself


def _words(one: Verdict, inputs: Mapping[str, Value], expanded: Mapping[str, float]) -> Says:
    words, others = one.compute(**inputs), []
    for name, reach in expanded.items():
        centre = inputs[name]
        if not isinstance(centre, float) or not isfinite(centre) or reach <= 0:
            continue
        for step in range(-_STEPS, _STEPS + 1):
            try:
                others.append(one.compute(**{**inputs, name: centre + reach * step / _STEPS}))
            except OutOfRange:
                continue
    # Not sure counts as not safe.
    words = next((other for other in others if other.startswith(HAZARDOUS)), words)
    could_be = (one.compute(**inputs), *others)
    return Says(one.id, words, tuple(other for other in dict.fromkeys(could_be) if other != words))


def _number(typed: Typed) -> float:
    assert isinstance(typed.value, float)
    return typed.value
