"""The page of all quantities and verdicts as Markdown: meaning, inputs with range, formula, source, examples."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from diagtree.physics.data import Known, TimeOut
from diagtree.physics.quantity import Input, Quantity, Value
from diagtree.physics.ranges import amount, plain, range_words
from diagtree.physics.verdict import Verdict

CAUTIONS = {
    "none": "",
    "live": "Measured on a live circuit: only where the procedure allows it, with probes and leads rated for it.",
    "high-voltage": "High voltage: qualified persons only. Law, maker's procedure and a licensed person first.",
}
"""What heads a quantity by its hazard."""

LINE = "| --- | --- | --- | --- |"

INTRODUCTION = """# Quantities

This page is generated from the code; a test fails when it is stale. Trees call a quantity by its name with
underscores (`ntc(inlet_temperature, vehicle.inlet.ac_sensor)`), the bench calculator takes it with hyphens. Every
number is checked against its range before a formula runs. Sources are named as they were read; "from memory" means
that no source was read and that the value must be confirmed before it gates a safety decision.

A computed value never replaces the maker's procedure, a waiting time or a measurement."""


def page(
    quantities: Iterable[Quantity],
    verdicts: Iterable[Verdict],
    known: Mapping[str, Known],
    time_outs: Iterable[TimeOut],
) -> str:
    """Return the whole page: quantities, verdicts, single limits and time-outs, in the order given."""
    numbers, words = tuple(quantities), tuple(verdicts)
    parts = [INTRODUCTION, _contents(numbers, words)]
    parts += [quantity_section(one) for one in numbers]
    parts.append("# Verdicts\n\nResults that are words. The bench calculator takes them like quantities.")
    parts += [verdict_section(one) for one in words]
    parts += [_known(known), _time_outs(time_outs)]
    return "\n\n".join(parts) + "\n"


def quantity_section(one: Quantity) -> str:
    """Return the section of one quantity."""
    lines = [f"## {one.id}", "", f"{_sentence(one.meaning)}{_unit(one.unit)}", ""]
    lines += _caution(one.hazard)
    lines += [f"- Formula: `{one.formula}`", f"- Source: {one.source}", f"- Returns also: {_inverses(one)}", ""]
    lines += [*_inputs(one.inputs), "Worked examples:", ""]
    for example in one.worked:
        tolerance = f" +/-{amount(example.tolerance, one.unit)}" if example.tolerance else ""
        result = f"**{amount(example.expected, one.unit)}**{tolerance}"
        lines.append(f"- {_call(example.inputs)}: {result} ({example.source})")
    return "\n".join(line for line in lines if not line.endswith("Returns also: "))


def verdict_section(one: Verdict) -> str:
    """Return the section of one verdict."""
    lines = [f"## {one.id}", "", _sentence(one.meaning), "", *_caution(one.hazard)]
    lines += [f"- Rule: {one.rule}", f"- Source: {one.source}", ""]
    lines += [*_inputs(one.inputs), "Worked examples:", ""]
    lines += [f"- {_call(example.inputs)}: **{example.expected}** ({example.source})" for example in one.worked]
    return "\n".join(lines)


def _known(known: Mapping[str, Known]) -> str:
    """Return the table of single limits."""
    rows = [
        f"| {meaning} | {amount(one.value, one.unit)} | {one.source} | {one.mark.value} |"
        for meaning, one in known.items()
    ]
    return "\n".join(["# Limits without a formula", "", "| what | value | source | how it was got |", LINE, *rows])


def _time_outs(time_outs: Iterable[TimeOut]) -> str:
    """Return the table of time-outs."""
    rows = [
        f"| {one.stage} | {one.protocol} | {one.side} | {plain(one.seconds)} s | {one.source} |" for one in time_outs
    ]
    head = ["# Time-outs of a digital charging session", "", "| stage | protocol | side | limit | source |"]
    return "\n".join([*head, "| --- | --- | --- | --- | --- |", *rows])


def _contents(quantities: Iterable[Quantity], verdicts: Iterable[Verdict]) -> str:
    """Return the table of contents."""
    rows = [f"| [{one.id}](#{one.id}) | {one.meaning} | {one.unit or 'plain number'} |" for one in quantities]
    rows += [f"| [{one.id}](#{one.id}) | {one.meaning} | word |" for one in verdicts]
    return "\n".join(["| name | meaning | unit |", "| --- | --- | --- |", *rows])


def _inputs(inputs: Iterable[Input]) -> list[str]:
    """Return the table of inputs."""
    rows = []
    for wanted in inputs:
        default = wanted.default
        given = (
            "must be given"
            if default is None
            else default
            if isinstance(default, str)
            else amount(default, wanted.unit)
        )
        rows.append(f"| `{wanted.name}` | {wanted.meaning} | {range_words(wanted)} | {given} |")
    return ["| input | meaning | type | if left out |", LINE, *rows, ""]


def _inverses(one: Quantity) -> str:
    """Return which inputs can be asked for instead."""
    return ", ".join(f"`{name}`" for name in one.inverses)


def _caution(hazard: str) -> list[str]:
    """Return the caution of a hazard as a quotation, or nothing."""
    return [f"> {CAUTIONS[hazard]}", ""] if CAUTIONS[hazard] else []


def _call(inputs: Mapping[str, Value]) -> str:
    """Return inputs as `name = value`, or a word where there are none."""
    return ", ".join(f"{name} = {_shown(value)}" for name, value in inputs.items()) or "standard values"


def _shown(value: Value) -> str:
    """Return one input's value: number, word or part of a profile."""
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{name}: {_shown(part)}" for name, part in value.items()) + "}"
    return value if isinstance(value, str) else plain(value)


def _sentence(meaning: str) -> str:
    """Return a meaning with a capital letter."""
    return meaning[:1].upper() + meaning[1:]


def _unit(unit: str) -> str:
    """Return the unit as it stands behind a meaning."""
    return f", in {unit}." if unit else ", a plain number."
