"""Which defect explains some readings, as a document and as lines."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import isinf
from typing import Any

from diagtree.physics.defects.finding import CANNOT_TELL, NAMED, Explanation, Finding
from diagtree.physics.defects.proximity_loop import unbounded
from diagtree.physics.defects.spelled import NO_PROOF, circuit, ohms, verdict, with_value
from diagtree.physics.defects.spot import Spot
from diagtree.physics.meter import Accuracy
from diagtree.physics.ranges import amount, plain
from diagtree.physics.reading import Reading
from diagtree.report.quantities_page import CAUTIONS

SOURCE = (
    "circuits of IEC 61851-1 Annex A and B and SAE J1772 as open sources give them; some tolerances from memory; "
    "weighted least squares, parts within tolerance as pseudo-readings (JCGM 100:2008, 4.3.7)"
)
FORMULA = "misfit = sum ((reading - circuit) / u)^2 + sum ((part - nominal) / (tolerance / sqrt 3))^2, least over parts"
P_VALUE = "how often a right explanation misfits so much or more; not the chance that this one is right"
SHOWN = 5
"""Explanations that do not fit are listed up to this many in all."""


def document(found: Finding, readings: Mapping[Spot, Reading]) -> dict[str, Any]:
    """Return the machine face: that of `calc`, with the verdict and every explanation, best first."""
    return {
        "schema": 1,
        "quantity": f"{found.circuit}-defect",
        "value": CANNOT_TELL if found.best is None else found.best.defect,
        "unit": "",
        "source": SOURCE,
        "inputs": {spot.name: "inf" if one.over_range else one.value for spot, one in readings.items()},
        "formula": FORMULA,
        "caution": CAUTIONS["live"],
        "verdict": found.verdict,
        "reason": found.reason,
        "cannot_be_told_apart": [one.defect for one in found.rivals],
        "next": None if found.next is None else found.next.name,
        "explanations": [_row(one) for one in found.explanations],
    }


def lines(found: Finding, readings: Mapping[Spot, Reading], meter: Mapping[str, Accuracy]) -> Iterator[str]:
    """Return the result for a person, the caution first."""
    yield f"CAUTION: {CAUTIONS['live']}"
    yield f"{circuit(found).capitalize()}: {verdict(found)}"
    yield f"  because  {found.reason}"
    if found.verdict == NAMED and found.best is not None:
        yield f"  look     {found.best.remedy}"
    if found.next is not None:
        yield f"  next     {found.next.name} would tell them apart best"
    for spot, reading in readings.items():
        yield f"  read     {spot.name} = {reading}{_foretold(found, spot)}"
    yield from (f"  {line}" for line in table(found))
    accuracies = ", ".join(f"{unit} {plain(one.percent)} % + {plain(one.counts)} counts" for unit, one in meter.items())
    yield f"  meter    {accuracies}; yours: --meter 0.5%+2, or its name in the workshop's file"
    yield f"  misfit   {FORMULA.removeprefix('misfit = ')}"
    yield f"  p-value  {P_VALUE}"
    yield f"  source   {SOURCE}"
    yield f"  {NO_PROOF}"


def table(found: Finding) -> Iterator[str]:
    """Return the explanations that fit, and the best of the others, with misfit and p-value.

    A p-value is not the chance that the explanation is right: two that both fit may both have a high one.
    """
    yield "rank  misfit  p-value  explanation"
    for one in found.explanations:
        if one.fits or one.rank <= SHOWN:
            chance = f"{100.0 * one.chance:.0f} %" if one.fits else "-"
            misfit = f"{one.misfit:.1f}" if one.misfit < 1e5 else f"{one.misfit:.0e}"
            yield f"{one.rank:>4}  {misfit:>6}  {chance:>7}  {with_value(one)}"


def _foretold(found: Finding, spot: Spot) -> str:
    """Return what the explanation named, else the best one, foretells at a spot."""
    share = (found.best or found.explanations[0]).foretold[spot]
    if spot.unit == "ohm":
        return f", explained as {ohms(unbounded(share))}"
    return f", explained as {amount(float(f'{share:.2f}'), 'V')}"


def _row(one: Explanation) -> dict[str, Any]:
    return {
        "rank": one.rank,
        "defect": one.defect,
        "name": one.name,
        "value": _number(one.value),
        "low": _number(one.low),
        "high": _number(one.high),
        "unit": "ohm" if one.value is not None else "",
        "misfit": one.misfit,
        "chance": one.chance,
        "fits": one.fits,
        "look": one.remedy,
        "foretold": {
            spot.name: _number(unbounded(share) if spot.unit == "ohm" else share)
            for spot, share in one.foretold.items()
        },
    }


def _number(value: float | None) -> float | str | None:
    return "inf" if value is not None and isinf(value) else value
