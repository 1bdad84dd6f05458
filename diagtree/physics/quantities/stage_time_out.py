"""Time-out of a stage of a digital charging session."""

from __future__ import annotations

from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked
from diagtree.physics.stages import STAGES, time_out

STAGE = Input("stage", "word", "stage of the session", words=STAGES)
PROTOCOL = Input("protocol", "word", "protocol agreed", default="any", words=("any", "din", "iso-2", "iso-20"))
SIDE = Input("side", "word", "whose time-out", default="vehicle", words=("vehicle", "station"))


@checked(STAGE, PROTOCOL, SIDE)
def stage_time_out(stage: str, protocol: str = "any", side: str = "vehicle") -> float:
    """Return the time-out of a stage of a digital charging session. [s]

    stage : stage of the session.
    protocol : protocol agreed.
    side : whose time-out.

    Raises OutOfRange outside these ranges and where no such time-out is known.
    Source: open stacks that implement DIN SPEC 70121, ISO 15118-2, -3 and -20; not their paid texts.
    """
    return time_out(stage, protocol, side).seconds


QUANTITY = Quantity(
    id="stage-time-out",
    meaning="time-out of a stage of a digital charging session",
    unit="s",
    inputs=(STAGE, PROTOCOL, SIDE),
    compute=stage_time_out,
    formula="table of stages",
    source="open stacks that implement DIN SPEC 70121, ISO 15118-2, -3 and -20; not their paid texts",
    worked=(
        Worked({"stage": "cable-check"}, 40.0, 0.0, "EcoG-io/iso15118, timeouts.py"),
        Worked({"stage": "pre-charge", "protocol": "iso-20"}, 10.0, 0.0, "EcoG-io/iso15118, timeouts.py"),
        Worked({"stage": "set-up", "side": "station"}, 18.0, 0.0, "EVerest charging-station stack, v2g.hpp"),
    ),
)
