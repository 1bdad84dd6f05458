"""The house: its rate, its costs and its meters, as written and as one computation takes them."""

from __future__ import annotations

from collections.abc import Mapping

from diagtree.knowledge.place import Place
from diagtree.records import dataclass


@dataclass(frozen=True, slots=True)
class MeterAccuracy:
    """Accuracy of one meter in one unit: per cent of the reading plus counts of the last digit."""

    percent: float
    counts: float


@dataclass(frozen=True, slots=True)
class Workshop:
    """The house. Money per hour, what it costs to refer a car, what a comeback costs, and its meters.

    meters : tool to canonical unit to accuracy. absence_holds : minutes for which a proof of the absence of
    voltage is good for the next job that needs a dead car. vehicle : profile used where none is named.
    """

    name: str
    rate: float
    referral: float | None
    comeback: float | None
    meters: Mapping[str, Mapping[str, MeterAccuracy]]
    absence_holds: float | None
    vehicle: str | None
    currency: str
    at: Place


@dataclass(frozen=True, slots=True)
class House:
    """The costs of one computation: the workshop's, or what the caller says instead."""

    rate: float = 0.0
    referral: float | None = None
    comeback: float | None = None
