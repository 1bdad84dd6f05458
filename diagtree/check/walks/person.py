"""Whoever answers in a made-up walk: somebody who does what is asked, or who errs, goes, comes back and is interrupted.

Every choice is drawn from hypothesis so that its simplest form is the plain one: a failing walk shrinks towards a
short job done by the book on a car that behaves.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, TypeVar

from diagtree.car.car import Car as SimulatedCar
from diagtree.check.physical_range import physical_range
from diagtree.check.tries import tries_along, typed
from diagtree.check.walks.said import Said, Waited
from diagtree.knowledge.words import SOMETHING_ELSE, Cause, Test
from diagtree.reason.problem import chance_of
from diagtree.walk.answers import (
    Back,
    Changed,
    ChooseNow,
    Chosen,
    DidNot,
    DoNow,
    Leave,
    NotDone,
    Note,
    RecordTest,
    Ticked,
    Typed,
)
from diagtree.walk.context import Walk
from diagtree.walk.prompts import Choice, Fields, Kind, Prompt, Tick

if TYPE_CHECKING:
    from diagtree.check.subject import Car

Thing = TypeVar("Thing")
Draw = Callable[[int], int]
"""Draws a whole number from 0 to the one given; 0 is the simplest."""

_SEEDS = 5000
_OUT_OF, _SELDOM, _OFTEN = 29, 27, 18  # an error where a number up to the first is drawn that is at least the other
_FINE = 1000  # into how many parts a chance is cut
_NO_VOLTAGE = ("0.3", "-0,4", "0", "1.2")
_VOLTAGE = ("398", "OL", "-61", "75,5")
_WAITS = (5, 45, 90, 600)  # minutes; a proof of absence lasts for an hour or so


class Person:
    """Answers prompts about one car with one cause.

    calm : does what is asked and nothing else. even : the car shows every outcome alike, so that rare branches are
    walked too.
    """

    def __init__(self, draw: Draw, walk: Walk, car: Car, cause: Cause | None) -> None:
        """cause : the fault that the car has; None where it is none of the list."""
        self._draw, self._walk, self._car, self._cause = draw, walk, car, cause
        self.calm = draw(2) < 2
        # Whoever errs at every third step never gets through making safe: most err now and then.
        self._errs_from = _SELDOM if draw(3) < 3 else _OFTEN
        self.even = draw(3) == 3
        self._voltage = not self.calm and draw(3) == 3
        self._drawn: dict[str, str] = {}
        self._times: Counter[str] = Counter()
        # Half of the cars speak by physics and a meter's noise, the others by outcomes that shrink to the likeliest.
        self._physical = None if self.even else self._simulated(draw(2 * _SEEDS - 1))

    def says(self, prompt: Prompt) -> Said:
        """Return what is said at a prompt."""
        if not self.calm and self._draw(_OUT_OF) >= self._errs_from:
            return self._trouble(self._draw(11), prompt)
        return self._proper(prompt)

    # --- as asked ---------------------------------------------------------------------------------------------------

    def _proper(self, prompt: Prompt) -> Chosen | Typed | Ticked:
        form = prompt.form
        if isinstance(form, Tick):
            return Ticked(form.word, form.good[0] if form.good else "shift lead" if form.says else "")
        if isinstance(form, Choice):
            return Chosen((self._choice(prompt, [option.id for option in form.options]),))
        return Typed(self._values(prompt, form), None)

    def _choice(self, prompt: Prompt, options: Sequence[str]) -> str:
        match prompt.kind:
            case Kind.OUTCOME:
                return self._outcome(self._walk.test(prompt.key))
            case Kind.LOOK | Kind.ALREADY:
                return options[0] if self._draw(29) < 29 else self._one(options)
            case Kind.CONCLUSION | Kind.HAND_OVER | Kind.REFER | Kind.CLOSE_READING:
                return options[0] if self.calm else self._one(options)
            case Kind.PROOF_RESULT:
                return "fixed" if self._fixed_by(prompt.key) else "not-fixed"
            case Kind.VOLTAGE_FOUND:
                return "isolated" if self._voltage else options[0]
            case Kind.REMAINING if self.calm:
                own = [one for one in options if self._cause is not None and one.endswith(f":{self._cause.id}")]
                return own[0] if own else "refer"
            case _:
                return self._one(options)

    def _values(self, prompt: Prompt, form: Fields) -> dict[str, str]:
        match prompt.kind:
            case Kind.READING:
                return self._readings(self._walk.test(prompt.key))
            case Kind.ABSENCE:
                texts = _VOLTAGE if self._voltage else _NO_VOLTAGE
                return {field.name: self._one(texts) for field in form.fields}
            case Kind.FACT:
                known = self._car.bench(prompt.test).supplied if prompt.test else {}
                return {"value": known.get(prompt.key, "compare"), "source": "the maker's manual"}
            case Kind.PROOF:
                result = {"minutes": "240", "watched": "240", "power": "7", "cut_out": "no"}
                # A number that may be left out is: 31 is a fine temperature, and no fine insulation.
                return {field.name: result.get(field.name, "" if field.optional else "31") for field in form.fields}
            case Kind.COMPLAINT:
                return {"words": "it stops", "cuts_out_after": self._one(("", "25"))}
            case _:
                return {field.name: "" if field.optional else "1" for field in form.fields}

    def _fixed_by(self, cause_id: str) -> bool:
        if self._physical is not None:
            return self._physical.fixes(cause_id)
        return self._cause is not None and cause_id == self._cause.id

    def _simulated(self, number: int) -> SimulatedCar | None:
        if number < _SEEDS:
            return None
        cause = SOMETHING_ELSE if self._cause is None else self._cause.id
        walk = self._walk
        return SimulatedCar(walk.catalogue, walk.facts, walk.meters, cause, number)

    def _outcome(self, test: Test) -> str:
        """Return what the car shows: drawn once, by the chances that its cause gives, likeliest first."""
        shown = self._physical.answer(test.id).outcome if self._physical is not None else None
        if shown is not None:
            return shown
        if test.id not in self._drawn and self.even:
            self._drawn[test.id] = self._one(test.outcome_ids())
        if test.id not in self._drawn:
            chances = [(chance_of(test, self._cause, outcome), outcome) for outcome in test.outcome_ids()]
            left = self._draw(_FINE - 1) / _FINE
            for chance, outcome in sorted(chances, key=lambda one: -one[0]):
                self._drawn[test.id] = outcome
                left -= chance
                if left < 0:
                    break
        return self._drawn[test.id]

    def _readings(self, test: Test) -> dict[str, str]:
        if self._physical is not None:
            readings = self._physical.answer(test.id, self._times[test.id]).readings
            self._times[test.id] += 1
            if readings:
                return dict(readings)
        solved = self._car.bench(test.id).solve(self._outcome(test))
        if solved is not None and (self.calm or self._draw(9) < 9):
            return dict(solved.readings)
        return {
            read.name: typed(self._one(tries_along(physical_range(read.unit)))) for read in test.reads
        }  # anything that the unit allows

    # --- and otherwise ----------------------------------------------------------------------------------------------

    def _trouble(self, which: int, prompt: Prompt) -> Said:
        tests = sorted(self._walk.catalogue.tests)
        access = sorted(self._walk.catalogue.access)
        match which:
            case 0:
                return Back(1 + self._draw(3))
            case 1:
                return NotDone("no time")
            case 2:
                return Leave()
            case 3:
                return Waited(self._one(_WAITS))
            case 4 | 5 if access:
                opened = (self._one(access),) if self._draw(1) else ()
                closed = (self._one(access),) if self._draw(1) else ()
                return Changed(bool(self._draw(1)), opened, closed, "the night shift")
            case 6:
                return self._record(self._walk.test(self._one(tests)))
            case 7:
                return DoNow(self._one(tests))
            case 8:
                return DidNot("not yet")
            case 9:
                return Note("a remark")
            case 10:
                return ChooseNow() if self._draw(1) else self._slip(prompt)
            case _:
                return self._any(prompt)

    def _record(self, test: Test) -> RecordTest:
        mistake = bool(self._draw(1))
        if test.reads:
            return RecordTest(test.id, None, self._readings(test), "by the night shift", mistake)
        return RecordTest(test.id, self._one(test.outcome_ids()), {}, "by the night shift", mistake)

    def _slip(self, prompt: Prompt) -> Said:
        """Return an answer with a slip of the finger."""
        form = prompt.form
        if isinstance(form, Tick):
            return Ticked("")
        if isinstance(form, Choice):
            return Chosen(("x",))
        return Typed({field.name: self._one(("", "1,2,3", "x", "-inf", "1e999")) for field in form.fields})

    def _any(self, prompt: Prompt) -> Said:
        """Return any answer that the form takes, danger or not."""
        form = prompt.form
        if not isinstance(form, Choice):
            return self._proper(prompt)
        return Chosen((self._one([option.id for option in form.options]),))

    def _one(self, options: Sequence[Thing]) -> Thing:
        return options[self._draw(len(options) - 1)]
