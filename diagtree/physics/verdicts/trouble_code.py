"""Trouble code that two bytes spell."""

from __future__ import annotations

from diagtree.physics import codes
from diagtree.physics.quantity import Input
from diagtree.physics.ranges import checked
from diagtree.physics.verdict import Spelled, Verdict

BYTES = Input("code", "text", "the code's two bytes, four hexadecimal digits, such as 96A1")


@checked(BYTES)
def trouble_code(code: str) -> str:
    """Return the trouble code: letter, digit and three hexadecimal digits.

    code : the two bytes as the tester shows them, four hexadecimal digits, `0x` and spaces allowed.

    Raises OutOfRange for anything else.
    Source: SAE J2012, ISO 15031-6.
    """
    return codes.trouble_code(codes.byte_value(code, "code", 4))


VERDICT = Verdict(
    id="trouble-code",
    meaning="trouble code that two bytes spell",
    inputs=(BYTES,),
    compute=trouble_code,
    rule="bits 15-14 the letter P, C, B, U; bits 13-12 the first digit; then three hexadecimal digits",
    source="SAE J2012, ISO 15031-6, by two public articles",
    worked=(
        Spelled({"code": "96A1"}, "B16A1", "printed in an article on trouble codes (ptrnatesting.blogspot.com)"),
        Spelled({"code": "0x0AA6"}, "P0AA6", "computed"),
        Spelled({"code": "C1 00"}, "U0100", "computed"),
    ),
)
