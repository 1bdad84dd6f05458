"""A result of the bench calculator as a document and as lines."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import floor, isfinite, isinf, log10
from typing import TYPE_CHECKING, Any

from diagtree.physics.meter import COVERAGE
from diagtree.physics.quantity import Facts, Quantity, Value
from diagtree.physics.ranges import amount, plain
from diagtree.physics.standing import CLOSE, INSIDE, Standing, limit_words, one_sided
from diagtree.physics.typed_readings import Typed
from diagtree.physics.verdict import Verdict
from diagtree.report.bench_result import BenchResult
from diagtree.report.quantities_page import CAUTIONS

if TYPE_CHECKING:
    from diagtree.physics.defects.defect import Defect, Loop
    from diagtree.physics.observable import Observable


EXACT = "taken as exact: name the meter (--meter) or type `+/-`"
"""What is told where safety is judged by a number that was given without an uncertainty."""


OF_A_CAR = {("absence-of-voltage", "limit"): " (the standard's; a car's profile may ask for less: --vehicle)"}
"""What is told beside an assumed value that a car may have otherwise, so that the result would be wrong for it."""


def caution(one: Quantity | Verdict) -> str:
    """Return the caution that heads a quantity, or nothing."""
    return CAUTIONS[one.hazard]


def document(result: BenchResult) -> dict[str, Any]:
    """Return the machine face of `calc`; infinity is the text `inf`."""
    return {
        "schema": 1,
        "caution": caution(result.one) or None,
        "quantity": result.one.id,
        **row(result),
        "source": result.one.source,
        "formula": _formula(result.one),
    }


def row(result: BenchResult) -> dict[str, Any]:
    """Return what differs from row to row of a table of results."""
    found: dict[str, Any] = {
        "value": _plain(result.value),
        "unit": result.unit,
        "uncertainty": result.expanded,
        "coverage": COVERAGE if result.expanded is not None else None,
        "inputs": {name: _plain(item.value) for name, item in result.inputs.items()},
        "assumed": {name: _plain(value) for name, value in assumed(result).items()},
        "uncertainties": {name: item.expanded for name, item in result.inputs.items() if item.expanded},
        "meters": {name: item.meter for name, item in result.inputs.items() if item.meter},
        "limits": [_limit(result, standing) for standing in result.standings],
        "verdict": None,
    }
    if result.solved is not None and result.given is not None:
        found |= {"solved": result.solved, "given": _measured(result.given)}
    if result.reading is not None:
        found["reading"] = _measured(result.reading)
    if result.says is not None:
        says = result.says
        found["verdict"] = {"quantity": says.verdict, "says": says.words, "could_be": list(says.could_be)}
    return found


def lines(result: BenchResult) -> Iterator[str]:
    """Return the result for a person, the caution first."""
    if caution(result.one):
        yield f"CAUTION: {caution(result.one)}"
    yield f"{result.meaning}: {value_words(result)}"
    units = {item.name: item.unit for item in result.one.inputs}
    shown = [f"{name} = {_typed(item, units[name])}" for name, item in result.inputs.items()]
    if result.given is not None:
        shown.insert(0, f"{result.one.id} = {_typed(result.given, _unit(result.one))}")
    if shown:
        yield f"  with     {', '.join(shown)}"
    yield from assumed_line(result)
    if result.reading is not None:
        yield f"  reading  {_typed(result.reading, _unit(result.one))}{_apart(result)}"
    for standing in result.standings:
        yield f"  limits   {standing_words(standing, _unit(result.one))}{_as_exact(result, standing)}"
    exact = isinstance(result.one, Verdict) and not any(item.expanded for item in result.inputs.values())
    if exact and result.one.hazard == "high-voltage" and not result.hazardous:
        yield f"  unsure   {EXACT}"
    if result.says is not None and isinstance(result.one, Verdict):
        yield f"  unsure   within the uncertainty it could be {' or '.join(result.says.could_be)}: measure again"
    elif result.says is not None:
        yield f"  means    {says_words(result)}"
    yield f"  {'formula' if isinstance(result.one, Quantity) else 'rule   '}  {_formula(result.one)}"
    yield f"  source   {result.one.source}"


def assumed(result: BenchResult) -> dict[str, Value]:
    """Return the standard values that stand in for inputs which were left out: the result holds for them only."""
    return {
        item.name: item.default
        for item in result.one.inputs
        if item.default is not None and item.name not in result.inputs and item.name != result.solved
    }


def assumed_line(result: BenchResult) -> Iterator[str]:
    """Yield the line that tells what was assumed, where something was."""
    units = {item.name: item.unit for item in result.one.inputs}
    told = [
        f"{name} = {_shown(value, units[name])}{OF_A_CAR.get((result.one.id, name), '')}"
        for name, value in assumed(result).items()
    ]
    if told:
        yield f"  assumed  {', '.join(told)}"


def value_words(result: BenchResult) -> str:
    """Return the value as a person reads it, with its uncertainty."""
    if isinstance(result.value, str):
        return result.value
    return _measure(float(f"{result.value:.6g}"), result.expanded, result.unit)


def standing_words(standing: Standing, unit: str) -> str:
    """Return where a number stands: `inside 8.36 to 9.56 V (state B, healthy; SAE J1772)`."""
    limit = standing.limit
    edge = standing.stands if standing.stands != CLOSE else "close to the edge"
    between = ", must be" if one_sided(limit) else " of" if standing.stands == CLOSE else ""
    what = f"{edge}{between} {limit_words(limit, unit)}"
    why = ""
    if standing.stands == CLOSE:
        why = ": measure again, or with a better meter: the uncertainty reaches over the limit"
        if limit.safety:
            why = ": not certain by the whole uncertainty, so it counts as outside"
    return f"{what} ({limit.name}; {limit.source}){why}"


def _as_exact(result: BenchResult, standing: Standing) -> str:
    """Return a word where a safety limit was met by numbers that were given without an uncertainty."""
    known = result.reading.expanded if result.reading is not None else result.expanded
    exact = standing.limit.safety and standing.stands == INSIDE and not known
    return f"; {EXACT}" if exact else ""


def says_words(result: BenchResult) -> str:
    """Return a verdict's words, and what it could be as well."""
    assert result.says is not None
    also = " or ".join(result.says.could_be)
    return f"{result.says.words}{f' (within the uncertainty it could be {also}: measure again)' if also else ''}"


