"""Longest time in which an RCD must trip."""

from __future__ import annotations

from diagtree.errors import OutOfRange
from diagtree.physics.data import RCD_TRIP_TIMES
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked, plain

MULTIPLE = Input("multiple", "", "test current in multiples of the rated current, 1 or 5", 1.0, 5.0, 1.0)
KIND = Input("kind", "word", "kind of RCD", default="general", words=("general", "selective"))


@checked(MULTIPLE, KIND)
def rcd_trip_time(multiple: float = 1.0, kind: str = "general") -> float:
    """Return the longest time in which an RCD must trip. [s]

    multiple : test current in multiples of the rated current, 1 or 5, 1 to 5. [-]
    kind : kind of RCD.

    Raises OutOfRange outside these ranges.
    Source: manual of an installation tester, p. 35.
    """
    if multiple not in (1.0, 5.0):
        raise OutOfRange(f"`multiple` = {plain(multiple)} has no published trip time: type 1 or 5")
    return RCD_TRIP_TIMES[kind, float(multiple)].highest


QUANTITY = Quantity(
    id="rcd-trip-time",
    meaning="longest time in which an RCD must trip",
    unit="s",
    inputs=(MULTIPLE, KIND),
    compute=rcd_trip_time,
    formula="general 300 ms at 1 x, 40 ms at 5 x; selective 500 and 150 ms",
    source="manual of an installation tester, p. 35",
    worked=(
        Worked({}, 0.3, 0.0, "printed in that manual"),
        Worked({"multiple": 5.0}, 0.04, 0.0, "printed in that manual"),
        Worked({"kind": "selective"}, 0.5, 0.0, "printed in that manual"),
    ),
    hazard="high-voltage",
)
