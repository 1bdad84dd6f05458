"""Stages of a digital charging session and their time-outs, looked up by stage, protocol and side."""

from __future__ import annotations

from diagtree.errors import OutOfRange
from diagtree.physics.data import TIME_OUTS, TimeOut

STAGES = tuple(dict.fromkeys(one.stage for one in TIME_OUTS))
"""Ids of all stages, in the order of a session."""


def time_out(stage: str, protocol: str = "any", side: str = "vehicle") -> TimeOut:
    """Return the time-out of a stage.

    A time-out that all protocols share is also returned for a named one, and one of both sides for either.
    Raises OutOfRange, naming what is known, where there is none.
    """
    rows = [one for one in TIME_OUTS if one.stage == stage]
    for one in rows:
        if one.protocol in (protocol, "any") and one.side in (side, "both"):
            return one
    known = "; ".join(f"protocol {one.protocol}, side {one.side}" for one in rows)
    raise OutOfRange(f"no time-out of stage `{stage}` is known for protocol {protocol}, side {side}; known: {known}")
