"""Read accesses and procedures of the catalogue."""

from __future__ import annotations

import re
from enum import StrEnum
from itertools import combinations

from diagtree.knowledge.fields import Fields, Findings, is_id
from diagtree.knowledge.place import Place
from diagtree.knowledge.words import MAKE_SAFE, MAKE_SAFE_ORDER, Access, Procedure, ProcedureStep
from diagtree.knowledge.yaml_text import Entry, Node, Scalar, Sequence

_EARTH = re.compile(r"\b(?:chassis|earth|ground|body|PE)\b", re.IGNORECASE)
PROCEDURES = (MAKE_SAFE, "re-energise", "hand-back")
_ORDER = f"write these kinds of steps in this order, each at least once: {', '.join(MAKE_SAFE_ORDER)}"


class AccessPower(StrEnum):
    """What an access may be open on."""

    ANY = "any"
    DEAD = "dead"


def read_access(access_id: str, entry: Entry, findings: Findings) -> Access:
    """Return the access under `entry`; mistakes go into `findings`."""
    fields = Fields(entry.value, f"access `{access_id}`", findings, entry.at)
    access = Access(
        id=access_id,
        name=fields.text("name", required=True),
        open=fields.number("open", required=True, unit="minutes"),
        close=fields.number("close", required=True, unit="minutes"),
        after=fields.names("after"),
        dead_only=fields.word("power", AccessPower, AccessPower.ANY) is AccessPower.DEAD,
        refit_before_live=fields.flag("refit-before-live"),
        mind=fields.texts("mind"),
        at=entry.at,
        places=fields.places("after"),
    )
    fields.done()
    return access


def read_procedure(procedure_id: str, entry: Entry, findings: Findings) -> Procedure:
    """Return the procedure under `entry`; mistakes go into `findings`."""
    if procedure_id not in PROCEDURES:
        findings.error(
            "unknown-word", entry.at, f"`{procedure_id}` is no procedure; there are {', '.join(PROCEDURES)}"
        )
    fields = Fields(entry.value, f"procedure `{procedure_id}`", findings, entry.at)
    needs = fields.entry("needs")
    opens: tuple[str, ...] = ()
    places: dict[str, Place] = {}
    if needs is not None:
        inner = Fields(needs.value, f"`needs` of {fields.what}", findings, needs.at)
        opens, places = inner.names("open"), inner.places("open")
        inner.done()
    procedure = Procedure(
        id=procedure_id,
        minutes=fields.number("minutes", required=True, unit="minutes"),
        open=opens,
        steps=_steps(procedure_id, fields, findings),
        mind=fields.texts("mind"),
        at=entry.at,
        places=places,
    )
    fields.done()
    return procedure


def _steps(procedure_id: str, fields: Fields, findings: Findings) -> tuple[ProcedureStep, ...]:
    node = fields.node("steps")
    if node is None:
        return ()
    if not isinstance(node, Sequence):
        findings.wrong(node, "a list of steps, each {kind: ..., do: ...}")
        return ()
    steps = tuple(_step(procedure_id, item, fields.what, findings) for item in node.items)
    if procedure_id == MAKE_SAFE and steps:
        _in_order(steps, findings)
        _all_pairs(steps, findings)
    return steps


def _in_order(steps: tuple[ProcedureStep, ...], findings: Findings) -> None:
    """Say where making safe leaves a kind of step out or brings it too early: then nothing would prove a dead car."""
    wanted = 0
    for step in steps:
        if step.kind not in MAKE_SAFE_ORDER or (wanted and step.kind == MAKE_SAFE_ORDER[wanted - 1]):
            continue  # an unknown kind is told by itself; several steps of one kind may follow each other
        if wanted == len(MAKE_SAFE_ORDER) or step.kind != MAKE_SAFE_ORDER[wanted]:
            due = f"`{MAKE_SAFE_ORDER[wanted]}` is due" if wanted < len(MAKE_SAFE_ORDER) else "all is done"
            there = step.places.get("kind", step.at)
            findings.error("make-safe-order", there, f"`{step.kind}` stands where {due}; {_ORDER}")
            return
        wanted += 1
    if wanted < len(MAKE_SAFE_ORDER):
        findings.error(
            "make-safe-order", steps[-1].at, f"making safe ends before `{MAKE_SAFE_ORDER[wanted]}`; {_ORDER}"
        )


def _all_pairs(steps: tuple[ProcedureStep, ...], findings: Findings) -> None:
    """Warn where a pole is not measured against another pole or against the chassis: it may be live unseen."""
    absences = [step for step in steps if step.kind == "absence" and step.between]
    pairs = {frozenset(re.split(r"\s+and\s+", points.strip())) for step in absences for points in step.between}
    points = sorted({point for pair in pairs if len(pair) == 2 for point in pair})
    missing = [f"{a} and {b}" for a, b in combinations(points, 2) if frozenset((a, b)) not in pairs]
    if not any(_EARTH.search(point) for point in points):
        missing += [f"{point} and chassis" for point in points]
    if absences and missing:
        findings.warning(
            "absence-pairs-missing",
            absences[0].at,
            f"the absence of voltage is not measured between {'; '.join(missing)}: "
            "measure each pole to each other and to chassis",
        )


def _step(procedure_id: str, node: Node, what: str, findings: Findings) -> ProcedureStep:
    if isinstance(node, Scalar) and procedure_id != MAKE_SAFE:
        return ProcedureStep("do", node.text, None, (), None, (), node.at)  # a plain line of what to do
    fields = Fields(node, f"a step of {what}", findings)
    kind = fields.text("kind", required=procedure_id == MAKE_SAFE, default="do")
    places = fields.places("kind", "minutes", "below")
    kind_at = places.get("kind", fields.at)
    if procedure_id == MAKE_SAFE and kind not in MAKE_SAFE_ORDER:
        findings.error(
            "unknown-word",
            kind_at,
            f"`kind` must be one of {', '.join(dict.fromkeys(MAKE_SAFE_ORDER))}; got `{kind}`",
        )
    elif not is_id(kind):
        findings.error("bad-id", kind_at, f"`{kind}` cannot name a kind of step")
    step = ProcedureStep(
        kind=kind,
        do=fields.text("do"),
        minutes=fields.expression("minutes"),
        between=fields.texts("between"),
        below=fields.expression("below"),
        mind=fields.texts("mind"),
        at=fields.at,
        places=places,
    )
    if kind == "absence" and not step.between:
        findings.error(
            "pairs-missing", fields.at, "an `absence` step must say `between:` which points, each pair a text"
        )
    fields.done()
    return step
