"""What the session asks: data, never print. Any driver can answer a prompt from its `form` alone.

A prompt says what it is about (`kind`, `key`), what a person should read (heading, question, steps, cautions) and
which answers it takes (`form`). No prompt shows a limit before the number is typed: nobody measures what they expect.
"""

from __future__ import annotations

from enum import StrEnum
from typing import TypeAlias

from diagtree.records import dataclass


class Kind(StrEnum):
    """What a prompt is about. `key` names the thing: a test, an access, a procedure's step, a cause."""

    LOOK = "look"  # the first look at dangers
    COMPLAINT = "complaint"  # the owner's own words, and how long it takes to stop
    SORT = "sort"  # at the desk: which complaint the owner's words mean
    ALREADY = "already"  # what is open or isolated before the work begins
    OPEN = "open"  # open an access
    CLOSE = "close"  # close an access
    PROCEDURE = "procedure"  # one step of make-safe, re-energise or hand-back
    ABSENCE = "absence"  # the readings that prove the absence of voltage
    VOLTAGE_FOUND = "voltage-found"  # the proof failed: repeat it, or leave the car isolated and refer it
    CONDITIONS = "conditions"  # what must hold before a test, a barrier among it
    FACT = "fact"  # a maker's value that the profile does not know
    OUTCOME = "outcome"  # a test that a person judges
    READING = "reading"  # a test with numbers
    CLOSE_READING = "close-reading"  # the meter's uncertainty reaches over a limit
    DANGER = "danger"  # a stop outcome, acknowledged with a typed word
    CONCLUSION = "conclusion"  # a cause is named; what now?
    HAND_OVER = "hand-over"  # the walk goes on in another tree
    REFER = "refer"  # the car goes to somebody else
    CORRECTION = "correction"  # the repair, to be ticked off
    PROOF = "proof"  # the charge that shows that the complaint is gone
    PROOF_RESULT = "proof-result"  # fixed, not fixed, partly
    REMAINING = "remaining"  # what is left after a correction in vain


@dataclass(frozen=True, slots=True)
class Option:
    """One answer to choose. `danger` options ask for their word in full, never a bare number key.

    doubt : what a person is asked to look at again, once, before it is taken; "" where nothing.
    """

    id: str
    text: str
    danger: bool = False
    doubt: str = ""


@dataclass(frozen=True, slots=True)
class Choice:
    """Exactly one option. `many` allows several (comma-separated), or none by the option `nothing`."""

    options: tuple[Option, ...]
    many: bool = False


@dataclass(frozen=True, slots=True)
class Field:
    """One value to type. `unit` is assumed where none is typed. `plain` means plain volts: no prefix.

    most : a number above this is asked back once, with `most_says` as the reason (`walk/watched.py`).
    """

    name: str
    text: str
    unit: str = ""
    plain: bool = False
    number: bool = True
    optional: bool = False
    words: tuple[str, ...] = ()  # where only these words are taken (`yes`, `no`)
    counts: bool = False  # only a number from 0 upwards is taken
    most: float | None = None
    most_says: str = ""


@dataclass(frozen=True, slots=True)
class Fields:
    """One or several values to type, asked one after the other."""

    fields: tuple[Field, ...]


@dataclass(frozen=True, slots=True)
class Tick:
    """Something to do and confirm with `word`, typed in full: a bounced Enter must never confirm it.

    says : an extra question whose text answer is recorded with it (who holds the key?), or "".
    good : how that answer may begin where it is as it must be (`yes`); () where anything may be said.
    otherwise : what to do where it is not so.
    wait : how long it takes at least; confirmed earlier, a person is asked once. [min]
    """

    word: str = "done"
    says: str = ""
    good: tuple[str, ...] = ()
    otherwise: str = ""
    wait: float = 0.0


Form: TypeAlias = Choice | Fields | Tick


@dataclass(frozen=True, slots=True)
class Prompt:
    """One question of the session.

    heading : where we are, in a few words. ask : the question or the thing to do.
    how : steps to carry out, one act a line. about : what else to know first (place, tools, minutes, access).
    cautions : shown in full, before the question. told : what the last answer meant (limit, formula, source).
    not_done : whether "could not or did not do it" may be answered (with a reason).
    did_not : whether "I did not do that" may be said of the step before.
    progress : at least and at most how many steps remain, where a tree is being walked.
    """

    kind: Kind
    key: str
    heading: str
    ask: str
    form: Form
    how: tuple[str, ...] = ()
    about: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    told: tuple[str, ...] = ()
    not_done: bool = False
    did_not: bool = False
    test: str | None = None  # the test this prompt serves, if any: also while access is opened for it
    progress: tuple[int, int] | None = None
