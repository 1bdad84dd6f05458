"""The prompts of one test: conditions, readings, outcome, a close reading, a maker's value that is missing."""

from __future__ import annotations

from diagtree.knowledge.limits import MissingName, UnknownFact
from diagtree.knowledge.words import Power, Test, Where
from diagtree.reason.arrangement import may_be_shown
from diagtree.walk import cautions
from diagtree.walk.approach import approach, proof_is_good
from diagtree.walk.context import Walk
from diagtree.walk.danger_history import danger_stands, looks_on_record
from diagtree.walk.events import Measured
from diagtree.walk.judging import Verdict, better_meters, missing_fact, read, verdict, with_supplied
from diagtree.walk.prompts import Choice, Field, Fields, Form, Kind, Option, Prompt, Tick
from diagtree.walk.state import State
from diagtree.walk.verdict_text import verdict_lines as verdict_lines


def test_prompt(walk: Walk, state: State, test: Test, step: str | None, now: str) -> Prompt:
    """Return what is due for `test`: access first, then conditions, then the question itself."""
    if state.measured is not None and state.measured.test == test.id and not state.compare:
        return measured_prompt(walk, state, test)
    need = walk.layout.need_of(test)
    coming = approach(walk, state, need, now, test=None if test.stop else test.id, why=test.ask)
    if coming is not None:
        return coming
    conditions = conditions_of(state, test)
    if conditions and state.confirmed != test.id:
        return _conditions_prompt(walk, state, test, conditions)
    # The predicate is asked once more right where the act is shown, whatever led here.
    good = proof_is_good(walk, state, now)
    assert may_be_shown(walk.layout, state.arrangement, need, absence_proven=good)
    return _question(walk, state, test, step)


def conditions_of(state: State, test: Test) -> tuple[str, ...]:
    """Return what must hold before the test; with something open on a live car, a barrier and somebody who stays."""
    found = list(test.needs.state)
    if test.needs.power is Power.LIVE and test.place is Where.BAY and state.arrangement.open:
        found += [cautions.BARRIER, cautions.STAYS]
    return tuple(found)


def _conditions_prompt(walk: Walk, state: State, test: Test, conditions: tuple[str, ...]) -> Prompt:
    return Prompt(
        kind=Kind.CONDITIONS,
        key=test.id,
        heading="Before this test",
        ask="Does all of this hold? Type `yes` when it does.",
        form=Tick(word="yes"),
        how=conditions,
        about=(f"For: {test.ask}", *looks_on_record(walk, state, conditions)),
        not_done=not test.stop,
        test=test.id,
    )


def _about(walk: Walk, state: State, test: Test, step: str | None) -> tuple[str, ...]:
    lines = []
    if step is None:
        lines.append("Out of the tree's turn: you chose this test.")
    where = {"reception": "at reception", "bay": "in the bay", "road": "on the road"}[test.place.value]
    takes = f"{test.minutes:g} min {where}"
    if test.attended is not None and test.attended != test.minutes:
        takes += f", {test.attended:g} of them bound to the car"
    if step not in (None, test.id):
        takes += f" (step {step})"
    lines.append(takes)
    if test.needs.tools:
        lines.append("Tools: " + ", ".join(tool.replace("-", " ") for tool in test.needs.tools))
    if state.opened:
        lines.append("Open now: " + ", ".join(walk.catalogue.access[item].name for item in state.opened))
    return tuple(lines)


