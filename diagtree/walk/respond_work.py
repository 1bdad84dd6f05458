"""Answers to the prompts of the work itself: look, accesses, procedures, absence of voltage, tests."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from diagtree.errors import AnswerError, ReadingError
from diagtree.knowledge.limits import MissingName, UnknownFact
from diagtree.knowledge.words import HAND_BACK, MAKE_SAFE, RE_ENERGISE, Test
from diagtree.physics.reading import parse_reading
from diagtree.records import dataclass
from diagtree.walk.absence import measure, pairs, without_unit
from diagtree.walk.answers import Chosen, Ticked, Typed
from diagtree.walk.ask_start import ISOLATED, QUESTIONS
from diagtree.walk.ask_test import other_meter
from diagtree.walk.context import Walk
from diagtree.walk.dangers import NOTHING
from diagtree.walk.events import (
    GO_ON,
    AbsenceMeasured,
    Answered,
    Closed,
    CompareChosen,
    Complained,
    Confirmed,
    Decided,
    Event,
    FactSupplied,
    FoundAlready,
    Looked,
    MeasureAgain,
    Measured,
    Opened,
    ProcedureDone,
    RepeatChosen,
    StepDone,
    TestChosen,
)
from diagtree.walk.fold import fold
from diagtree.walk.judging import Readings, Verdict, parse_fact, read, verdict
from diagtree.walk.procedures import due_steps
from diagtree.walk.prompts import Kind, Prompt
from diagtree.walk.state import Running, State


@dataclass(frozen=True, slots=True)
class Reply:
    """An answer that fits its prompt's form, with all it is judged by."""

    walk: Walk
    state: State
    prompt: Prompt
    answer: Chosen | Typed | Ticked
    at: str

    @property
    def option(self) -> str:
        """The one option chosen."""
        assert isinstance(self.answer, Chosen)
        return self.answer.options[0]

    @property
    def values(self) -> Mapping[str, str]:
        """The values typed, blanks at their ends taken off."""
        assert isinstance(self.answer, Typed)
        return {name: str(text).strip() for name, text in self.answer.values.items()}

    @property
    def says(self) -> str:
        """What was said with a tick."""
        assert isinstance(self.answer, Ticked)
        return self.answer.says


def _look(reply: Reply) -> tuple[Event, ...]:
    return (Looked(reply.at, reply.option),)


def _complaint(reply: Reply) -> tuple[Event, ...]:
    minutes = reply.values.get("cuts_out_after", "")
    also = {name: text for name, text in reply.values.items() if name not in ("words", "cuts_out_after") and text}
    return (Complained(reply.at, reply.values.get("words", ""), minutes_typed(minutes) if minutes else None, also),)


def _sort(reply: Reply) -> tuple[Event, ...]:
    if reply.option == QUESTIONS:
        return (Decided(reply.at, QUESTIONS, reply.prompt.key),)
    return (Decided(reply.at, GO_ON, reply.option),)


def minutes_typed(text: str) -> float:
    """Return minutes as typed. Raises AnswerError for a negative or unreadable number."""
    return number_typed(text, "minute", "minutes")


def number_typed(text: str, unit: str, what: str) -> float:
    """Return a number from 0 upwards as typed. Raises AnswerError naming it."""
    try:
        reading = parse_reading(text, unit)
    except ReadingError as error:
        raise AnswerError(f"{what}: {error}") from error
    if reading.over_range or reading.value < 0:
        raise AnswerError(f"{what}: `{text}` is no number from 0 upwards; type it like 45")
    return reading.value


def _already(reply: Reply) -> tuple[Event, ...]:
    assert isinstance(reply.answer, Chosen)
    named = [name for name in reply.answer.options if name not in (NOTHING, ISOLATED)]
    return (FoundAlready(reply.at, tuple(dict.fromkeys(named)), ISOLATED in reply.answer.options),)


def _open(reply: Reply) -> tuple[Event, ...]:
    return (Opened(reply.at, reply.prompt.key),)


def _close(reply: Reply) -> tuple[Event, ...]:
    return (Closed(reply.at, reply.prompt.key),)


def _running(reply: Reply) -> Running:
    """Return the procedure in progress, or the one that this answer begins."""
    if reply.state.running is not None:
        return reply.state.running
    procedure, index = reply.prompt.key.split(":")
    return Running(procedure, due_steps(reply.walk, reply.state, procedure, int(index)))


def _procedure(reply: Reply) -> tuple[Event, ...]:
    procedure, index = reply.prompt.key.split(":")
    if int(index) < 0:  # a procedure without written steps
        return (ProcedureDone(reply.at, procedure),)
    kind = reply.walk.catalogue.procedures[procedure].steps[int(index)].kind
    done = StepDone(reply.at, procedure, int(index), kind, reply.says)
    return _with_end(reply, done)


def _with_end(reply: Reply, done: StepDone | AbsenceMeasured) -> tuple[Event, ...]:
    running = _running(reply)
    if running.done + 1 < len(running.indices):
        return (done,)
    assert running.procedure in (MAKE_SAFE, RE_ENERGISE, HAND_BACK)
    return (done, ProcedureDone(reply.at, running.procedure))


