"""The words of the workshop as frozen types: what a knowledge folder says, read and linked.

Every object that an author wrote remembers its place in a file (`at`), for messages. Minutes are minutes, per
cents are per cents as written (0 to 100), money is money of the house. Collections keep the author's order.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from enum import StrEnum
from typing import ClassVar, TypeAlias

from diagtree.knowledge.limits import Expression
from diagtree.knowledge.place import Place, Places
from diagtree.physics.quantity import Facts
from diagtree.records import dataclass

NOT_DONE = "not-done"  # an outcome of every test without being listed: no evidence, no minutes, no access
SOMETHING_ELSE = "something-else"  # none of the listed causes; in no catalogue, never concluded
OUTSIDE = "outside"  # where a cause lies that is not in the car: charge point, cable, supply
TRIAGE = "triage"  # the tree of the desk; its causes are the complaints
MAKE_SAFE, RE_ENERGISE, HAND_BACK = "make-safe", "re-energise", "hand-back"
MAKE_SAFE_ORDER = ("unplug", "switch-off", "disconnect", "secure", "wait", "prove-tester", "absence", "prove-tester")


class Power(StrEnum):
    """What a job needs of the high-voltage system. Dead means made safe *and* proven by measurement."""

    LIVE = "live"
    DEAD = "dead"
    ANY = "any"


class Where(StrEnum):
    """Where a test is done. On the road the car is live and nothing is open."""

    RECEPTION = "reception"
    BAY = "bay"
    ROAD = "road"


class Qualification(StrEnum):
    """Who may do it. Local law, the maker's procedure and a licensed person come first."""

    NONE = "none"
    HIGH_VOLTAGE = "high-voltage"
    ELECTRICIAN = "electrician"


class Labour:
    """What takes `minutes` in the bay, of which the technician need attend only some."""

    __slots__ = ()
    minutes: float
    attended: float | None

    @property
    def labour(self) -> float:
        """Minutes the technician is bound to the car. [min]"""
        return self.minutes if self.attended is None else self.attended


