"""What happened: the only thing a case remembers. Undo, posterior, minutes, report and score all read these.

Two sorts: *answers*, which `Undone` takes back, and *physical acts and facts*, which nothing takes back
(docs/meaning.md, "Undo"). Every event carries `at`, an ISO time that the shell hands in.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from typing import ClassVar, TypeAlias

from diagtree.records import dataclass

GO_ON = "go-on"  # decided, and chosen, where a walk goes on in another tree


@dataclass(frozen=True, slots=True)
class Begun:
    """The case begins: which tree, on which car, with which costs."""

    at: str
    tree: str
    vehicle: str | None
    rate: float
    referral: float | None
    comeback: float | None


# --- answers, in the order given; `Undone` takes the last ones back ---------------------------------------------


@dataclass(frozen=True, slots=True)
class Looked:
    """The first look at dangers: `nothing`, or what was found."""

    at: str
    found: str


@dataclass(frozen=True, slots=True)
class Complained:
    """The owner's own words, and the minutes until it stops where the owner knows. [min]

    also : what else was asked at the desk, in words: name to answer. For the technician to read; no evidence.
    """

    at: str
    words: str
    cuts_out_after: float | None
    also: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Answered:
    """A test ended in an outcome (or `not-done`, with a reason).

    chances : for a close reading, the chance of each outcome; else {}.
    readings : name to text as typed; values : name to number in the test's unit; deviations : standard uncertainty.
    limits : outcome to its upper limit as computed on this car (the last one has none). expected, judged, deviation :
    the numbers behind the verdict; deviation is the standard uncertainty of `judged`.
    by : "tree" or "technician" (who chose to do this test). recorded : it was done anyway, without the walk's lead.
    compared : judged by comparison on the same car, since the maker's value is not known.
    """

    at: str
    test: str
    outcome: str
    chances: Mapping[str, float] = field(default_factory=dict)
    readings: Mapping[str, str] = field(default_factory=dict)
    values: Mapping[str, float] = field(default_factory=dict)
    deviations: Mapping[str, float] = field(default_factory=dict)
    meters: Mapping[str, str] = field(default_factory=dict)
    limits: Mapping[str, float] = field(default_factory=dict)
    expected: float | None = None
    judged: float | None = None
    deviation: float | None = None
    reason: str = ""
    note: str = ""
    by: str = "tree"
    recorded: bool = False
    compared: bool = False
    was_mistake: bool = False


@dataclass(frozen=True, slots=True)
class Decided:
    """What a person decided at an ending or after a proof.

    what : "read-danger", "correct", "advise", "refer", GO_ON (in the other tree), "test", "remaining", "tree" (go on
    with the tree after having looked at what remains), "questions" (the owner's words do not say which complaint).
    key : the cause, tree, test or addressee it is about.
    """

    at: str
    what: str
    key: str


@dataclass(frozen=True, slots=True)
class ProofJudged:
    """The result of a proof: fixed, not-fixed, partly."""

    at: str
    cause: str
    result: str


@dataclass(frozen=True, slots=True)
class Undone:
    """The last `count` answers were taken back."""

    at: str
    count: int


# --- physical acts and facts ------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class FoundAlready:
    """What was open, and whether the car was said to be isolated, before the work began. Nothing of it is proven."""

    at: str
    opened: tuple[str, ...]
    isolated: bool


@dataclass(frozen=True, slots=True)
class Opened:
    """An access was opened."""

    at: str
    access: str


@dataclass(frozen=True, slots=True)
class Closed:
    """An access was closed."""

    at: str
    access: str


@dataclass(frozen=True, slots=True)
class StepDone:
    """One step of a procedure was done. `index` counts the procedure's steps from 0."""

    at: str
    procedure: str
    index: int
    kind: str
    says: str = ""


@dataclass(frozen=True, slots=True)
class AbsenceMeasured:
    """Readings for the absence of voltage, in the order of `between`, and whether all are safely below.

    readings : each as typed, in plain volts, the unit left off. limits : the limit for each pair. [V]
    """

    at: str
    index: int
    between: tuple[str, ...]
    readings: tuple[str, ...]
    limits: tuple[float, ...]
    proven: bool


@dataclass(frozen=True, slots=True)
class ProcedureDone:
    """A procedure was carried out to its end (or, for a repeated proof of absence, the proof was)."""

    at: str
    procedure: str


@dataclass(frozen=True, slots=True)
class RepeatChosen:
    """Voltage was found; the tester is proven and the absence measured again."""

    at: str


@dataclass(frozen=True, slots=True)
class StepTakenBack:
    """Said of a step of making safe: it was not done. The car counts as live."""

    at: str
    reason: str


@dataclass(frozen=True, slots=True)
class StepUnconfirmed:
    """The last confirmed step of the procedure under way is asked again; what it did to the car stays done."""

    at: str
    procedure: str
    index: int


@dataclass(frozen=True, slots=True)
class StepRefused:
    """A step of a procedure was answered otherwise than it must be (`no, ...`): nothing was done by it, it is kept."""

    at: str
    procedure: str
    index: int
    says: str


@dataclass(frozen=True, slots=True)
class CarChanged:
    """Somebody changed the car behind the tool."""

    at: str
    powered: bool
    opened: tuple[str, ...]
    closed: tuple[str, ...]
    note: str


@dataclass(frozen=True, slots=True)
class Confirmed:
    """The conditions of a job hold."""

    at: str
    key: str
    conditions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Measured:
    """Readings typed but not judged yet: close to a limit, or a maker's value is missing."""

    at: str
    test: str
    readings: Mapping[str, str]
    meters: Mapping[str, str]
    recorded: bool = False
    note: str = ""
    was_mistake: bool = False


@dataclass(frozen=True, slots=True)
class MeasureAgain:
    """The technician measures once more, perhaps with another meter."""

    at: str
    test: str
    meter: str | None


@dataclass(frozen=True, slots=True)
class FactSupplied:
    """A maker's value that the profile does not know, supplied by the technician. Taken back like an answer."""

    at: str
    name: str
    value: float | str | Mapping[str, float | str]
    source: str


@dataclass(frozen=True, slots=True)
class CompareChosen:
    """The maker's value is not to be had: the test is judged by comparison on the same car."""

    at: str
    test: str


@dataclass(frozen=True, slots=True)
class TestChosen:
    """The technician does this test now, out of the tree's turn. Taken back like an answer."""

    __test__: ClassVar[bool] = False  # not for pytest

    at: str
    test: str


@dataclass(frozen=True, slots=True)
class Corrected:
    """The correction of a cause was carried out."""

    at: str
    cause: str


@dataclass(frozen=True, slots=True)
class ProofCharged:
    """A proof charge was run. Minutes charged and watched, power seen (as typed), whether it cut out."""

    at: str
    cause: str
    minutes: float
    watched: float
    power: str
    cut_out: bool
    seen: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class ChargeAgain:
    """The proof charge is run once more before its result is judged."""

    at: str
    cause: str


@dataclass(frozen=True, slots=True)
class Noted:
    """A remark for the record, with the prompt it was made at."""

    at: str
    text: str
    prompt: str


@dataclass(frozen=True, slots=True)
class AdviceShown:
    """The technician was told that today's evidence says otherwise than the tree. What was done then tells who decided.

    tree, evidence : the two acts in words. dearer : by how much the tree's is dearer at the least. [money]
    """

    at: str
    tree: str
    evidence: str
    dearer: float


@dataclass(frozen=True, slots=True)
class Resumed:
    """The case was opened again: what was dead may be live by now."""

    at: str


@dataclass(frozen=True, slots=True)
class CaseClosed:
    """The case is over: fixed, advised, referred, left-isolated."""

    at: str
    how: str


Event: TypeAlias = (
    Begun | Looked | Complained | Answered | Decided | ProofJudged | Undone | FoundAlready | Opened | Closed | StepDone
    | AbsenceMeasured | ProcedureDone | RepeatChosen | StepTakenBack | StepUnconfirmed | StepRefused | CarChanged
    | Confirmed | Measured | MeasureAgain | FactSupplied | CompareChosen | TestChosen | Corrected | ProofCharged
    | ChargeAgain | Noted | AdviceShown | Resumed | CaseClosed
)

Item: TypeAlias = Looked | Complained | Answered | Decided | ProofJudged | TestChosen | FactSupplied
"""The events that `Undone` takes back, and in whose order the place in the tree is found."""

ITEMS = (Looked, Complained, Answered, Decided, ProofJudged, TestChosen, FactSupplied)