def _question(walk: Walk, state: State, test: Test, step: str | None) -> Prompt:
    layout_open = walk.layout.closure(test.needs.open)
    near = any(walk.catalogue.access[item].dead_only for item in layout_open)
    warned = cautions.job_cautions(
        test.needs, test.place, test.qualification, test.mind, dead=state.arrangement.dead, dead_only_near=near
    )
    if danger_stands(walk, state):
        warned = (cautions.AFTER_DANGER, *warned)
    told: tuple[str, ...] = ()
    form: Form
    comparing = state.compare and state.measured is not None and state.measured.test == test.id
    if test.reads and not comparing:
        other = state.meters.get(test.id)
        fields = tuple(Field(item.name, _field_text(item.name, item.unit), item.unit) for item in test.reads)
        form = Fields(fields)
        if other:
            told = (f"Measured again with: {other.replace('-', ' ')}",)
    else:
        form = Choice(tuple(Option(item.id, item.id, danger=item.id in test.stop) for item in test.outcomes))
        if comparing:
            told = ("The maker's value is not known. Judge by comparison with the same part on this car.",)
    return Prompt(
        kind=Kind.READING if isinstance(form, Fields) else Kind.OUTCOME,
        key=test.id,
        heading=step or test.id,
        ask=test.ask,
        form=form,
        how=test.how,
        about=_about(walk, state, test, step),
        cautions=warned,
        told=told,
        not_done=not test.stop,
        did_not=state.arrangement.dead,
        test=test.id,
    )


def _field_text(name: str, unit_text: str) -> str:
    return f"{name.replace('_', ' ')} in {unit_text}" if unit_text else name.replace("_", " ")


def other_meter(test: Test, measured: Measured) -> str | None:
    """Return the meter that was used instead of the test's own tools, if any."""
    return next((meter for meter in measured.meters.values() if meter not in test.needs.tools), None)


def measured_prompt(walk: Walk, state: State, test: Test) -> Prompt:
    """Return what is due for readings that were typed but not judged yet. The readings are kept."""
    measured = state.measured
    assert measured is not None
    typed = tuple(f"You typed: {name.replace('_', ' ')} {text}" for name, text in measured.readings.items())
    readings = read(walk, test, measured.readings, other_meter(test, measured))
    try:
        found = verdict(walk, test, readings, state.facts)
    except (UnknownFact, MissingName) as error:
        return _fact_prompt(test, missing_fact(error), typed)
    lines = verdict_lines(test, found, readings, with_supplied(walk.facts, state.facts))
    return _close_prompt(walk, state, test, found, (*typed, *lines))


def _fact_prompt(test: Test, name: str, typed: tuple[str, ...]) -> Prompt:
    return Prompt(
        kind=Kind.FACT,
        key=name,
        heading="A maker's value is missing",
        ask=(
            f"The profile of this car does not know `{name}`. Type the maker's value and where it stands; "
            "or `compare` to judge by the same part on this car."
        ),
        form=Fields(
            (
                Field("value", "maker's value (a number, `ntc r25=10000 beta=3435`, or `compare`)", number=False),
                Field("source", "where it stands (manual, page)", number=False, optional=True),
            )
        ),
        about=(*typed, "The record says that you supplied it. It is asked once in this case."),
        not_done=True,
        test=test.id,
    )


def _close_prompt(walk: Walk, state: State, test: Test, found: Verdict, about: tuple[str, ...]) -> Prompt:
    used = state.meters.get(test.id)
    others = [tool for item in test.reads for tool in better_meters(walk, test, item.unit, used)]
    chances = [f"{name} {100 * chance:.0f} %" for name, chance in found.judged.chances.items() if chance > 0.0005]
    counts = "it counts for each outcome by its chance"
    if test.safety:
        counts = f"it counts as {found.judged.outcome}: safety needs the whole uncertainty on the safe side"
    options = [Option("accept", f"keep this reading; {counts}")]
    options.append(Option("again", "measure a second time"))
    options += [
        Option(f"with:{tool}", f"measure again with the {tool.replace('-', ' ')}") for tool in dict.fromkeys(others)
    ]
    return Prompt(
        kind=Kind.CLOSE_READING,
        key=test.id,
        heading="Close to a limit",
        ask=f"The meter's uncertainty reaches over a limit ({', '.join(chances)}). What now?",
        form=Choice(tuple(options)),
        about=about,
        not_done=True,
        test=test.id,
    )
