"""A simulated car with a hidden fault: it answers tests and proof charges, consistently, the same for the same seed.

Where physics can say what a test reads, the reading is physics' with the meter's noise: measured twice it differs by
the noise only. Everything else is drawn from the catalogue's per cents, once a car (docs/meaning.md, "Evidence").

A cause that is `intermittent` has dice of its own: at each test that shows it, every time that it is done, they say by
the catalogue's per cents whether the fault is there just now. What has nothing to do with it stays as it is, and so
does what the owner says: asked again, the owner tells the same.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field, replace
from fractions import Fraction
from functools import cached_property
from math import isfinite

from diagtree.car.dice import between, chance
from diagtree.car.proof_charge import Charge, run
from diagtree.car.shown import shown
from diagtree.errors import OutOfRange, WrongUse
from diagtree.knowledge.words import SOMETHING_ELSE, Catalogue, Cause, Read, Test, Where
from diagtree.physics.meter import Accuracy, accuracy_for, shown_by_car
from diagtree.physics.nearest import did_you_mean
from diagtree.physics.observable import observable, observe
from diagtree.physics.part import Fault, fault
from diagtree.physics.quantity import Facts
from diagtree.physics.setup import Conditions
from diagtree.physics.units import Unit, unit
from diagtree.reason.problem import chance_of
from diagtree.records import dataclass

Meters = Mapping[str, Mapping[str, Accuracy]]
"""Tool to unit to accuracy, as in the workshop's file."""


@dataclass(frozen=True, slots=True)
class Shown:
    """What a test shows: readings as they are typed, or the outcome where no number can be simulated."""

    readings: Mapping[str, str] = field(default_factory=dict)
    outcome: str | None = None


