"""A tree on paper, as Markdown, for a senior technician to review: picture, causes, tests, per cents, sources."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from diagtree.knowledge.house import Workshop
from diagtree.knowledge.words import SOMETHING_ELSE, Catalogue, Cause, Test, Tree
from diagtree.records import dataclass
from diagtree.report.job.markdown import escape
from diagtree.report.tree_page_cars import differences
from diagtree.report.tree_page_test import access_words, needs_lines, test_section
from diagtree.report.tree_picture import step_numbers

NOTICE = """This page is generated from the knowledge files; a test fails when it is stale. It is for judging on paper.
Local law, the maker's procedure and a licensed person come first; no page declares a car safe. Figures are for the
catalogue as written; what is otherwise on a car stands under "On each car"."""

INDEX = """# The complaint trees on paper

Generated pages, one for each tree that ships: a picture, causes, tests, per cents and sources. What the trees cost:
[prices.md](prices.md). What the words mean: [meaning.md](../meaning.md).

| tree | complaint | revision | causes | steps |
| --- | --- | --- | --- | --- |"""

ESTIMATE = "estimate"
"""The word that marks a figure as a guess, in `source`."""


@dataclass(frozen=True, slots=True)
class Paper:
    """What a page is made from. cars : vehicle id to the catalogue as it is on that car. sheets : files of pictures."""

    tree: Tree
    catalogue: Catalogue
    cars: Mapping[str, Catalogue]
    workshop: Workshop | None
    sheets: Sequence[str]

    @property
    def causes(self) -> tuple[Cause, ...]:
        """The listed causes, in the author's order."""
        return tuple(self.catalogue.causes[name] for name in self.tree.causes if name != SOMETHING_ELSE)

    @property
    def tests(self) -> tuple[Test, ...]:
        """The tests of the steps, in the order of the picture."""
        steps = step_numbers(self.tree, self.catalogue)
        names = dict.fromkeys(self.tree.steps[step].test for step in steps)
        return tuple(self.catalogue.tests[name] for name in names)

    def money(self, amount: float) -> str:
        """Return an amount in the house's money."""
        currency = self.workshop.currency if self.workshop else ""
        return f"{amount:.0f} {currency}".rstrip()


def page(paper: Paper) -> str:
    """Return the whole page. The tree must be sound (`check` finds no error)."""
    parts = [_head(paper), _picture(paper), _causes(paper), *_cause_sections(paper)]
    parts += ["## Tests", *(_tests(paper)), _per_cents(paper)]
    parts += [_other_tests(paper), "\n".join(differences(paper.tree, paper.catalogue, paper.cars)), _sources(paper)]
    return "\n\n".join(part for part in parts if part) + "\n"


def index(trees: Iterable[Tree]) -> str:
    """Return the page that lists all trees."""
    rows = [
        f"| [{tree.id}]({tree.id}.md) | {escape(tree.title)} | {tree.revision} "
        f"| {len(tree.causes)} | {len(tree.steps)} |"
        for tree in trees
    ]
    return "\n".join([INDEX, *rows]) + "\n"


def _head(paper: Paper) -> str:
    tree = paper.tree
    heard = [f"- {escape(words)}" for words in tree.hears]
    lines = [f"# {escape(tree.title)}", "", f"Tree `{tree.id}`, revision {tree.revision}.", "", NOTICE]
    return "\n".join([*lines, *(["", "## What owners say", "", *heard] if heard else [])])


def _picture(paper: Paper) -> str:
    lines = [
        "## Picture",
        "",
        "From left to right; the words on the lines are the outcomes. A step is drawn once: an arrow with its number",
        "stands where it is come to again. Sheets are A3, landscape.",
    ]
    for number, sheet in enumerate(paper.sheets, 1):
        lines += ["", f"![Sheet {number} of {len(paper.sheets)}]({sheet})"]
    return "\n".join(lines)


def _causes(paper: Paper) -> str:
    lines = ["## Causes", "", "| no. | cause | share | where | way out | minutes | parts | at the house's rate |"]
    lines.append("| --- | --- | --- | --- | --- | --- | --- | --- |")
    for number, (name, share) in enumerate(paper.tree.causes.items(), 1):
        if name == SOMETHING_ELSE:
            lines.append(f"| {number} | none of these | {share:g} | | referral | | | |")
            continue
        cause = paper.catalogue.causes[name]
        done = cause.correction or cause.advise
        parts = cause.correction.price if cause.correction else 0.0
        rate = paper.workshop.rate if paper.workshop else 0.0
        lines.append(
            f"| {number} | {escape(cause.name)} | {share:g} | {cause.where} "
            f"| {'repair' if cause.correction else 'advice'} | {done.minutes if done else 0:g} "
            f"| {paper.money(parts) if parts else ''} "
            f"| {paper.money((done.labour if done else 0.0) / 60 * rate + parts)} |"
        )
    total = sum(paper.tree.causes.values())
    return "\n".join([*lines, "", f"Shares are cases per 100; together {total:g}. They are estimates."])


