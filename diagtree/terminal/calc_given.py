"""What was typed behind a quantity's name: its inputs, and the options that are none (car, meter, solve, CSV)."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

from diagtree.errors import WrongUse
from diagtree.physics.quantity import Facts, Input, Quantity
from diagtree.physics.typed_inputs import UNIT_WORDS, values
from diagtree.physics.typed_readings import Meters, Typed, typed_reading
from diagtree.physics.verdict import Verdict

if TYPE_CHECKING:
    from diagtree.knowledge.library import Library
    from diagtree.physics.standing import Limit
    from diagtree.report.bench_result import BenchResult
    from diagtree.terminal.setting import Setting

OPTIONS = ("vehicle", "meter", "reading", "solve", "value", "csv", "csv_out", "overwrite")
"""Words that are options wherever the quantity has no input of that name."""


@dataclass(frozen=True)
class Given:
    """What was typed: the quantity, its inputs as text, and the options as text."""

    setting: Setting
    one: Quantity | Verdict
    inputs: Mapping[str, str]
    options: Mapping[str, str] = field(default_factory=dict)

    @cached_property
    def library(self) -> Library:
        """The knowledge; read only where a car or a meter is named."""
        return self.setting.library()

    @cached_property
    def facts(self) -> Facts:
        """The car's facts; none where no car is named."""
        car = self.options.get("vehicle")
        return {} if car is None else self.library.vehicle(car).facts

    @cached_property
    def meters(self) -> Meters:
        """The meters that were named, in that order. Raises WrongUse for one that the house has not."""
        from diagtree.physics.meter import Accuracy
        from diagtree.physics.nearest import did_you_mean

        text = self.options.get("meter")
        if text is None:
            return {}
        workshop = self.library.workshop
        known = {
            tool: {unit: Accuracy(found.percent, found.counts) for unit, found in units.items()}
            for tool, units in (workshop.meters if workshop else {}).items()
        }
        wanted = text.replace(",", " ").split()
        for name in wanted:
            if name not in known:
                names = ", ".join(known) or "none"
                raise WrongUse(f"the workshop has no meter `{name}`{did_you_mean(name, known)}; it has {names}")
        if not wanted:
            raise WrongUse(f"name the meter behind `--meter`; the workshop has {', '.join(known) or 'none'}")
        return {name: known[name] for name in wanted}

    def read(self, item: Input, text: str) -> Typed:
        """Return one input as typed, with its uncertainty."""
        return typed_reading(item, text, self.facts, self.meters)

    def results(self, inputs: Mapping[str, str]) -> BenchResult:
        """Return the result for these inputs, typed as text. Raises a DiagtreeError naming the input that is wrong."""
        result = self._results(inputs)
        self._check_meters(result)
        return result

    def _check_meters(self, result: BenchResult) -> None:
        """Raise WrongUse where a meter was named and nothing that was typed is in a unit it measures."""
        from diagtree.physics.meter import accuracy_for
        from diagtree.physics.ranges import KINDS
        from diagtree.physics.units import unit

        if not self.meters:
            return
        units = [item.unit for item in self.one.inputs if item.name in result.inputs and item.unit not in KINDS]
        if result.given is not None or result.reading is not None:
            units += [self.one.unit] if isinstance(self.one, Quantity) else []
        for name, measures in self.meters.items():
            if not any(accuracy_for(measures, unit(one)) for one in units):
                typed_units = ", ".join(dict.fromkeys(one or "plain numbers" for one in units)) or "no number"
                raise WrongUse(f"`{name}` measures {', '.join(measures)}, but what is typed is in {typed_units}")

    def _results(self, inputs: Mapping[str, str]) -> BenchResult:
        from diagtree.report.bench_result import computed, judged, solvable, solved

        one, given = self.one, {**self._of_car(inputs), **inputs}
        if isinstance(one, Verdict):
            for option in ("solve", "value", "reading"):
                if option in given or option in self.options:
                    raise WrongUse(f"`{one.id}` gives a word: there is nothing to `--{option}`; leave it out")
            return judged(one, self._typed(one.inputs, given))
        if "solve" in self.options:
            item = solvable(one, self.options["solve"])
            given_value = _needed(given, "value", f"the {one.meaning} that was read, `--value`", one.unit)
            if item.name in given:
                raise WrongUse(f"`--{item.name}` is what is asked for: leave it out, or leave `--solve` out")
            value = self.read(Input("value", one.unit, one.meaning), given_value)
            wanted = tuple(other for other in one.inputs if other.name != item.name)
            return solved(one, item.name, value, self._typed(wanted, given))
        if "value" in given:
            names = ", ".join(one.inverses) or "nothing"
            raise WrongUse(f"`--value` goes with `--solve`: say which input is asked for ({names}), or use `--reading`")
        text = given.pop("reading", None)
        reading = None if text is None else self.read(Input("reading", one.unit, one.meaning, high=float("inf")), text)
        typed = self._typed(one.inputs, given)
        return computed(one, typed, reading, self._own(inputs, typed))

    def _of_car(self, inputs: Mapping[str, str]) -> dict[str, str]:
        """Return what the named car has instead of a standard value: its proximity circuit, its limit of voltage.

        Raises WrongUse where the profile says `unknown` and nothing is typed.
        """
        from diagtree.physics.ranges import range_words
        from diagtree.physics.typed_inputs import spelled

        if self.one.id == "absence-of-voltage":
            safety = self.facts.get("safety")
            own = safety.get("dead_below") if isinstance(safety, Mapping) else None
            # A limit that the profile does not know leaves the standard's, as in a walk.
            return {"limit": f"{own} +/- 0"} if isinstance(own, (int, float)) and "limit" not in inputs else {}
        inlet = self.facts.get("inlet")
        circuit = inlet.get("proximity") if isinstance(inlet, Mapping) else None
        if not isinstance(circuit, Mapping) or not self.one.id.startswith("proximity-"):
            return {}
        found: dict[str, str] = {}
        typed_names = {name.replace("-", "_").lower() for name in inputs}
        for item in self.one.inputs:
            if item.name not in circuit or item.name in typed_names or item.name == self.options.get("solve"):
                continue
            if circuit[item.name] == "unknown":
                raise WrongUse(
                    f"`{spelled(item.name)}` ({item.meaning}) is unknown on this car: find the maker's value and "
                    f"type it, {range_words(item)}"
                )
            # The profile's value is no reading: it is exact.
            found[item.name] = f"{circuit[item.name]} +/- 0"
        return found

    def _typed(self, wanted: Iterable[Input], given: Mapping[str, str]) -> dict[str, Typed]:
        return values(wanted, given, self.one.id, self.read)

    def _own(self, inputs: Mapping[str, str], typed: Mapping[str, Typed]) -> tuple[Limit, ...]:
        """Return the limits that the catalogue's tests set for a sensor of this car."""
        car, place = self.options.get("vehicle"), inputs.get("sensor", "").removeprefix("vehicle.")
        if car is None or not place or "temperature" not in typed or self.one.id not in ("sensor-resistance", "ntc"):
            return ()
        from diagtree.report.bench_card import sensor_limits

        at = typed["temperature"].value
        assert isinstance(at, float)
        return sensor_limits(self.library.catalogue(car), place, at)


