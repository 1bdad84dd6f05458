"""A computed quantity as a document and as lines."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import isinf
from typing import Any

from diagtree.physics.quantity import Facts, Quantity, Value
from diagtree.physics.ranges import amount
from diagtree.physics.verdict import Verdict
from diagtree.report.quantities_page import CAUTIONS


def document(one: Quantity | Verdict, found: float | str, inputs: Mapping[str, Value]) -> dict[str, Any]:
    """Return the machine face of `calc`; infinity is the text `inf`."""
    return {
        "schema": 1,
        "quantity": one.id,
        "value": _plain(found),
        "unit": _unit(one),
        "source": one.source,
        "inputs": {name: _plain(value) for name, value in inputs.items()},
        "formula": _formula(one),
        "caution": CAUTIONS[one.hazard] or None,
    }


def lines(one: Quantity | Verdict, found: float | str, inputs: Mapping[str, Value]) -> Iterator[str]:
    """Return the result for a person, the caution first."""
    if CAUTIONS[one.hazard]:
        yield f"CAUTION: {CAUTIONS[one.hazard]}"
    yield f"{one.meaning}: {found if isinstance(found, str) else amount(float(f'{found:.6g}'), _unit(one))}"
    units = {item.name: item.unit for item in one.inputs}
    shown = (f"{name} = {_shown(value, units[name])}" for name, value in inputs.items())
    yield f"  with     {', '.join(shown) or 'standard values'}"
    yield f"  {'formula' if isinstance(one, Quantity) else 'rule   '}  {_formula(one)}"
    yield f"  source   {one.source}"


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
        "inputs": [{"name": item.name, "unit": item.unit, "meaning": item.meaning} for item in one.inputs],
    }


def _unit(one: Quantity | Verdict) -> str:
    return one.unit if isinstance(one, Quantity) else ""


def _formula(one: Quantity | Verdict) -> str:
    return one.formula if isinstance(one, Quantity) else one.rule


def _plain(value: Value) -> Any:
    if isinstance(value, Mapping):
        return {name: _plain(part) for name, part in value.items()}
    return ("inf" if value > 0 else "-inf") if isinstance(value, float) and isinf(value) else value


def _shown(value: Value | Facts, unit: str) -> str:
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{name}: {_shown(part, '')}" for name, part in value.items()) + "}"
    return value if isinstance(value, str) else amount(value, unit)
