"""The job card as titled sections of plain text, the same for every format."""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.report.job_card_values import CAUTION_FIRST, JobCard, Taken
from diagtree.report.job_record_conclusion import chance_words
from diagtree.report.job_record_layout import Block, Bullets, Pairs, Section

_IN_FULL = 6  # causes told one by one; the rest together


def sections(card: JobCard) -> Iterator[Section]:
    """Give the sections in the order in which they are read, what must not be overlooked first."""
    yield Section("Safety: tell the owner", (Bullets(card.safety),), "")
    yield Section("Job", (Pairs(_job(card)),), "")
    yield Section("In the owner's words", tuple(_words(card)), "not taken down")
    yield Section("Answers at the desk", tuple(_answers(card)), "none")
    if card.complaint:
        yield Section("First ranking of the causes", tuple(_ranking(card)), "none")
        yield Section("In the bay", tuple(_bay(card)), "No step in the bay is due: see `stands at`.")
    yield Section("Keep for the technician", (Bullets(card.keep),), "")


def _job(card: JobCard) -> tuple[tuple[str, str], ...]:
    complaint = f"{card.title} ({card.complaint})" if card.complaint else "not found yet"
    return (
        ("case", card.case),
        ("made", " ".join(filter(None, (card.printed.replace("T", " ")[:16], card.workshop, card.by)))),
        ("car", card.car),
        ("complaint", complaint),
        ("sorted by", card.sorted_by),
        ("stands at", card.stands_at),
        ("go on with", card.go_on),
    )


def _words(card: JobCard) -> Iterator[Block]:
    rows = [("words", f'"{card.words}"' if card.words else "")]
    if card.cuts_out_after is not None:
        rows.append(("stops after", f"{card.cuts_out_after:g} min, by the owner"))
    rows += [(name.replace("_", " "), text) for name, text in card.also]
    if any(text for _, text in rows):
        yield Pairs(tuple(rows))


def _answers(card: JobCard) -> Iterator[Block]:
    lines = [f"First look: {card.looked}"] if card.looked else []
    for told in card.told:
        note = f" ({told.note})" if told.note else ""
        record = "" if told.bears or not card.complaint else " [for the record, no evidence here]"
        lines.append(f"{told.ask} {told.outcome}{note}{record}")
    lines += [f"Note: {note}" for note in card.notes]
    if lines:
        yield Bullets(tuple(lines))


def _ranking(card: JobCard) -> Iterator[Block]:
    if card.doubt:
        yield Bullets((card.doubt,))
    lines = []
    for one in card.ranking[:_IN_FULL]:
        where = f" [{one.where}]" if one.where else ""
        work = f": {one.what.rstrip('.')}, {one.minutes:g} min" if one.minutes is not None else ""
        lines.append(f"{chance_words(one.chance)}: {one.name}{where}{work}")
    rest = card.ranking[_IN_FULL:]
    if rest:
        lines.append(f"{chance_words(sum(one.chance for one in rest))}: {len(rest)} others together")
    yield Bullets(tuple(lines))
    if card.outside is not None:
        yield Pairs((("fault outside the car", chance_words(card.outside)),))


def _bay(card: JobCard) -> Iterator[Block]:
    bay = card.bay
    if bay is None:
        return
    yield Pairs((
        ("to find the cause", f"{bay.mean:.0f} min on average; 8 cars of 10 between {bay.in_10:.0f} and "
                              f"{bay.in_90:.0f} min, half within {bay.in_50:.0f}"),
        ("on top", "the repair, its proof charge, putting back and the hand-back"),
    ))  # fmt: skip
    if card.takes:
        yield Bullets(tuple(_taken(one) for one in card.takes))


def _taken(one: Taken) -> str:
    kind = {"access": "opened: ", "tool": "tool: "}.get(one.kind, "")
    return f"{chance_words(one.chance)}: {kind}{one.name}"


def closing() -> str:
    """Return the line with which every card ends."""
    return CAUTION_FIRST