def given(setting: Setting, one: Quantity | Verdict, words: Sequence[str]) -> Given:
    """Return what was typed behind the quantity's name. Raises WrongUse for a stray word or an input given twice."""
    names = {item.name for item in one.inputs}
    inputs: dict[str, str] = {}
    options: dict[str, str] = {}
    for name, text in typed(words).items():
        key = name.replace("-", "_")
        # Not click's options: the cable check has an input `vehicle`, the insulation reading one called `meter`.
        (options if key in OPTIONS and key not in names else inputs)[key] = text
    if isinstance(one, Quantity):
        # `calc pilot --state B --volts 8.1`: no input is in volts, so that is what was read.
        needed = {item.unit for item in one.inputs if item.default is None}
        for key in [key for key in inputs if UNIT_WORDS.get(key) == one.unit and one.unit not in needed]:
            measured = "value" if "solve" in options else "reading"
            if key not in names and measured not in {**inputs, **options}:
                options[measured] = inputs.pop(key)
    for row_wise in ("value", "reading"):
        if row_wise in options:
            inputs[row_wise] = options.pop(row_wise)
    return Given(setting, one, inputs, options)


def typed(words: Sequence[str]) -> dict[str, str]:
    """Return what was typed for each input; a value may be several words. Raises WrongUse for a stray or twice."""
    found: dict[str, list[str]] = {}
    current: list[str] | None = None
    for word in words:
        if word.startswith("--"):
            name, mark, value = word.removeprefix("--").partition("=")
            if name.replace("-", "_") in {one.replace("-", "_") for one in found}:
                raise WrongUse(f"`--{name}` is given twice; give each input once")
            current = found[name] = [value] if mark else []
        elif current is None:
            raise WrongUse(f"`{word}` stands alone; name the input it is for, like `--state C`")
        else:
            current.append(word)
    return {name: " ".join(parts) for name, parts in found.items()}


def _needed(given: dict[str, str], name: str, what: str, unit: str) -> str:
    text = given.pop(name, None)
    if text is None:
        raise WrongUse(f"{what} is missing: type it in {unit or 'plain numbers'}")
    return text
