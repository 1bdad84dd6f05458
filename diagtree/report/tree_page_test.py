"""One test of a tree on paper, and what has to be opened for the tests and repairs of a tree."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from diagtree.knowledge.access_order import closure
from diagtree.knowledge.words import MAKE_SAFE, RE_ENERGISE, Catalogue, Cause, Needs, Outcome, Test
from diagtree.report.job.markdown import escape


def test_section(test: Test, catalogue: Catalogue, steps: Sequence[int]) -> Iterator[str]:
    """Give the lines of one test. steps : numbers of the steps that ask it, as in the picture."""
    yield f"### {test.id}"
    yield ""
    yield f"**{escape(test.ask)}**"
    yield ""
    yield from (f"{number}. {escape(line)}" for number, line in enumerate(test.how, 1))
    if test.how:
        yield ""
    yield f"- at step{'s' if len(steps) > 1 else ''} {', '.join(map(str, steps))}"
    attended = "" if test.attended is None else f", attended {test.attended:g} min"
    yield f"- {test.place.value}, {test.minutes:g} min{attended}, qualification {test.qualification.value}"
    yield from needs_lines(test.needs, catalogue)
    yield from (f"- caution: {escape(line)}" for line in test.mind)
    yield from _judged(test)
    yield f"- outcomes: {'; '.join(_outcome(one, test) for one in test.outcomes)}"
    yield f"- healthy: {test.healthy}; drawn at random by mistake: {test.mistake:g} per cent"
    yield f"- source: {escape(test.source)}"


def needs_lines(needs: Needs, catalogue: Catalogue) -> Iterator[str]:
    """Give what must hold before a job: power, what is opened on the way, tools, conditions."""
    yield f"- power: {needs.power.value}"
    opened = sorted(closure(needs.open, catalogue.access))
    if opened:
        yield f"- opened: {', '.join(escape(catalogue.access[name].name) for name in opened)}"
    if needs.tools:
        yield f"- tools: {', '.join(needs.tools)}"
    yield from (f"- condition: {escape(line)}" for line in needs.state)


def _judged(test: Test) -> Iterator[str]:
    if test.reads:
        reads = (f"{read.name} [{read.unit}]" + (f" (simulated: {read.of})" if read.of else "") for read in test.reads)
        yield f"- reads: {escape(', '.join(reads))}"
    if test.expected:
        yield f"- expected: `{test.expected.text}`"
    if test.judge and test.reads and test.judge.text != test.reads[0].name:
        yield f"- judged: `{test.judge.text}`"
    if test.safety:
        yield "- a safety limit: the whole uncertainty must be on the safe side"


def _outcome(one: Outcome, test: Test) -> str:
    name = f"**{one.id}**" if one.id == test.healthy else one.id
    limit = f" below `{one.below.text}`" if one.below else " otherwise" if test.reads else ""
    return f"{name}{limit}{' (stops the job: danger)' if one.id in test.stop else ''}"


def access_words(tests: Iterable[Test], causes: Iterable[Cause], catalogue: Catalogue) -> str | None:
    """Return the table of what is opened for these tests and repairs; None where nothing is."""
    needs = [test.needs for test in tests] + [cause.correction.needs for cause in causes if cause.correction]
    named = {name for need in needs for name in closure(need.open, catalogue.access)}
    opened = [item for item in catalogue.access.values() if item.id in named]
    if not opened:
        return None
    lines = ["### What is opened", "", "| access | after | opens | closes | on a live car | caution |"]
    lines.append("| --- | --- | --- | --- | --- | --- |")
    for item in opened:
        live = "never open" if item.dead_only else "closed before" if item.refit_before_live else "may be open"
        after = ", ".join(escape(catalogue.access[name].name) for name in item.after)
        mind = " ".join(escape(line) for line in item.mind)
        lines.append(f"| {escape(item.name)} | {after} | {item.open:g} min | {item.close:g} min | {live} | {mind} |")
    made = [catalogue.procedures[name] for name in (MAKE_SAFE, RE_ENERGISE) if name in catalogue.procedures]
    if made:
        lines += ["", "; ".join(f"`{one.id}` takes {one.minutes:g} min" for one in made).capitalize() + "."]
    return "\n".join(lines)
