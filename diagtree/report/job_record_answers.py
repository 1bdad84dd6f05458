"""Every answer of a case as it was given: readings, limits, verdicts, and what became of those that do not count."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from diagtree.errors import AnswerError, DiagtreeError
from diagtree.knowledge.limits import Judged
from diagtree.knowledge.words import NOT_DONE, Read, Test
from diagtree.physics.meter import shown_by_car
from diagtree.physics.units import engineering, unit
from diagtree.reason.evidence import Answered as Evidence
from diagtree.reason.evidence import counted
from diagtree.report.job_record_values import BY_CAR, AnswerRecord, ReadingRecord, Saying
from diagtree.walk.context import Walk
from diagtree.walk.dangers import BY_ID, NOTHING
from diagtree.walk.events import (
    ITEMS,
    AdviceShown,
    Answered,
    Complained,
    Decided,
    Event,
    FactSupplied,
    Looked,
    MeasureAgain,
    Measured,
    Undone,
)
from diagtree.walk.fold import fold
from diagtree.walk.judging import Readings, Verdict, read, verdict
from diagtree.walk.state import State
from diagtree.walk.verdict_text import verdict_lines

OVER = "above the meter's range (OL)"
NOT_JUDGED_YET = "not judged yet"
_BY = {"tree": "the tree", "technician": "the technician"}


def taken_back(events: Sequence[Event]) -> dict[int, str]:
    """Return which events were taken back, by their place, and when."""
    standing: list[int] = []
    gone: dict[int, str] = {}
    for place, event in enumerate(events):
        if isinstance(event, ITEMS):
            standing.append(place)
        elif isinstance(event, Undone) and event.count > 0:
            for taken in standing[-event.count :]:
                gone[taken] = event.at
            del standing[-event.count :]
    return gone


def fate(place: int, gone: dict[int, str]) -> str:
    """Return that an answer was taken back, and when; empty where it stands."""
    return f"taken back at {gone[place]}" if place in gone else ""


def answers(walk: Walk, events: Sequence[Event]) -> tuple[AnswerRecord, ...]:
    """Return every answer to a test in the order given, readings that led to none among them."""
    gone = taken_back(events)
    found: list[AnswerRecord] = []
    state, pending = State(), None
    for place, event in enumerate(events):
        if isinstance(event, Answered):
            if pending is not None and (pending.test, pending.readings) != (event.test, event.readings):
                found.append(_unjudged(walk, state, pending, "set aside, not judged"))
            found.append(_answer(walk, state, event, fate(place, gone)))
            pending = None
        elif isinstance(event, (MeasureAgain, Undone, *ITEMS)) and not isinstance(event, FactSupplied):
            if pending is not None:
                word = "measured again" if isinstance(event, MeasureAgain) else "set aside, not judged"
                found.append(_unjudged(walk, state, pending, f"{word} (from {event.at} on)"))
            pending = None
        elif isinstance(event, Measured):
            pending = event
        state = fold(walk, (event,), state)
    if pending is not None:
        found.append(_unjudged(walk, state, pending, NOT_JUDGED_YET))
    return tuple(_repeats(walk, found))


def _repeats(walk: Walk, found: Sequence[AnswerRecord]) -> Iterator[AnswerRecord]:
    """Mark the answers that do not count, since the same test was answered again (the rule is that of evidence)."""
    evidence = {
        place: Evidence(answer.test, answer.outcome, dict(answer.chances), answer.was_mistake)
        for place, answer in enumerate(found)
        if answer.outcome not in ("", NOT_DONE) and not answer.fate
    }
    counting = {id(item) for item in counted(tuple(evidence.values()), walk.catalogue)}
    for place, answer in enumerate(found):
        if place in evidence and id(evidence[place]) not in counting:
            yield replace(answer, fate="does not count: another answer to this test does")
        else:
            yield answer


def _answer(walk: Walk, state: State, event: Answered, why_not: str) -> AnswerRecord:
    test = walk.test(event.test)
    lines: tuple[str, ...] = ()
    if event.judged is not None:
        judged = Judged(event.outcome, bool(event.chances), dict(event.chances) or {event.outcome: 1.0})
        lines = verdict_lines(
            test, Verdict(judged, event.judged, event.deviation or 0.0, event.expected, dict(event.limits))
        )
    return AnswerRecord(
        at=event.at,
        test=test.id,
        ask=test.ask,
        outcome=event.outcome,
        readings=_readings(walk, state, test, event),
        judged=lines[0] if lines else "",
        band=lines[1] if lines else "",
        expected=_expected(test, lines),
        source=test.source if event.outcome != NOT_DONE else "",
        close=bool(event.chances),
        chances=tuple(event.chances.items()),
        by="the technician (done anyway, without the walk's lead)" if event.recorded else _BY.get(event.by, event.by),
        compared=event.compared,
        was_mistake=event.was_mistake,
        reason=event.reason,
        note=event.note,
        fate=why_not,
    )


def _unjudged(walk: Walk, state: State, event: Measured, why_not: str) -> AnswerRecord:
    """Readings that were typed but are no answer: what they meant is told where it can be."""
    test = walk.test(event.test)
    lines: tuple[str, ...] = ()
    chances: tuple[tuple[str, float], ...] = ()
    try:
        readings = read(walk, test, event.readings, next(iter(event.meters.values()), None))
        meant = verdict(walk, test, readings, state.facts)
        lines, chances = verdict_lines(test, meant), tuple(meant.judged.chances.items()) if meant.judged.close else ()
        shown = _shown(test, readings)
    except DiagtreeError:  # a maker's value is missing: the numbers stay on the record all the same
        shown = tuple(ReadingRecord(name, text, text, "", "") for name, text in event.readings.items())
    return AnswerRecord(
        at=event.at, test=test.id, ask=test.ask, outcome="", readings=shown,
        judged=lines[0] if lines else "", band=lines[1] if lines else "", expected=_expected(test, lines),
        source=test.source, close=bool(chances), chances=chances,
        by="the technician" if event.recorded else "", compared=False, was_mistake=event.was_mistake,
        reason="", note=event.note, fate=why_not,
    )  # fmt: skip


def _expected(test: Test, lines: Sequence[str]) -> str:
    return lines[2] if test.expected is not None and len(lines) > 3 else ""


def _readings(walk: Walk, state: State, test: Test, event: Answered) -> tuple[ReadingRecord, ...]:
    if not event.readings:
        return ()
    if event.values:
        items = {item.name: item for item in test.reads}
        return tuple(
            _reading(items[name], text, event.values[name], event.meters.get(name, ""),
                     event.deviations.get(name, 0.0))
            for name, text in event.readings.items()
        )  # fmt: skip
    try:  # judged by comparison: the event holds the numbers as typed only
        return _shown(test, read(walk, test, event.readings, state.meters.get(test.id)))
    except AnswerError:
        return tuple(ReadingRecord(name, text, text, "", "") for name, text in event.readings.items())


def _shown(test: Test, readings: Readings) -> tuple[ReadingRecord, ...]:
    return tuple(
        _reading(item, readings.typed[item.name], readings.values[item.name],
                 readings.meters.get(item.name, ""), readings.deviations[item.name])
        for item in test.reads
    )  # fmt: skip


def _reading(item: Read, typed: str, value: float, meter: str, deviation: float) -> ReadingRecord:
    if not meter and shown_by_car(item.of):
        meter = BY_CAR
    over = value == float("inf")
    shown = OVER if over else engineering(value, unit(item.unit), 6)
    spread = "" if over or deviation <= 0 else f"+/- {engineering(2 * deviation, unit(item.unit), 2)}"
    return ReadingRecord(item.name.replace("_", " "), typed, shown, meter.replace("-", " "), spread)


# --- what was said and decided ----------------------------------------------------------------------------------


def looks(events: Sequence[Event]) -> tuple[Saying, ...]:
    """Return what the first look found, each time it was answered."""
    gone = taken_back(events)
    return tuple(
        Saying(event.at, _look_words(event.found), fate(place, gone))
        for place, event in enumerate(events)
        if isinstance(event, Looked)
    )


def _look_words(found: str) -> str:
    if found == NOTHING:
        return "nothing of the dangers asked for was seen"
    danger = BY_ID.get(found)
    return f"DANGER: {danger.text}" if danger else f"DANGER: {found}"


def complaints(events: Sequence[Event]) -> tuple[Saying, ...]:
    """Return the owner's own words, and the minutes until it stops."""
    gone = taken_back(events)
    found = []
    for place, event in enumerate(events):
        if isinstance(event, Complained):
            words = event.words or "(the owner's words were not taken down)"
            if event.cuts_out_after is not None:
                words += f" (stops after {event.cuts_out_after:g} min, by the owner)"
            found.append(Saying(event.at, words, fate(place, gone)))
            found += [Saying(event.at, f"{name.replace('_', ' ')}: {text}", fate(place, gone))
                      for name, text in event.also.items()]  # fmt: skip
    return tuple(found)


