"""Trouble codes and status bytes, all of them."""

from __future__ import annotations

import pytest

from diagtree.errors import OutOfRange
from diagtree.physics import codes
from diagtree.physics.verdict import verdict


def test_every_code_there_and_back():
    """All 65,536 pairs of bytes spell different codes and come back."""
    spelled = [codes.trouble_code(value) for value in range(0x10000)]
    assert len(set(spelled)) == 0x10000
    assert [codes.trouble_code_value(code) for code in spelled] == list(range(0x10000))


@pytest.mark.parametrize("text", ["", "96A", "96A1F", "96G1", "B16A1", "0x", "-6A1"])
def test_bytes_that_are_none_are_refused(text):
    """The error names the input and shows how to type it."""
    with pytest.raises(OutOfRange, match=f"`code` = '{text}' is not 4 hexadecimal digits: type it like 96A1"):
        verdict("trouble-code").compute(text)


@pytest.mark.parametrize("text", ["", "X0AA6", "P4AA6", "P0AAG", "P0AA66"])
def test_words_that_are_no_code_are_refused(text):
    """The error shows what a code looks like."""
    with pytest.raises(OutOfRange, match="like P0D21"):
        codes.trouble_code_value(text)


def test_status_bits_agree_with_an_open_library():
    """udsoncan, a general diagnostic-protocol library, reads every byte alike."""
    udsoncan = pytest.importorskip("udsoncan")
    names = (
        "test_failed", "test_failed_this_operation_cycle", "pending", "confirmed",
        "test_not_completed_since_last_clear", "test_failed_since_last_clear",
        "test_not_completed_this_operation_cycle", "warning_indicator_requested",
    )  # fmt: skip
    for value in range(256):
        status = udsoncan.Dtc.Status.from_byte(value)
        expected = tuple(ours for ours, theirs in zip(codes.STATUS_BITS, names, strict=True) if getattr(status, theirs))
        assert codes.status_bits(value) == expected


def test_what_every_status_byte_may_and_must_say():
    """Current exactly with bit 0; no word of health while a test has not run; confirmed exactly with bit 3."""
    for value in range(256):
        words = codes.status_words(value)
        assert words.startswith("current") == bool(value & 0x01)
        assert ("run the monitor first" in words) == (not value & 0x01 and bool(value & 0x50))
        parts = words.split(", ")
        assert ("confirmed" in parts) == bool(value & 0x08)
        assert ("tested" in parts) == (value & 0x7F == 0)
        assert ("warning lamp requested" in parts) == bool(value & 0x80)
