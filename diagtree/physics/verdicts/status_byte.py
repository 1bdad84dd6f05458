"""What the status byte of a trouble code says."""

from __future__ import annotations

from diagtree.physics import codes
from diagtree.physics.quantity import Input
from diagtree.physics.ranges import checked
from diagtree.physics.verdict import Spelled, Verdict

STATUS = Input("status", "text", "the status byte, two hexadecimal digits, such as 2F")
BITS = "computed from the bits of ISO 14229-1"


@checked(STATUS)
def status_byte(status: str) -> str:
    """Return whether the fault is there now, what is stored, and whether the test has run at all.

    status : the byte as the tester shows it, two hexadecimal digits, `0x` allowed.

    Raises OutOfRange for anything else.
    Source: ISO 14229-1; the reading rules are ours.
    """
    return codes.status_words(codes.byte_value(status, "status", 2))


VERDICT = Verdict(
    id="status-byte",
    meaning="what the status byte of a trouble code says",
    inputs=(STATUS,),
    compute=status_byte,
    rule="bit 0 current; bits 4 and 6 not tested; bits 1 and 2 failed lately; bit 3 confirmed; bit 7 warning lamp",
    source="ISO 14229-1 by a documented open library and several articles",
    worked=(
        Spelled({"status": "2F"}, "current, confirmed", BITS),
        Spelled({"status": "2E"}, "not now, failed this cycle, confirmed", BITS),
        Spelled({"status": "28"}, "history, confirmed", BITS),
        Spelled({"status": "24"}, "intermittent, pending, not confirmed", BITS),
        Spelled({"status": "50"}, "not tested since codes were cleared (run the monitor first)", BITS),
        Spelled({"status": "00"}, "tested, no failure", BITS),
    ),
)