@dataclass(frozen=True)
class Car:
    """One car. `catalogue` as it is on this car, `facts` its profile.

    cause : id of what is wrong; None: nothing; `something-else`: none of the catalogue's causes.
    seed : makes the car; the same seed is the same car on any machine.
    """

    catalogue: Catalogue
    facts: Facts
    meters: Meters
    cause: str | None
    seed: int | str
    conditions: Conditions = field(default_factory=Conditions)

    def __post_init__(self) -> None:
        if self.cause not in (None, SOMETHING_ELSE) and self.cause not in self.catalogue.causes:
            hint = did_you_mean(str(self.cause), self.catalogue.causes)
            raise WrongUse(f"the catalogue has no cause `{self.cause}`{hint}")

    @cached_property
    def faults(self) -> Mapping[str, Fault]:
        """What is physically wrong, each value that the cause leaves open drawn once from its usual span."""
        found = {}
        for part, written in self._wrong.fault.items() if self._wrong else ():
            one = fault(part, written)
            if one.value is None and one.mode.usual is not None:
                one = replace(one, value=between(chance(self.seed, "severity", part), *one.mode.usual))
            found[part] = one
        return found

    def answer(self, test_id: str, time: int = 0) -> Shown:
        """Return what the test shows when it is done; `time` counts how often it was done before.

        Raises WrongUse where the catalogue has no such test.
        """
        test = self.catalogue.tests.get(test_id)
        if test is None:
            raise WrongUse(f"the catalogue has no test `{test_id}`{did_you_mean(test_id, self.catalogue.tests)}")
        readings = self._readings(test, time) if self._simulated(test) else None
        return Shown(outcome=self._drawn(test, time)) if readings is None else Shown(readings)

    def fixes(self, cause_id: str) -> bool:
        """Return whether the correction of `cause_id` removes what is wrong: that cause, or the same work and parts."""
        return self.cause in same_work(self.catalogue, cause_id)

    def correct(self, cause_id: str) -> Car:
        """Return the car after the correction of `cause_id`: sound if that was it, else as it was.

        Raises WrongUse where the catalogue has no such cause.
        """
        if cause_id not in self.catalogue.causes:
            raise WrongUse(f"there is no cause `{cause_id}`{did_you_mean(cause_id, self.catalogue.causes)}")
        return replace(self, cause=None) if self.fixes(cause_id) else self

    def proof_charge(self, cause_id: str, time: int = 0) -> Charge:
        """Return the proof charge after the correction of `cause_id`: power and temperature over its minutes.

        A car that is not fixed cuts out before its end; a fault that comes and goes comes somewhere on the way.
        Raises WrongUse where that cause has no proof.
        """
        cause = self.catalogue.causes.get(cause_id)
        if cause is None or cause.proof is None:
            raise WrongUse(f"cause `{cause_id}` has no proof charge")
        return run(
            cause.proof, self.facts, {} if self._comes_and_goes else self.faults, self.conditions,
            fixed=self.cause is None, die=chance(self.seed, "proof", cause_id, time),
        )  # fmt: skip

    @property
    def _wrong(self) -> Cause | None:
        return self.catalogue.causes.get(self.cause) if self.cause is not None else None

    def _simulated(self, test: Test) -> bool:
        """Return whether physics speaks: every reading has its observable, and the cause says what is broken."""
        if not test.reads or any(read.of is None for read in test.reads):
            return False
        # A cause without a physical fault that still shows at this test (a setting) speaks by its per cents.
        return self._wrong is None or bool(self._wrong.fault) or test.id not in self._wrong.shows

    def _readings(self, test: Test, time: int) -> Mapping[str, str] | None:
        """Return the readings as typed; None where a maker's value is missing that physics would need."""
        try:
            true = {read.name: self._true(read, self._there(test, time)) for read in test.reads}
        except OutOfRange:
            return None
        found = {}
        for read in test.reads:
            measured_in = unit(read.unit)
            meter = None if shown_by_car(read.of) else _meter(self.meters, test, measured_in)
            die = chance(self.seed, "noise", test.id, read.name, time)
            found[read.name] = shown(true[read.name], measured_in, meter, die)
        return found

    @property
    def _comes_and_goes(self) -> bool:
        return self._wrong is not None and self._wrong.intermittent

    def _there(self, test: Test, time: int) -> Mapping[str, Fault]:
        """Return what is wrong while the test is done: an intermittent fault by its own dice, any other always."""
        if self._wrong is None or not self._wrong.intermittent:
            return self.faults
        shows = self._wrong.shows.get(test.id, {test.healthy: 100.0})
        hidden = shows.get(test.healthy, 0.0) / 100.0
        return {} if chance(self.seed, "there", test.id, time) < hidden else self.faults

    def _true(self, read: Read, faults: Mapping[str, Fault]) -> float:
        assert read.of is not None
        value = observe(read.of, self.facts, faults, self.conditions)
        if not isfinite(value):
            return value
        return float(unit(observable(read.of).unit).convert(Fraction(value), unit(read.unit)))

    def _drawn(self, test: Test, time: int = 0) -> str:
        """Return the outcome of this car for this test: drawn by its chances, and kept unless it comes and goes."""
        again = (time,) if time and self._comes_and_goes and self._shown_anew(test) else ()
        die = chance(self.seed, "outcome", test.id, *again)
        last = test.healthy
        for outcome in test.outcome_ids():
            share = self._chance(test, outcome)
            if share > 0.0:
                last = outcome
                if die < share:
                    return outcome
                die -= share
        return last

    def _shown_anew(self, test: Test) -> bool:
        return self._wrong is not None and test.id in self._wrong.shows and test.place is not Where.RECEPTION

    def _chance(self, test: Test, outcome: str) -> float:
        if self.cause is not None:
            return chance_of(test, self._wrong, outcome)
        # Nothing is wrong: the healthy outcome, but for the mistakes that people make.
        mistake = test.mistake / 100.0
        return mistake / len(test.outcomes) + (1.0 - mistake if outcome == test.healthy else 0.0)


def same_work(catalogue: Catalogue, cause_id: str) -> tuple[str, ...]:
    """Return the causes that the correction of `cause_id` removes, itself first: those with the same work and parts."""
    done = catalogue.causes[cause_id].correction
    others = (
        other.id for other in catalogue.causes.values()
        if done is not None and other.correction is not None and other.id != cause_id
        and (other.correction.do, other.correction.parts) == (done.do, done.parts)
    )  # fmt: skip
    return (cause_id, *others)


def _meter(meters: Meters, test: Test, measured_in: Unit) -> Accuracy | None:
    """Return the accuracy of the test's own tool that measures in this unit, as a walk takes it; None without one."""
    fit = (accuracy_for(meters[tool], measured_in) for tool in sorted(test.needs.tools) if tool in meters)
    return next((accuracy for accuracy in fit if accuracy is not None), None)
