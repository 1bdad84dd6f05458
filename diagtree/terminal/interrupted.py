"""Ctrl-C, end of input, or the word `leave`: the person goes, the case stays."""

from __future__ import annotations


class Interrupted(Exception):
    """The person left. The message, if any, says what was saved and how to go on; the exit status is 130."""
