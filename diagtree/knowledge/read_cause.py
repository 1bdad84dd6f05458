"""Read a cause of the catalogue, with its correction and proof, or its advice."""

from __future__ import annotations

from enum import StrEnum

from diagtree.knowledge.fields import Fields, Findings, number_of, plain_number
from diagtree.knowledge.place import LaterPlaces, Place
from diagtree.knowledge.read_test import read_needs
from diagtree.knowledge.words import (
    OUTSIDE,
    SOMETHING_ELSE,
    Advice,
    Cause,
    Correction,
    Part,
    Proof,
    Qualification,
    Where,
)
from diagtree.knowledge.yaml_text import Entry, Mapping, Scalar, Sequence

WHERE = (OUTSIDE, "inlet", "wiring", "charger", "battery", "low-voltage", "software")
_FULL = 1e-6  # per cents may be off by rounding of the written digits, not more


class Charge(StrEnum):
    """What a proof charges with."""

    AC = "ac"
    DC = "dc"


def read_cause(cause_id: str, entry: Entry, findings: Findings) -> Cause:
    """Return the cause under `entry`; mistakes go into `findings`."""
    fields = Fields(entry.value, f"cause `{cause_id}`", findings, entry.at)
    if cause_id == SOMETHING_ELSE:
        findings.error("reserved-word", entry.at, f"`{SOMETHING_ELSE}` is none of the listed causes: take it out")
    cause = Cause(
        id=cause_id,
        name=fields.text("name", required=True),
        where=_where(fields, findings),
        shows=_shows(fields, findings),
        fault=_fault(fields, findings),
        correction=_correction(fields, findings),
        proof=_proof(fields, findings),
        advise=_advice(fields, findings),
        source=fields.text("source"),
        at=entry.at,
        places=LaterPlaces(lambda: _shows_places(fields) | _fault_places(fields)),
        intermittent=fields.flag("intermittent"),
    )
    _one_end(cause, findings)
    fields.done()
    return cause


def _one_end(cause: Cause, findings: Findings) -> None:
    if cause.advise and (cause.correction or cause.proof):
        findings.error(
            "correction-and-advice",
            cause.at,
            f"cause `{cause.id}` has both: keep `correction` and `proof`, or `advise`",
        )
    elif cause.correction and not cause.proof:
        findings.error("proof-missing", cause.at, f"cause `{cause.id}` has a correction but no `proof:` of the fix")
    elif not cause.advise and not cause.correction:
        findings.error("no-correction", cause.at, f"cause `{cause.id}` needs `correction` and `proof`, or `advise`")


def _where(fields: Fields, findings: Findings) -> str:
    where = fields.text("where")
    node = fields.node("where")
    if node is not None and where not in WHERE:
        findings.error("unknown-word", node.at, f"`where` must be one of {', '.join(WHERE)}; got `{where}`")
    return where


def _shows(fields: Fields, findings: Findings) -> dict[str, dict[str, float]]:
    found: dict[str, dict[str, float]] = {}
    for test_id, entry in fields.children("shows"):
        if not isinstance(entry.value, Mapping):
            findings.wrong(entry.value, f"outcomes and their per cents for test `{test_id}`")
            continue
        read = {
            outcome: number_of(chance.value, f"per cent of `{outcome}`", findings, high=100, unit="per cent")
            for outcome, chance in entry.value.entries.items()
        }
        chances = {outcome: value or 0.0 for outcome, value in read.items()}
        total = sum(chances.values())
        if None not in read.values() and abs(total - 100) > _FULL:
            findings.error(
                "shows-not-100", entry.at, f"per cents of `{test_id}` in {fields.what} sum to {total:g}, not 100"
            )
        found[test_id] = chances
    return found


def _shows_places(fields: Fields) -> dict[str, Place]:
    """Return where each test of `shows` stands, and each of its outcomes as `shows.TEST.OUTCOME`."""
    found = fields.places("shows")
    shows = fields.node("shows")
    for test_id, entry in shows.entries.items() if isinstance(shows, Mapping) else ():
        if isinstance(entry.value, Mapping):
            found.update({f"shows.{test_id}.{name}": chance.at for name, chance in entry.value.entries.items()})
    return found


def _fault(fields: Fields, findings: Findings) -> dict[str, str | float]:
    found: dict[str, str | float] = {}
    node = fields.node("fault")
    if node is not None and not isinstance(node, Mapping):
        findings.wrong(node, "parts and what is wrong with them (`inlet.ac_sensor: open`) for `fault`")
    # The names of parts are physics', not ids: `DC+` is one.
    for name, entry in node.entries.items() if isinstance(node, Mapping) else ():
        if isinstance(entry.value, Scalar) and entry.value.text:
            number = plain_number(entry.value.text) if entry.value.plain else None
            found[name] = entry.value.text if number is None else number
        else:
            findings.wrong(entry.value, f"what is wrong with `{name}`: a word or a number")
    return found


def _fault_places(fields: Fields) -> dict[str, Place]:
    """Return where each part of `fault` stands, and what is wrong with it as `fault.PART.is`."""
    node = fields.node("fault")
    entries = node.entries if isinstance(node, Mapping) else {}
    found = fields.places("fault")
    return found | {f"fault.{name}.is": entry.value.at for name, entry in entries.items()}


def _correction(fields: Fields, findings: Findings) -> Correction | None:
    entry = fields.entry("correction")
    if entry is None:
        return None
    inner = Fields(entry.value, f"`correction` of {fields.what}", findings, entry.at)
    correction = Correction(
        do=inner.text("do", required=True),
        how=inner.texts("how"),
        minutes=inner.number("minutes", required=True, unit="minutes"),
        attended=inner.number_or_none("attended", unit="minutes"),
        parts=_parts(inner, findings),
        needs=read_needs(inner, findings, Where.BAY, entry.at),
        qualification=inner.word("qualification", Qualification, Qualification.NONE),
        mind=inner.texts("mind"),
        at=entry.at,
    )
    inner.done()
    return correction


def _parts(fields: Fields, findings: Findings) -> tuple[Part, ...]:
    node = fields.node("parts")
    if node is None:
        return ()
    if not isinstance(node, Sequence):
        findings.wrong(node, "a list of parts, each {name: ..., price: ...}")
        return ()
    found = []
    for item in node.items:
        inner = Fields(item, f"a part of {fields.what}", findings)
        found.append(Part(inner.text("name", required=True), inner.number("price", required=True, unit="money")))
        inner.done()
    return tuple(found)


def _proof(fields: Fields, findings: Findings) -> Proof | None:
    entry = fields.entry("proof")
    if entry is None:
        return None
    inner = Fields(entry.value, f"`proof` of {fields.what}", findings, entry.at)
    proof = Proof(
        charge=inner.word("charge", Charge, Charge.AC, required=True).value,
        minutes=inner.number("minutes", required=True, unit="minutes"),
        attended=inner.number_or_none("attended", unit="minutes"),
        watch=inner.texts("watch"),
        at=entry.at,
    )
    inner.done()
    return proof


def _advice(fields: Fields, findings: Findings) -> Advice | None:
    entry = fields.entry("advise")
    if entry is None:
        return None
    inner = Fields(entry.value, f"`advise` of {fields.what}", findings, entry.at)
    advice = Advice(
        do=inner.text("do", required=True),
        minutes=inner.number("minutes", required=True, unit="minutes"),
        attended=inner.number_or_none("attended", unit="minutes"),
        at=entry.at,
    )
    inner.done()
    return advice
