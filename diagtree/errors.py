"""The errors a *call* may raise. A bad *file* yields findings instead (`knowledge.place.Finding`).

DiagtreeError
├── WrongUse            the caller asked for something that does not exist or makes no sense
├── OutOfRange          an input of a formula outside the range the formula is good for
├── ReadingError        text typed as a reading that is not one
├── KnowledgeError      the knowledge cannot be used; carries the findings
├── AnswerError         an answer that the prompt cannot take
└── StoreError          the case store cannot be read or written
    └── CaseChangedElsewhere   another process went on with the case
"""

from __future__ import annotations


class DiagtreeError(Exception):
    """Something to tell the user in one line: what, where, what was expected, what to do."""


class WrongUse(DiagtreeError):
    """A request that cannot be carried out as asked."""


class OutOfRange(DiagtreeError):
    """An input outside the range a formula is good for."""


class ReadingError(DiagtreeError):
    """Text that is not a reading."""


class KnowledgeError(DiagtreeError):
    """Knowledge that cannot be used. `findings` holds every mistake that was found."""

    def __init__(self, message: str, findings: tuple[object, ...] = ()) -> None:
        super().__init__(message)
        self.findings = findings


class AnswerError(DiagtreeError):
    """An answer that the prompt cannot take; the message says what was expected.

    `kept` holds the events that go on the record all the same: that a safety question was answered with no.
    """

    def __init__(self, message: str, kept: tuple[object, ...] = ()) -> None:
        super().__init__(message)
        self.kept = kept


class StoreError(DiagtreeError):
    """The case store cannot be read or written; what was saved before is intact."""


class CaseChangedElsewhere(StoreError):
    """Another process added to this case first. Nothing is lost; read the case anew."""
