"""One car as the observables see it: its facts, what is wrong with it, and the surroundings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field

from diagtree.errors import OutOfRange
from diagtree.physics import facts as profile
from diagtree.physics.part import Fault
from diagtree.physics.quantity import Facts
from diagtree.physics.ranges import LARGEST
from diagtree.records import dataclass

FACTS = {
    "inlet.type": "word that begins with `type-1` or with anything else, which counts as type 2",
    "inlet.ac_sensor": "kind of sensor with its curve",
    "inlet.dc_sensor": "kind of sensor with its curve",
    "inlet.proximity.pull_up": "ohm; 330 stands in",
    "inlet.proximity.pull_down": "ohm; 2700 (type 1) or 4700 (type 2) stands in",
    "inlet.proximity.supply": "V; 5 stands in",
    "charger.phases": "1 to 3",
    "charger.current": "A per phase",
    "charger.derates_above": "degC",
    "battery.nominal": "V",
    "dc.power": "kW, the most the car takes on DC",
    "dc.current": "A, the most the car takes on DC",
}
"""Facts that observables ask of a vehicle profile, by their dotted path. Standard values stand in where it says so."""


@dataclass(frozen=True, slots=True)
class Conditions:
    """The surroundings of a measurement.

    ambient : temperature of the air and of everything that has rested, -40 to 60. [degC]
    charge : state of charge of the traction battery, 0 to 100. [percent]
    offered : current per phase that the charge point offers; infinity: at least as much as the car takes. [A]
    Raises OutOfRange outside.
    """

    ambient: float = 20.0
    charge: float = 50.0
    offered: float = LARGEST

    def __post_init__(self) -> None:
        ranges = {"ambient": (-40.0, 60.0, "degC"), "charge": (0.0, 100.0, "percent"), "offered": (0.0, LARGEST, "A")}
        for name, (low, high, unit) in ranges.items():
            given = getattr(self, name)
            if not low <= given <= high:
                raise OutOfRange(f"`{name}` = {given!r} is out of range: it must be {low:g} to {high:g} {unit}")


@dataclass(frozen=True, slots=True)
class Setup:
    """A car to be measured. `faults` by part; a part that is not named is sound."""

    facts: Facts
    faults: Mapping[str, Fault] = field(default_factory=dict)
    conditions: Conditions = Conditions()

    def has(self, part: str, *modes: str) -> bool:
        """Return whether the part has one of these faults."""
        found = self.faults.get(part)
        return found is not None and found.mode.word in modes

    def value(self, part: str, mode: str, sound: float) -> float:
        """Return the value of the part's fault where it is of this mode, else that of a sound part."""
        found = self.faults.get(part)
        return found.number if found is not None and found.mode.word == mode else sound

    def without(self, *parts: str) -> Setup:
        """Return the same car with these parts sound."""
        kept = {part: one for part, one in self.faults.items() if part not in parts}
        return Setup(self.facts, kept, self.conditions)

    def group(self, *path: str) -> Facts:
        """Return a group of the profile, such as `inlet`, `ac_sensor`. Raises OutOfRange naming it where it lacks."""
        here: Facts = self.facts
        for depth, key in enumerate(path, 1):
            below = here.get(key)
            if not isinstance(below, Mapping):
                dotted = ".".join(("vehicle", *path[:depth]))
                if below == "unknown":
                    raise OutOfRange(f"`{dotted}` is unknown on this car: find the maker's value")
                raise OutOfRange(f"`{dotted}` is not in the vehicle profile: add it, or write `{dotted}: unknown`")
            here = below
        return here

    def number(
        self, path: str, *, low: float, high: float = LARGEST, unit: str = "", standard: float | None = None
    ) -> float:
        """Return a number of the profile, by its dotted path (`charger.current`).

        standard : value of a published standard that stands in for a missing or unknown one; only such may.
        Raises OutOfRange, naming the fact, where there is none.
        """
        *groups, name = path.split(".")
        if standard is not None and self.word(path) in ("", "unknown"):
            return standard
        try:
            return profile.number(self.group(*groups), name, low=low, high=high, unit=unit)
        except OutOfRange as error:
            raise OutOfRange(f"`vehicle.{path}`: {error}") from error

    def word(self, path: str) -> str:
        """Return a word of the profile, by its dotted path; "" where there is none."""
        here: Facts | float | str | None = self.facts
        for key in path.split("."):
            here = here.get(key) if isinstance(here, Mapping) else None
        return "" if here is None or isinstance(here, Mapping) else str(here)