def _absence(reply: Reply) -> tuple[Event, ...]:
    index = int(reply.prompt.key.split(":")[1])
    step = reply.walk.catalogue.procedures[MAKE_SAFE].steps[index]
    wanted = pairs(reply.walk, step, reply.state.facts)
    typed = tuple(reply.values[f"pair{number}"] for number in range(1, len(wanted) + 1))
    found = measure(reply.walk, wanted, typed)
    event = AbsenceMeasured(
        reply.at,
        index,
        tuple(pair.points for pair in wanted),
        tuple(map(without_unit, typed)),  # whoever shows it writes the unit behind it
        tuple(pair.limit for pair in wanted),
        all(item.proven for item in found),
    )
    return _with_end(reply, event) if event.proven else (event,)


def _voltage_found(reply: Reply) -> tuple[Event, ...]:
    if reply.option == "repeat":
        return (RepeatChosen(reply.at),)
    return (Decided(reply.at, "isolated", "voltage found"),)


def _conditions(reply: Reply) -> tuple[Event, ...]:
    return (Confirmed(reply.at, reply.prompt.key, reply.prompt.how),)


def by_whom(state: State, test: str) -> str:
    """Return who chose the test that is due: the technician (out of turn) or the tree."""
    last = next((item for item in reversed(state.items) if isinstance(item, TestChosen | Answered)), None)
    return "technician" if isinstance(last, TestChosen) and last.test == test else "tree"


def _outcome(reply: Reply) -> tuple[Event, ...]:
    state, test_id = reply.state, reply.prompt.key
    measured = state.measured if state.measured is not None and state.measured.test == test_id else None
    return (
        Answered(
            reply.at,
            test_id,
            reply.option,
            readings=measured.readings if measured else {},
            by=by_whom(state, test_id),
            compared=state.compare and measured is not None,
            recorded=measured.recorded if measured else False,
            note=measured.note if measured else "",
        ),
    )


def _reading(reply: Reply) -> tuple[Event, ...]:
    assert isinstance(reply.answer, Typed)
    test = reply.walk.test(reply.prompt.key)
    meter = reply.answer.meter or reply.state.meters.get(test.id)
    readings = read(reply.walk, test, reply.values, meter)
    measured = Measured(reply.at, test.id, readings.typed, readings.meters)
    return settled(reply.walk, reply.state, test, readings, measured, by_whom(reply.state, test.id), ask=True)


def settled(
    walk: Walk, state: State, test: Test, readings: Readings, measured: Measured, by: str, *, ask: bool
) -> tuple[Event, ...]:
    """Return the answer that the readings give, or only the readings where something is to be asked first."""
    try:
        found = verdict(walk, test, readings, state.facts)
    except (UnknownFact, MissingName):
        return (measured,)
    if found.judged.close and ask:
        return (measured,)
    return (answered(measured, readings, found, by),)


def answered(measured: Measured, readings: Readings, found: Verdict, by: str) -> Answered:
    """Return the answer with every number behind it."""
    return Answered(
        measured.at,
        measured.test,
        found.judged.outcome,
        chances=dict(found.judged.chances) if found.judged.close else {},
        readings=readings.typed,
        values=readings.values,
        deviations=readings.deviations,
        meters=readings.meters,
        limits=found.limits,
        expected=found.expected,
        judged=found.value,
        deviation=found.deviation,
        by=by,
        recorded=measured.recorded,
        note=measured.note,
        was_mistake=measured.was_mistake,
    )


def _close_reading(reply: Reply) -> tuple[Event, ...]:
    test = reply.walk.test(reply.prompt.key)
    if reply.option != "accept":
        meter = reply.option.removeprefix("with:") if reply.option.startswith("with:") else None
        return (MeasureAgain(reply.at, test.id, meter),)
    measured = reply.state.measured
    assert measured is not None
    readings = read(reply.walk, test, measured.readings, other_meter(test, measured))
    return settled(reply.walk, reply.state, test, readings, measured, by_whom(reply.state, test.id), ask=False)


def _fact(reply: Reply) -> tuple[Event, ...]:
    measured = reply.state.measured
    assert measured is not None
    text = reply.values["value"]
    if text.lower() == "compare":
        return (CompareChosen(reply.at, measured.test),)
    fact = FactSupplied(reply.at, reply.prompt.key, parse_fact(text), reply.values.get("source", ""))
    after = fold(reply.walk, (fact,), reply.state)
    test = reply.walk.test(measured.test)
    readings = read(reply.walk, test, measured.readings, other_meter(test, measured))
    more = settled(reply.walk, after, test, readings, measured, by_whom(after, test.id), ask=True)
    return (fact,) if more == (measured,) else (fact, *more)


ANSWERS_WORK: dict[Kind, Callable[[Reply], tuple[Event, ...]]] = {
    Kind.LOOK: _look,
    Kind.COMPLAINT: _complaint,
    Kind.SORT: _sort,
    Kind.ALREADY: _already,
    Kind.OPEN: _open,
    Kind.CLOSE: _close,
    Kind.PROCEDURE: _procedure,
    Kind.ABSENCE: _absence,
    Kind.VOLTAGE_FOUND: _voltage_found,
    Kind.CONDITIONS: _conditions,
    Kind.OUTCOME: _outcome,
    Kind.READING: _reading,
    Kind.CLOSE_READING: _close_reading,
    Kind.FACT: _fact,
}
