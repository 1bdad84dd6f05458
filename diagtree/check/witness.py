"""A witness: the shortest answers that walk into a mistake, as an answers file (docs/answers-file.md).

`diagtree walk TREE --answers FILE` replays it. Behind the answers that show the mistake stand those that lead on to the
nearest ending, where there is one, so that the replay ends like any other walk.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence

from diagtree.check.flow import Flow
from diagtree.check.readings import Bench, Solved
from diagtree.check.ways import Answer, Way, Ways
from diagtree.knowledge.words import MAKE_SAFE, NOT_DONE, Catalogue, Power, Target, Where
from diagtree.reason.arrangement import START, Layout, Move

MOST_ANSWERS = 20_000
"""Answers written out for one tree on one car, all witnesses together: very many findings stay quick to make."""

_ONWARD = "  # shown; from here on the shortest way to an ending"


class Witnesses:
    """Writes witnesses for one tree on one car."""

    def __init__(
        self, flow: Flow, bench: Callable[[str], Bench], vehicle: str | None, most: int = MOST_ANSWERS
    ) -> None:
        """bench : a test's readings on this car. vehicle : the car's profile; None for the catalogue as written.

        most : answers that may be written out, all witnesses together.
        """
        self._flow, self._vehicle = flow, vehicle
        self._ways = Ways(flow)
        self._bench = bench
        self._left = most

    def to_step(self, step_id: str) -> str | None:
        """Return answers that lead to a step; None where there are none that can be given."""
        if step_id not in self._flow.branches:
            return None
        return self._first(self._ways.to_step(step_id), step_id)

    def to_branch(self, step_id: str, outcome: str) -> str | None:
        """Return answers that lead to a step and end with `outcome` there; None where there are none.

        Where no listed cause gives that last answer, a cause that comes to the step gives those before it.
        """
        target = self._flow.branches.get(step_id, {}).get(outcome)
        return None if target is None else self._first(self._ways.to_branch(step_id, outcome), target)

    def around(self, answers: Sequence[Answer]) -> str | None:
        """Return answers that lead to the step of the first of `answers`, and then are these."""
        ahead = self._ways.to_step(answers[0].step)
        last = answers[-1]
        return self._first(self._joined(ahead, answers), self._flow.branches[last.step].get(last.outcome))

    def of_cause(self, cause: str) -> str | None:
        """Return the likeliest answers of a listed cause, from the start to an ending."""
        answers = self._ways.likeliest(cause, self._can_be)
        if not answers:
            return None
        return self._first([Way(answers, cause)], self._flow.branches[answers[-1].step][answers[-1].outcome])

    def _joined(self, ways: Iterable[Way], answers: Sequence[Answer]) -> list[Way]:
        """Return the ways with `answers` behind them, first those whose cause gives these too."""
        giving = self._flow.everything
        for answer in answers:
            giving &= self._flow.allowed(self._flow.test(answer.step), answer.outcome)
        joined = []
        for way in ways:
            gives = way.cause is not None and giving & self._flow.bit(way.cause)
            joined.append(Way((*way.answers, *answers), way.cause if gives else None))
        return sorted(joined, key=lambda way: way.cause is None)

    def with_readings(self, step_id: str, readings: Solved) -> str | None:
        """Return answers that lead to a step and give these readings there; nothing follows them."""
        test = self._flow.test(step_id).id
        for way in self._ways.to_step(step_id) if step_id in self._flow.branches else ():
            given = self._given(way.answers)
            if given is not None and test not in given and len(way.answers) < self._left:
                return self._text(way.cause, [*way.answers, Answer(step_id, "")], (), {test: readings})
        return None

    def _first(self, ways: Iterable[Way], then: Target | None) -> str | None:
        """Return the first of the ways that can be answered, and on from `then`."""
        for way in ways if self._left > 0 else ():
            given = self._given(way.answers)
            if len(way.answers) >= self._left:
                self._left -= len(way.answers)
                return None
            if given is not None:
                onward = self._ways.to_an_end(then, given, self._can_be, way.cause)
                # Without an ending the walk stops before the test that is due next, its access already open.
                due = then if isinstance(then, str) and then in self._flow.branches and not onward else None
                return self._text(way.cause, way.answers, onward, {}, due)
        return None

    def _given(self, answers: Iterable[Answer]) -> Mapping[str, str] | None:
        """Return test to outcome; None where a test would need two answers, or no readings give one."""
        given: dict[str, str] = {}
        for answer in answers:
            test = self._flow.test(answer.step).id
            same = given.setdefault(test, answer.outcome) == answer.outcome
            if not same or not self._can_be(answer.step, answer.outcome):
                return None
        return given

    def _can_be(self, step_id: str, outcome: str) -> bool:
        test = self._flow.test(step_id)
        return outcome == NOT_DONE or not test.reads or self._bench(test.id).solve(outcome) is not None

    # --- as text ----------------------------------------------------------------------------------------------------

    def _text(
        self, cause: str | None, shown: Sequence[Answer], onward: Sequence[Answer], fixed: Mapping[str, Solved],
        due: str | None = None,
    ) -> str:  # fmt: skip
        self._left -= len(shown) + len(onward)
        facts: dict[str, str] = {}
        told: dict[str, str] = {}
        for answer in (*shown, *onward):
            test = self._flow.test(answer.step)
            solved = fixed.get(test.id)
            if solved is None and test.reads and answer.outcome != NOT_DONE:
                solved = self._bench(test.id).solve(answer.outcome)
            facts.update(solved.facts if solved else {})
            told.setdefault(test.id, answer.outcome if solved is None else _readings(solved))
        lines = [f"# cause: {cause or 'none of the list'}"]
        lines += [f"vehicle: {self._vehicle}"] if self._vehicle is not None else []
        lines += ["answers:"] if told else ["answers: {}"]
        before = {self._flow.test(answer.step).id for answer in shown}
        lines += [f"  {test}: {said}" for test, said in told.items() if test in before]
        behind = [f"  {test}: {said}" for test, said in told.items() if test not in before]
        lines += [_ONWARD, *behind] if behind else []
        lines += [f"facts: {{{', '.join(f'{name}: {value}' for name, value in facts.items())}}}"] if facts else []
        done = [test for test, said in told.items() if said != NOT_DONE]
        done += [] if due is None else [self._flow.test(due).id]
        return "\n".join([*lines, *_procedures(self._flow.catalogue, done)]) + "\n"


def _readings(solved: Solved) -> str:
    return "{" + ", ".join(f"{name}: {text}" for name, text in solved.readings.items()) + "}"


def _procedures(catalogue: Catalogue, tests: Iterable[str]) -> list[str]:
    """Return the lines for every making safe that these tests need, in turn: who holds the key, no voltage anywhere."""
    if not _all_known(catalogue):
        return []  # an access that does not exist: the reader tells it, and nothing can be walked
    layout = Layout.of(catalogue)
    now, times = START, 0
    for test in tests:
        needs = catalogue.tests[test].needs
        if needs.power is Power.ANY and not needs.open and catalogue.tests[test].place is not Where.ROAD:
            continue  # done as the car stands
        moves = layout.moves(now, layout.need_of(catalogue.tests[test]))
        times += sum(moved.move is Move.MAKE_SAFE for moved in moves)
        now = layout.after(now, moves)
    make_safe = catalogue.procedures.get(MAKE_SAFE)
    pairs = next((len(step.between) for step in make_safe.steps if step.kind == "absence"), 0) if make_safe else 0
    if not times or not pairs:
        return []
    run = f"    - {{secure: shift lead, absence: [{', '.join(['0'] * pairs)}]}}"
    return ["procedures:", f"  {MAKE_SAFE}:", *[run] * times]


def _all_known(catalogue: Catalogue) -> bool:
    """Return whether every access that is named exists."""
    return catalogue.access.keys() >= {
        *(access for test in catalogue.tests.values() for access in test.needs.open),
        *(access for procedure in catalogue.procedures.values() for access in procedure.open),
        *(below for access in catalogue.access.values() for below in access.after),
    }
