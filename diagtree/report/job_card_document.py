"""The job card as plain data for JSON: the machine face of `triage`."""

from __future__ import annotations

from typing import Any

from diagtree.report.job_card_values import CAUTION_FIRST, JobCard

SCHEMA = 1


def document(card: JobCard) -> dict[str, Any]:
    """Return the card as a JSON document's data. Chances are from 0 to 1, times in minutes."""
    bay = card.bay
    return {
        "schema": SCHEMA,
        "case": card.case,
        "vehicle": card.car,
        "complaint": card.complaint or None,
        "title": card.title or None,
        "sorted_by": card.sorted_by or None,
        "words": card.words,
        "cuts_out_after": card.cuts_out_after,
        "also": dict(card.also),
        "look": card.look or None,
        "looked": card.looked or None,
        "danger": card.danger,
        "answers": [
            {"test": one.test, "ask": one.ask, "outcome": one.outcome, "note": one.note, "evidence": one.bears}
            for one in card.told
        ],
        "notes": list(card.notes),
        "posterior": {one.cause: one.chance for one in card.ranking},
        "ranking": [
            {"cause": one.cause, "name": one.name, "where": one.where or None, "chance": one.chance,
             "end": one.what or None, "minutes": one.minutes}
            for one in card.ranking
        ],
        "outside": card.outside,
        "doubt": card.doubt or None,
        "bay_minutes": None if bay is None else {
            "mean": round(bay.mean, 6), "in_10": bay.in_10, "in_50": bay.in_50, "in_90": bay.in_90,
        },
        "takes": [
            {"kind": one.kind, "id": one.id or None, "name": one.name, "chance": one.chance} for one in card.takes
        ],
        "keep": list(card.keep),
        "safety": [*card.safety, CAUTION_FIRST],
        "stands_at": card.stands_at,
        "go_on": card.go_on or None,
    }  # fmt: skip