def supplied(events: Sequence[Event]) -> tuple[Saying, ...]:
    """Return the maker's values that the technician supplied, and from where."""
    found = []
    for event in events:
        if isinstance(event, FactSupplied):
            value = event.value
            if isinstance(value, str):
                words = value
            elif isinstance(value, float | int):
                words = f"{value:g}"
            else:
                words = " ".join(f"{name}={part}" for name, part in value.items())
            source = event.source or "source not said"
            found.append(Saying(event.at, f"{event.name} = {words}, supplied by the technician ({source})"))
    return tuple(found)


_DECISIONS = {
    "read-danger": "danger read and acknowledged",
    "correct": "correct this cause",
    "advise": "give advice on this cause",
    "refer": "refer the car",
    "go-on": "go on in another tree",
    "remaining": "look at the other causes and the tests not yet done",
    "tree": "go on with the tree",
    "isolated": "leave the car isolated and refer it",
}


def decisions(walk: Walk, events: Sequence[Event]) -> tuple[Saying, ...]:
    """Return what people decided: at endings, after proofs, and where the evidence said otherwise than the tree."""
    gone = taken_back(events)
    found = []
    for place, event in enumerate(events):
        if isinstance(event, Decided):
            cause = walk.catalogue.causes.get(event.key)
            about = cause.name if cause else event.key
            found.append(Saying(event.at, f"{_DECISIONS.get(event.what, event.what)}: {about}", fate(place, gone)))
        elif isinstance(event, AdviceShown):
            words = (
                f"the tree said {event.tree}; the evidence of the day said {event.evidence}, at least "
                f"{event.dearer:,.0f} cheaper on average; {_followed(events[place + 1:], event)}"
            )
            found.append(Saying(event.at, words))
    return tuple(found)


def _followed(events: Sequence[Event], advice: AdviceShown) -> str:
    """Return what the technician did after advice was shown."""
    for event in events:
        if isinstance(event, Answered) and event.outcome != NOT_DONE:
            did = f"test {event.test}"
        elif isinstance(event, Decided) and event.what not in ("remaining", "tree"):
            did = "refer the car" if event.what == "refer" else f"{event.what} {event.key}"
        elif isinstance(event, Undone):
            return "the technician took answers back first"
        else:
            continue
        whose = {advice.tree: "went on with the tree", advice.evidence: "followed the evidence"}
        return f"the technician {whose.get(did, 'did otherwise')}: {did}"
    return "nothing was done since"
