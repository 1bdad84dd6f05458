"""What the third byte of a trouble code, its failure type, says."""

from __future__ import annotations

from diagtree.physics import codes
from diagtree.physics.quantity import Input
from diagtree.physics.ranges import checked
from diagtree.physics.verdict import Spelled, Verdict

KIND = Input("failure", "text", "the third byte, two hexadecimal digits, such as 13")
MEMORY = "from memory of SAE J2012-DA"


@checked(KIND)
def failure_type(failure: str) -> str:
    """Return the failure type that the third byte of a trouble code names.

    failure : the byte as the tester shows it, two hexadecimal digits, `0x` allowed.

    Raises OutOfRange for anything else.
    Source: SAE J2012-DA, from memory: confirm it with the maker's list.
    """
    value = codes.byte_value(failure, "failure", 2)
    return codes.FAILURE_TYPES.get(value, "not in our short list: see the maker's list")


VERDICT = Verdict(
    id="failure-type",
    meaning="what the third byte of a trouble code says",
    inputs=(KIND,),
    compute=failure_type,
    rule="table of the types often met in charging",
    source=MEMORY,
    worked=(
        Spelled({"failure": "13"}, "open circuit", MEMORY),
        Spelled({"failure": "0x4B"}, "over temperature", MEMORY),
        Spelled({"failure": "FF"}, "not in our short list: see the maker's list", "not listed"),
    ),
)
