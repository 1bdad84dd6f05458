"""The job record as titled sections of plain text, the same for every format: what stands where, in which words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime
from typing import TypeAlias

from diagtree.knowledge.words import NOT_DONE
from diagtree.records import dataclass
from diagtree.report.job_record_conclusion import chance_words, fine_percent
from diagtree.report.job_record_money import by_kind, money_words
from diagtree.report.job_record_values import (
    BY_CAR,
    AnswerRecord,
    ChargeRecord,
    CorrectionRecord,
    JobRecord,
    PairRecord,
    SafetyRecord,
    Saying,
)
from diagtree.walk.absence import without_unit


@dataclass(frozen=True, slots=True)
class Pairs:
    """Labels and what is said to each; a pair without text is left out."""

    rows: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Bullets:
    """Lines that stand one below the other."""

    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under heads; the first column names the row."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Entry:
    """One thing with a heading of its own, and what is said about it."""

    title: str
    inside: tuple[Pairs | Bullets | Table, ...]


Block: TypeAlias = Pairs | Bullets | Table | Entry


@dataclass(frozen=True, slots=True)
class Section:
    """A titled part of the record; `nothing` is said where it is empty."""

    title: str
    blocks: tuple[Block, ...]
    nothing: str = "nothing"


def sections(record: JobRecord) -> tuple[Section, ...]:
    """Return the whole record, section by section, in the order of reading."""
    when = _When(record.case.opened)
    said = record.conclusion
    return (
        Section("Case", (Pairs(tuple(_case(record))),)),
        Section("Complaint", _bullets(_sayings(record.complaints, when)), "the owner's words were not taken down"),
        Section("First look", _bullets(_sayings(record.looks, when)), "not done yet"),
        Section("Conclusion", tuple(_conclusion(record))),
        Section("For the owner", _bullets(said.owner)),
        Section("Correction and proof", tuple(_correction(one, record, when) for one in record.corrections)),
        Section("Tests and readings", tuple(_answer(one, when) for one in record.answers)),
        Section("Not done", _bullets(_not_done(record, when))),
        Section("Maker's values supplied by the technician", _bullets(_sayings(record.facts, when))),
        Section("Decisions", _bullets(_sayings(record.decisions, when))),
        Section("Safety and access, in order", tuple(_safety(record, when))),
        Section("The car now, by this record", (Pairs(_now(record)),)),
        Section("Notes", _bullets(_sayings(record.notes, when))),
        Section("Ruled out", _bullets(_ruled_out(record))),
        Section("What remains uncertain", _bullets(record.uncertain)),
        Section("Minutes and money", tuple(_account(record))),
        Section("What this record is", (Bullets(record.closing), Pairs(tuple(_anchor(record))))),
    )


@dataclass(frozen=True, slots=True)
class _When:
    """Times as people read them. The zone is named only where it is not the one that the case was opened in."""

    opened: str

    def __call__(self, at: str) -> str:
        try:
            time, opened = datetime.fromisoformat(at), datetime.fromisoformat(self.opened)
        except ValueError:
            return at
        zone = "" if time.utcoffset() == opened.utcoffset() else at[19:]
        return f"{time:%Y-%m-%d %H:%M:%S}{zone}"

    def all(self, text: str) -> str:
        """Return `text` with its last word, a time, as people read it."""
        before, _, at = text.rpartition(" at ")
        return f"{before} at {self(at)}" if before else text


def _bullets(lines: Iterable[str]) -> tuple[Bullets, ...]:
    found = tuple(lines)
    return (Bullets(found),) if found else ()


def _sayings(found: Sequence[Saying], when: _When) -> Iterator[str]:
    for one in found:
        yield f"{when(one.at)}: {one.text}" + (f" [{when.all(one.fate)}]" if one.fate else "")


def _case(record: JobRecord) -> Iterator[tuple[str, str]]:
    when = _When(record.case.opened)
    yield "Workshop", record.workshop
    yield "Case", f"{record.case.number} ({record.case.status})"
    yield "Opened", f"{when(record.case.opened)} (time zone {record.case.opened[19:] or 'not said'})"
    yield "By", record.case.by
    yield "Latest entry", when(record.case.changed)
    yield "Record made", when(record.printed)
    yield "Car", record.car
    for tree in record.trees:
        yield "Complaint tree", tree
    yield "Knowledge", f"digest {record.case.digest}"


def _conclusion(record: JobRecord) -> Iterator[Block]:
    said = record.conclusion
    sure = "" if said.chance is None else f"{chance_words(said.chance)} by the evidence of this case"
    yield Pairs((("Result", said.words), ("Cause", said.cause), ("How sure", sure)))
    if said.doubts:
        yield Bullets(said.doubts)
    rows = tuple((one.name, fine_percent(one.chance)) for one in said.chances)
    yield Entry("Chance of each cause by the evidence", (Table(("cause", "chance"), rows),))
    if said.cause:
        yield Entry("For it", (Bullets(said.arguments_for or ("nothing that was seen speaks for it",)),))
        yield Entry("Against it", (Bullets(said.arguments_against or ("nothing that was seen speaks against it",)),))
    if said.planned:
        yield Entry("To be done", (Bullets(said.planned),))


def _correction(one: CorrectionRecord, record: JobRecord, when: _When) -> Entry:
    pairs = [("Done", f"{one.do} ({one.minutes:g} min)"), ("Cause", one.cause)]
    pairs += [("Part", f"{name}, {money_words(price, record.currency)}") for name, price in one.parts]
    pairs.append(("Said", one.said))
    for charge in one.charges:
        pairs += _charge(charge, when)
    if not one.charges:
        pairs.append(("Proof charge", "none yet"))
    return Entry(f"{when(one.at)}: {one.do}", (Pairs(tuple(pairs)),))


def _charge(one: ChargeRecord, when: _When) -> Iterator[tuple[str, str]]:
    cut = "CUT OUT" if one.cut_out else "did not cut out"
    needed = f"needed: {one.needed:g} min{f' {one.needed_why}' if one.needed_why else ''}"
    yield (
        "Proof charge",
        f"{when(one.at)}: charged {one.minutes:g} min ({needed}), watched {one.watched:g} min, {one.power}, {cut}",
    )
    for name, text in one.seen:
        yield f"Seen, {name}", text
    if one.doubts:
        yield "Against it", "; ".join(one.doubts)
    yield "Judged", "; ".join(_sayings(one.results, when)) or "not judged yet"


def _answer(one: AnswerRecord, when: _When) -> Entry:
    pairs = [("Asked", one.ask), ("Outcome", one.outcome or "none"), ("Reason", one.reason)]
    pairs.append(("Does not count" if one.outcome else "Not judged", when.all(one.fate)))
    for reading in one.readings:
        text = f"{reading.value} {reading.spread}".rstrip()
        meter = f"with the {reading.meter}" if reading.meter else "no accuracy known: counted as exact"
        meter = BY_CAR if reading.meter == BY_CAR else meter
        pairs.append((f"Reading, {reading.name}", f"{text}; typed `{reading.typed}`; {meter}"))
    pairs += [("Judged", one.judged), ("Limit", one.band), ("Expected", one.expected.removeprefix("expected here: "))]
    if one.close:
        chances = ", ".join(f"{name} {chance_words(chance)}" for name, chance in one.chances if chance > 0.0005)
        pairs.append(("CLOSE to a limit", chances))
    if one.compared:
        pairs.append(("Compared", "judged by comparison on the same car; the maker's value is not known"))
    if one.was_mistake:
        pairs.append(("Mistake", "it replaces an earlier answer that was a mistake"))
    pairs += [("Source", one.source), ("Chosen by", one.by), ("Note", one.note)]
    fate = " [does not count]" if one.fate else ""
    return Entry(f"{when(one.at)}: {one.test}{fate}", (Pairs(tuple(pairs)),))


def _not_done(record: JobRecord, when: _When) -> Iterator[str]:
    for one in record.answers:
        if one.outcome == NOT_DONE:
            yield f"{when(one.at)}: {one.test}: {one.reason}" + (f" [{when.all(one.fate)}]" if one.fate else "")


def _safety(record: JobRecord, when: _When) -> Iterator[Block]:
    lines: list[str] = []
    for one in record.safety:
        if not one.pairs:
            lines.append(_line(one, when))
            continue
        if lines:
            yield Bullets(tuple(lines))
            lines = []
        rows = tuple(_pair(row) for row in one.pairs)
        heads = ("between", "read", "uncertainty", "limit", "verdict")
        yield Entry(f"{when(one.at)}: {one.what}", (Table(heads, rows),))
    if lines:
        yield Bullets(tuple(lines))


def _line(one: SafetyRecord, when: _When) -> str:
    return f"{when(one.at)}: {one.what}" + (f" - said: {one.said}" if one.said else "")


def _pair(row: PairRecord) -> tuple[str, ...]:
    spread = f"+/- {row.spread:.2g} V" if row.spread > 0 else "none known"
    return row.points, f"{without_unit(row.typed)} V", spread, f"below {row.limit:g} V", row.verdict


def _now(record: JobRecord) -> tuple[tuple[str, str], ...]:
    still = ", ".join(record.still_open) or "nothing"
    return ("Power", _When(record.case.opened).all(record.state_now)), ("Still open", still)


def _ruled_out(record: JobRecord) -> Iterator[str]:
    for one in record.ruled_out:
        chance = "struck out" if one.chance == 0 and "correction" in one.why else chance_words(one.chance)
        yield f"{one.name}: {chance}; {one.why}"


def _account(record: JobRecord) -> Iterator[Block]:
    rows = [
        (one.kind, f"{one.minutes:g}", f"{one.labour:g}", money_words(one.money, record.currency), one.what)
        for one in by_kind(record.account, record.rate)
    ]
    labour = sum(line.labour for line in record.account)
    total = money_words(record.money, record.currency)
    rows.append(("total", f"{record.minutes:g}", f"{labour:g}", total, f"at {record.rate:g} an hour"))
    yield Table(("kind", "minutes in the bay", "minutes of labour", "money", "what"), tuple(rows))


def _anchor(record: JobRecord) -> Iterator[tuple[str, str]]:
    yield "Chain head of this case", record.case.head
    breach = record.case.breach
    yield "Chain checked", f"NOT AS IT WAS WRITTEN: {breach}" if breach else "every entry is as it was written"