def list_line(one: Quantity | Verdict) -> str:
    """Return the line of `calc --list`: name, inputs (in brackets where they may be left out), meaning, unit."""
    names = (f"--{item.name.replace('_', '-')}" for item in one.inputs)
    needed = (name if item.default is None else f"[{name}]" for name, item in zip(names, one.inputs, strict=True))
    unit = _unit(one) if isinstance(one, Quantity) else "word"
    return f"{one.id} {' '.join(needed)}".rstrip() + f": {one.meaning} [{unit or 'plain number'}]"


def list_row(one: Quantity | Verdict) -> dict[str, Any]:
    """Return the row of `calc --list --json`."""
    return {
        "quantity": one.id,
        "meaning": one.meaning,
        "unit": _unit(one),
        "source": one.source,
        "caution": caution(one) or None,
        "solves_for": list(one.inverses) if isinstance(one, Quantity) else [],
        "inputs": [{"name": item.name, "unit": item.unit, "meaning": item.meaning} for item in one.inputs],
    }


def observable_rows(family: Observable) -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield the line and the row of `calc --list` for every name of a family of observables."""
    for name in family.names():
        line = f"{name} [{family.unit or 'plain number'}]: {family.meaning}"
        yield (
            line,
            {
                "name": name,
                "unit": family.unit,
                "meaning": family.meaning,
                "changed_by": list(family.changed_by),
                "source": family.source,
                "caution": CAUTIONS[family.hazard] or None,
            },
        )


def defect_row(circuit: str, one: Defect[Loop]) -> tuple[str, dict[str, Any]]:
    """Return the line and the row of `calc --list` for a defect."""
    row = {"circuit": circuit, "defect": one.id, "name": one.name, "look": one.remedy}
    return f"{circuit} {one.id}: {one.name}", row


def _limit(result: BenchResult, standing: Standing) -> dict[str, Any]:
    limit = standing.limit
    return {
        "name": limit.name,
        "low": limit.low if isfinite(limit.low) else None,
        "high": limit.high if isfinite(limit.high) else None,
        "unit": _unit(result.one),
        "stands": standing.stands,
        "safety": limit.safety,
        "source": limit.source,
    }


def _apart(result: BenchResult) -> str:
    """Return by how much a reading differs from what is computed, where no limit says more."""
    read, computed = result.reading and result.reading.value, result.value
    if result.standings or not isinstance(read, float) or not isinstance(computed, float) or not computed:
        return ""
    if not (isfinite(read) and isfinite(computed)):
        return ""
    share = 100 * (read - computed) / abs(computed)
    return f" ({share:+.1f} % from the computed value; no standard's limit is known here)"


def _measured(item: Typed) -> dict[str, Any]:
    return {"value": _plain(item.value), "uncertainty": item.expanded, "meter": item.meter or None}


def _unit(one: Quantity | Verdict) -> str:
    return one.unit if isinstance(one, Quantity) else ""


def _formula(one: Quantity | Verdict) -> str:
    return one.formula if isinstance(one, Quantity) else one.rule


def _plain(value: Value) -> Any:
    if isinstance(value, Mapping):
        return {name: _plain(part) for name, part in value.items()}
    return ("inf" if value > 0 else "-inf") if isinstance(value, float) and isinf(value) else value


def _typed(item: Typed, unit: str) -> str:
    if unit == "V" and isinstance(item.value, float) and isinf(item.value):
        return f"{'OL' if item.value > 0 else '-OL'}, above the meter's range"
    meter = f" ({item.meter})" if item.meter else ""
    if isinstance(item.value, float) and item.expanded:
        return f"{_measure(item.value, item.expanded, unit)}{meter}"
    return _shown(item.value, unit)


def _measure(value: float, expanded: float | None, unit: str) -> str:
    """Return a number with its uncertainty: two digits of that, and no digit of the number beyond them (GUM 7.2.6)."""
    if expanded is None or not isfinite(value):
        return amount(value, unit)
    spread = float(f"{expanded:.2g}")
    if spread <= 0:
        return f"{amount(value, unit)} +/- {amount(0.0, unit)}"
    rounded = round(value, 1 - floor(log10(spread)))
    number, _, shown_in = amount(rounded, unit).partition(" ")
    # Both in the unit that suits the number; a spread of temperatures is in kelvins.
    share = float(number) / rounded if rounded and number != plain(rounded) else 1.0
    beside = f"{plain(float(f'{spread * share:.2g}'))} {'K' if unit == 'degC' else shown_in}"
    return f"{f'{number} {shown_in}'.rstrip()} +/- {beside.rstrip()}"


def _shown(value: Value | Facts, unit: str) -> str:
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{name}: {_shown(part, '')}" for name, part in value.items()) + "}"
    return value if isinstance(value, str) else amount(value, unit)
