"""Trouble codes and their status: what the bytes say.

Structure: SAE J2012, ISO 15031-6; status bits: ISO 14229-1. The failure-type bytes are from memory of SAE J2012-DA.
"""

from __future__ import annotations

from diagtree.errors import OutOfRange

LETTERS = "PCBU"

STATUS_BITS = (
    "testFailed",
    "testFailedThisOperationCycle",
    "pendingDTC",
    "confirmedDTC",
    "testNotCompletedSinceLastClear",
    "testFailedSinceLastClear",
    "testNotCompletedThisOperationCycle",
    "warningIndicatorRequested",
)
"""Names of the status bits, bit 0 first (ISO 14229-1)."""

FAILURE_TYPES = {
    0x00: "no further detail",
    0x11: "short to ground",
    0x12: "short to battery",
    0x13: "open circuit",
    0x14: "short to ground or open",
    0x15: "short to battery or open",
    0x16: "voltage below threshold",
    0x17: "voltage above threshold",
    0x1A: "resistance below threshold",
    0x1B: "resistance above threshold",
    0x29: "signal invalid",
    0x2F: "signal erratic",
    0x31: "no signal",
    0x4B: "over temperature",
    0x62: "compare failure",
    0x64: "signal plausibility failure",
    0x87: "missing message",
}
"""Failure-type bytes often met in charging; from memory of SAE J2012-DA."""


def byte_value(text: str, name: str, digits: int) -> int:
    """Return the value of `digits` hexadecimal digits, with or without `0x` and spaces.

    Raises OutOfRange, naming the input, for anything else.
    """
    cleaned = "".join(text.split()).lower().removeprefix("0x")
    if len(cleaned) != digits or any(letter not in "0123456789abcdef" for letter in cleaned):
        example = "96A1" if digits == 4 else "2F"
        raise OutOfRange(f"`{name}` = {text!r} is not {digits} hexadecimal digits: type it like {example}")
    return int(cleaned, 16)


def trouble_code(value: int) -> str:
    """Return the code that two bytes spell: 0x96A1 is B16A1.

    Bits 15-14 are the letter, bits 13-12 the first digit, then three hexadecimal digits.
    """
    return f"{LETTERS[value >> 14]}{value >> 12 & 0b11}{value & 0xFFF:03X}"


def trouble_code_value(code: str) -> int:
    """Return the two bytes of a code. The inverse of `trouble_code`. Raises OutOfRange for a word that is none."""
    word = code.strip().upper()
    fine = len(word) == 5 and word[0] in LETTERS and word[1] in "0123"
    if not fine or any(letter not in "0123456789ABCDEF" for letter in word[2:]):
        raise OutOfRange(
            f"`code` = {code!r} is no trouble code: type a letter P, C, B or U and four digits, like P0D21"
        )
    return LETTERS.index(word[0]) << 14 | int(word[1]) << 12 | int(word[2:], 16)


def status_bits(value: int) -> tuple[str, ...]:
    """Return the names of the bits that are set, bit 0 first."""
    return tuple(name for bit, name in enumerate(STATUS_BITS) if value >> bit & 1)


def status_words(value: int) -> str:
    """Return what a status byte means: whether the fault is there now, what is stored, whether the lamp is asked for.

    A clear bit 0 proves nothing while the test has not run: that is said instead.
    """
    words = [_presence(value)]
    if value & 0x08:
        words.append("confirmed")
    elif value & 0x04:
        words.append("pending, not confirmed")
    if value & 0x80:
        words.append("warning lamp requested")
    return ", ".join(words)


def _presence(value: int) -> str:
    """Return whether the fault is there now, was there, or is not known."""
    if value & 0x01:
        return "current"
    if value & 0x10:
        return "not tested since codes were cleared (run the monitor first)"
    if value & 0x40:
        return "not tested this cycle (run the monitor first)"
    if value & 0x02:
        return "not now, failed this cycle"
    if value & 0x04:
        return "intermittent"
    if value & 0x08:
        return "history"
    return "not now, failed since codes were cleared" if value & 0x20 else "tested, no failure"