def _cause_sections(paper: Paper) -> Iterator[str]:
    for number, cause in enumerate(paper.causes, 1):
        yield "\n".join([f"### {number}. {escape(cause.name)}", "", *_cause_lines(paper, cause)])


def _cause_lines(paper: Paper, cause: Cause) -> Iterator[str]:
    yield f"- id `{cause.id}`, {cause.where}"
    if cause.fault:
        faults = ", ".join(f"{part}: {wrong}" for part, wrong in cause.fault.items())
        yield f"- on simulated cars: `{faults}`"
    if cause.advise:
        yield f"- advice: {escape(cause.advise.do)} ({cause.advise.minutes:g} min)"
    if cause.correction:
        done = cause.correction
        yield f"- repair: {escape(done.do)} ({done.minutes:g} min, qualification {done.qualification.value})"
        yield from (f"  - {escape(line)}" for line in done.how)
        for part in done.parts:
            yield f"- part: {escape(part.name)}, {paper.money(part.price)}"
        yield from needs_lines(done.needs, paper.catalogue)
        yield from (f"- caution: {escape(line)}" for line in done.mind)
    if cause.proof:
        watch = f", watching {', '.join(cause.proof.watch)}" if cause.proof.watch else ""
        yield f"- proof: {cause.proof.charge.upper()} charge of {cause.proof.minutes:g} min{watch}"
    yield f"- source: {escape(cause.source) if cause.source else 'none given'}"


def _tests(paper: Paper) -> Iterator[str]:
    numbers = step_numbers(paper.tree, paper.catalogue)
    for test in paper.tests:
        steps = [numbers[step.id] for step in paper.tree.steps.values() if step.test == test.id and step.id in numbers]
        yield "\n".join(test_section(test, paper.catalogue, sorted(steps)))
    if (used := access_words(paper.tests, paper.causes, paper.catalogue)) is not None:
        yield used


def _per_cents(paper: Paper) -> str:
    """Return the table of what the causes show: a line for each unhealthy outcome, a column for each cause."""
    heads = [str(number) for number, _ in enumerate(paper.causes, 1)]
    lines = [
        "## Per cents",
        "",
        "What the knowledge states: of 100 cars with the cause (column, numbered as above), how many show the outcome.",
        "Healthy outcomes are left out: they are what remains to 100. An empty cell is 0.",
        "",
        f"| test | outcome | {' | '.join(heads)} |",
        f"| --- | --- | {' | '.join('---:' for _ in heads)} |",
    ]
    for test in paper.tests:
        for outcome in test.outcome_ids():
            stated = [cause.shows.get(test.id, {}).get(outcome, 0.0) for cause in paper.causes]
            cells = [f"{value:g}" if value else "" for value in stated]
            if outcome != test.healthy and any(cells):
                lines.append(f"| {test.id} | {outcome} | {' | '.join(cells)} |")
    return "\n".join(lines)


def _other_tests(paper: Paper) -> str:
    used = {step.test for step in paper.tree.steps.values()}
    shown = dict.fromkeys(name for cause in paper.causes for name in cause.shows if name not in used)
    if not shown:
        return ""
    lines = ["## Tests that the causes show and this tree does not ask", ""]
    return "\n".join([*lines, *(f"- `{name}`: {escape(paper.catalogue.tests[name].ask)}" for name in shown)])


def _sources(paper: Paper) -> str:
    rests: dict[str, list[str]] = {}
    for test in paper.tests:
        rests.setdefault(test.source or "none given", []).append(f"test `{test.id}`")
    for cause in paper.causes:
        rests.setdefault(cause.source or "none given", []).append(f"cause `{cause.id}`")
    lines = ["## Sources, and what is an estimate", ""]
    lines.append(
        "Shares, minutes and prices are estimates of common practice throughout. So are per cents and limits whose "
        "source says so:"
    )
    for source, items in sorted(rests.items(), key=lambda pair: (ESTIMATE not in pair[0], pair[0])):
        lines += ["", f"- **{escape(source)}**: {', '.join(items)}"]
    return "\n".join(lines)
