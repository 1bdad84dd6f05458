"""The page of all observables and parts as Markdown: names, units, what changes them; parts, faults, their numbers."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from diagtree.physics.data import Known
from diagtree.physics.observable import Observable
from diagtree.physics.part import Mode, Part
from diagtree.physics.ranges import amount
from diagtree.physics.setup import FACTS
from diagtree.report.quantities_page import CAUTIONS

INTRODUCTION = """# Observables and parts

This page is generated from the code; a test fails when it is stale. An observable is what can be measured on a car; a
reading of a test names it (`reads: {resistance: {unit: ohm, of: resistance(inlet.ac_sensor)}}`), in any unit of the
same kind. A part is what can be faulty; a cause names what is physically wrong (`fault: {inlet.ac_sensor: open}`).
Simulated cars stand on both: the fault changes the observable, by the same formulas as in [quantities](quantities.md).

A name is `kind(part)` or `kind(part, detail, ...)`. Braces hold a choice: one of them, or none where `-` is among them.
A fault is a word, or a word and a number with its unit (`series 300 ohm`, `leakage 2 kohm`), or a number alone in the
part's own unit. Where the number may be left out, the middle of the usual span is taken, and each simulated car draws
its own from that span, evenly on a logarithmic scale. Usual spans and what the simulated car takes for granted are
estimates; no limit rests on them. What a vehicle profile does not say is an error that names the fact.

A simulated reading never replaces the maker's procedure or a measurement."""


def page(observables: Iterable[Observable], parts: Iterable[Part], assumed: Mapping[str, Known]) -> str:
    """Return the whole page: observables, parts, and what simulated cars take for granted, in the order given."""
    families, kinds = tuple(observables), tuple(parts)
    sections = [INTRODUCTION, "# Observables", *(observable_section(one) for one in families)]
    sections += ["# Parts", *(part_section(one) for one in kinds), _facts(), _assumed(assumed)]
    return "\n\n".join(sections) + "\n"


def observable_section(one: Observable) -> str:
    """Return the section of one family of observables."""
    lines = [f"## {pattern(one)}", "", f"{_sentence(one.meaning)}, in {one.unit}.", ""]
    lines += [f"> {CAUTIONS[one.hazard]}", ""] if CAUTIONS[one.hazard] else []
    lines.append(f"- Changed by faults of: {_parts(one.changed_by)}")
    lines.append(f"- Source: {one.source}")
    lines += [f"- Takes for granted: {one.assumes}"] if one.assumes else []
    return "\n".join(lines)


def pattern(one: Observable) -> str:
    """Return the names of a family as one: `voltage(pilot, {station end | vehicle end}, ...)`."""
    groups = (group[0] if len(group) == 1 else "{" + " | ".join(name or "-" for name in group) + "}"
              for group in one.details)  # fmt: skip
    return f"{one.kind}({', '.join(groups)})"


def part_section(one: Part) -> str:
    """Return the section of one kind of part."""
    lines = [f"## {', '.join(one.names)}", "", f"{_sentence(one.meaning)}.", ""]
    lines += ["| fault | meaning | range | usual span |", "| --- | --- | --- | --- |"]
    lines += [f"| `{mode.takes()}` | {mode.meaning}{_alone(one, mode)} | {_range(mode)} | {_usual(mode)} |"
              for mode in one.modes]  # fmt: skip
    return "\n".join(lines)


def _alone(one: Part, mode: Mode) -> str:
    return " (also as a number alone)" if mode.word == one.number else ""


def _range(mode: Mode) -> str:
    return f"{amount(mode.low, mode.unit)} to {amount(mode.high, mode.unit)}" if mode.unit else ""


def _usual(mode: Mode) -> str:
    return " to ".join(amount(end, mode.unit) for end in mode.usual) if mode.usual else ""


def _facts() -> str:
    """Return the table of what observables ask of a vehicle profile."""
    rows = [f"| `{name}` | {meaning} |" for name, meaning in FACTS.items()]
    return "\n".join(["# What the vehicle profile must say", "", "| fact | value |", "| --- | --- |", *rows])


def _assumed(assumed: Mapping[str, Known]) -> str:
    """Return the table of what simulated cars take for granted."""
    rows = [f"| {name} | {amount(one.value, one.unit)} | {one.source} | {one.mark.value} |"
            for name, one in assumed.items()]  # fmt: skip
    head = ["# What simulated cars take for granted", "", "| what | value | source | how it was got |"]
    return "\n".join([*head, "| --- | --- | --- | --- |", *rows])


def _parts(names: tuple[str, ...]) -> str:
    return ", ".join(f"`{name}`" for name in names) or "none"


def _sentence(meaning: str) -> str:
    return meaning[:1].upper() + meaning[1:]