@dataclass(frozen=True, slots=True)
class Needs:
    """What must hold before a job may be shown. What `open` is `after` is derived, not listed."""

    power: Power
    open: tuple[str, ...] = ()
    tools: tuple[str, ...] = ()
    state: tuple[str, ...] = ()  # conditions in words, shown and confirmed
    places: Places = field(default_factory=dict, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Read:
    """One number to be measured: its name, the unit it is judged in, and what physics calls it (if simulated)."""

    name: str
    unit: str
    of: str | None
    at: Place


@dataclass(frozen=True, slots=True)
class Outcome:
    """A named result. `below` is its upper limit (exclusive); None for the last one and for tests without number."""

    id: str
    below: Expression | None
    at: Place


@dataclass(frozen=True, slots=True)
class Test(Labour):
    """One thing to ask, look at, read out or measure. It ends in exactly one outcome, or `not-done`.

    `judge` is the one number that is judged; `expected` may be used in it and in the limits. A test without
    `reads` has outcomes that a person names. `mistake` is the per cent of results drawn at random. With `safety` a
    reading is healthy only if the whole of its uncertainty is.
    """

    __test__: ClassVar[bool] = False  # not for pytest

    id: str
    ask: str
    how: tuple[str, ...]
    place: Where
    minutes: float
    attended: float | None
    needs: Needs
    qualification: Qualification
    mind: tuple[str, ...]
    reads: tuple[Read, ...]
    expected: Expression | None
    judge: Expression | None
    outcomes: tuple[Outcome, ...]
    healthy: str
    stop: frozenset[str]
    mistake: float
    source: str
    at: Place
    places: Places = field(default_factory=dict, compare=False, repr=False)
    safety: bool = False

    def outcome_ids(self) -> tuple[str, ...]:
        """Return the listed outcomes' names, `not-done` left out."""
        return tuple(outcome.id for outcome in self.outcomes)


@dataclass(frozen=True, slots=True)
class Part:
    """A part to order, and its price in the house's money."""

    name: str
    price: float


@dataclass(frozen=True, slots=True)
class Correction(Labour):
    """The repair that removes a cause."""

    do: str
    how: tuple[str, ...]
    minutes: float
    attended: float | None
    parts: tuple[Part, ...]
    needs: Needs
    qualification: Qualification
    mind: tuple[str, ...]
    at: Place

    @property
    def price(self) -> float:
        """What all its parts cost."""
        return sum(part.price for part in self.parts)


@dataclass(frozen=True, slots=True)
class Proof(Labour):
    """The charge that shows that the complaint is gone."""

    charge: str  # ac | dc
    minutes: float
    attended: float | None
    watch: tuple[str, ...]
    at: Place


@dataclass(frozen=True, slots=True)
class Advice(Labour):
    """How a cause ends that this house does not repair."""

    do: str
    minutes: float
    attended: float | None
    at: Place


@dataclass(frozen=True, slots=True)
class Cause:
    """A fault that explains a complaint. It has `correction` and `proof`, or `advise`.

    shows : test to outcome to stated per cent; a test not named shows its healthy outcome.
    fault : observable of the simulated car to what is physically wrong with it.
    intermittent : it shows at one time and not at another; what it shows is drawn anew each time it is looked for.
    """

    id: str
    name: str
    where: str
    shows: Mapping[str, Mapping[str, float]]
    fault: Mapping[str, str | float]
    correction: Correction | None
    proof: Proof | None
    advise: Advice | None
    source: str
    at: Place
    places: Places = field(default_factory=dict, compare=False, repr=False)
    intermittent: bool = False


@dataclass(frozen=True, slots=True)
class Access:
    """Something opened or removed to reach a test point or a part. Minutes are paid every time."""

    id: str
    name: str
    open: float
    close: float
    after: tuple[str, ...]
    dead_only: bool  # `power: dead`: may be open only while the car is dead
    refit_before_live: bool
    mind: tuple[str, ...]
    at: Place
    places: Places = field(default_factory=dict, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class ProcedureStep:
    """One step of a procedure. `minutes` for waits, `between` and `below` for the absence of voltage."""

    kind: str
    do: str
    minutes: Expression | None
    between: tuple[str, ...]
    below: Expression | None
    mind: tuple[str, ...]
    at: Place
    places: Places = field(default_factory=dict, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Procedure:
    """make-safe, re-energise or hand-back. `minutes` hold all its steps, waits included."""

    id: str
    minutes: float
    open: tuple[str, ...]  # what making safe itself opens
    steps: tuple[ProcedureStep, ...]
    mind: tuple[str, ...]
    at: Place
    places: Places = field(default_factory=dict, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Vehicle:
    """A vehicle profile: the facts of a car type that limits are computed from (`unknown` stays a word)."""

    id: str
    name: str
    facts: Facts
    at: Place


@dataclass(frozen=True, slots=True)
class Conclude:
    """The walk ends with a named cause."""

    cause: str


@dataclass(frozen=True, slots=True)
class HandOver:
    """The walk goes on in another tree."""

    tree: str


@dataclass(frozen=True, slots=True)
class Refer:
    """The walk ends outside this house."""

    to: str


Ending: TypeAlias = Conclude | HandOver | Refer
Target: TypeAlias = str | Ending  # a step's id, or an ending


@dataclass(frozen=True, slots=True)
class Step:
    """A place in a tree: performs one test, and for each outcome says what comes then.

    `then` holds what the author wrote, `not-done` among it where written; `branches` in `reason.graph` fills it in.
    """

    id: str
    test: str
    then: Mapping[str, Target]
    then_at: Mapping[str, Place]
    at: Place
    places: Places = field(default_factory=dict, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Tree:
    """One complaint: its causes with their shares (cases per 100), and the steps."""

    id: str
    title: str
    revision: int
    hears: tuple[str, ...]
    causes: Mapping[str, float]
    causes_at: Mapping[str, Place]
    start: str
    steps: Mapping[str, Step]
    at: Place


@dataclass(frozen=True, slots=True)
class Catalogue:
    """Everything that trees draw on, as it is on one car (or as written, where `vehicle` is None)."""

    tests: Mapping[str, Test]
    causes: Mapping[str, Cause]
    access: Mapping[str, Access]
    procedures: Mapping[str, Procedure]
    vehicle: Vehicle | None
