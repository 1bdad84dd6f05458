"""What happened in a round: all that it remembers. Money and minutes are of this event alone."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from typing import ClassVar, TypeAlias

from diagtree.records import dataclass


@dataclass(frozen=True, slots=True)
class Dealt:
    """The round begins. Everything that the car rests on stands here: the same `Dealt` is the same round.

    cause : what is wrong with the car, hidden from the trainee. ambient : degC. story : the owner's words.
    digest : of the knowledge it was dealt from.
    told : tests whose answer the owner gave unasked, each with its outcome: known from the start, and free.
    """

    tree: str
    vehicle: str | None
    rate: float
    referral: float | None
    comeback: float | None
    mode: str
    seed: str
    cause: str
    ambient: float
    story: str
    digest: str
    told: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Moved:
    """The arrangement was changed: an access opened or closed, made safe (with what that opens), re-energised.

    moves : move, access ("" for the two procedures), minutes. [min]
    """

    kind: str
    id: str | None
    moves: tuple[tuple[str, str, float], ...]
    minutes: float
    money: float


@dataclass(frozen=True, slots=True)
class Tested:
    """A test was done. `chances` : of each outcome where the reading is close to a limit, else empty.

    told : what the readings mean on this car, after the number.
    """

    __test__: ClassVar[bool] = False  # not for pytest

    test: str
    readings: Mapping[str, str]
    outcome: str
    chances: Mapping[str, float]
    told: tuple[str, ...]
    minutes: float
    money: float


@dataclass(frozen=True, slots=True)
class Corrected:
    """A cause was corrected and the car charged to prove it; where it was fixed, the end is paid too.

    sure : what the trainee said before. [percent]
    samples : minutes, power [kW] and inlet temperature [degC] of the proof charge (None where the profile lacks them).
    cut_out : minutes after which the charge stopped by itself; None: it ran to its end.
    """

    cause: str
    sure: float
    fixed: bool
    samples: tuple[tuple[float, float | None, float | None], ...]
    cut_out: float | None
    minutes: float
    money: float


@dataclass(frozen=True, slots=True)
class Advised:
    """The owner was advised, the car put back and handed over. A wrong advice comes back at the house's cost."""

    cause: str
    sure: float
    right: bool
    minutes: float
    money: float


@dataclass(frozen=True, slots=True)
class Referred:
    """The car was put back and given to somebody else; one with a danger found stays set apart until it is fetched."""

    minutes: float
    money: float


@dataclass(frozen=True, slots=True)
class Hinted:
    """The best act was told on request.

    kind, id : what to do now. goal_kind, goal_id : the act that it is done for; "" in rounds of an older version.
    minutes, money : nothing where what was told last (by a hint or the guide) still stood and was only told again.
    """

    kind: str
    id: str | None
    words: str
    minutes: float
    money: float
    goal_kind: str = ""
    goal_id: str | None = None


@dataclass(frozen=True, slots=True)
class Suggested:
    """A guided round told the best act where the tree has no more to say. No decision: nobody asked for it."""

    goal_kind: str
    goal_id: str | None
    minutes: float = field(default=0.0, init=False)
    money: float = field(default=0.0, init=False)


@dataclass(frozen=True, slots=True)
class Refused:
    """The act was impossible: nothing was done and nothing is paid. `missing` : what it would take."""

    kind: str
    id: str | None
    missing: tuple[str, ...]
    minutes: float = field(default=0.0, init=False)
    money: float = field(default=0.0, init=False)


@dataclass(frozen=True, slots=True)
class WentWrong:
    """An unsafe act: there is no reading. `harm` : what sort; `told` : what happens; `missed` : the cautions passed by.

    In practice the act counts as not done and the car is as before; in an exam the round is over.
    """

    kind: str
    id: str | None
    harm: str
    told: tuple[str, ...]
    missed: tuple[str, ...]
    minutes: float = field(default=0.0, init=False)
    money: float = field(default=0.0, init=False)


@dataclass(frozen=True, slots=True)
class Stopped:
    """The trainee gave the round up; the car stays as it is. It is not scored as if it had ended."""

    minutes: float = field(default=0.0, init=False)
    money: float = field(default=0.0, init=False)


Event: TypeAlias = (
    Dealt | Moved | Tested | Corrected | Advised | Referred | Hinted | Suggested | Refused | WentWrong | Stopped
)
Paid: TypeAlias = Moved | Tested | Corrected | Advised | Referred | Hinted
"""Events that are decisions with a price."""
