"""What stands on a job card, as values. `job_card_build` fills it in, `job_card/` turns it into text."""

from __future__ import annotations

from diagtree.records import dataclass

CAUTION_FIRST = "No card says that a car is safe. Local law, the maker's procedure and a qualified person come first."


@dataclass(frozen=True, slots=True)
class Told:
    """One answer at the desk: the question, the answer (`not-done` among them) and a remark."""

    test: str
    ask: str
    outcome: str
    note: str
    bears: bool  # whether it is evidence in the complaint's tree


@dataclass(frozen=True, slots=True)
class Likely:
    """One cause in the first ranking. what : its correction or advice; minutes : that work alone. [min]"""

    cause: str
    name: str
    where: str
    chance: float
    what: str
    minutes: float | None


@dataclass(frozen=True, slots=True)
class BayTime:
    """Minutes in the bay to find the cause: mean, and within how many so many in a hundred cars are done. [min]"""

    mean: float
    in_10: float
    in_50: float
    in_90: float


@dataclass(frozen=True, slots=True)
class Taken:
    """Something that finding the cause may take up (access, tool, qualification, make-safe), and how likely."""

    kind: str
    id: str
    name: str
    chance: float


@dataclass(frozen=True, slots=True)
class JobCard:
    """A job card. complaint : its tree, "" where none was found. outside : chance that the fault is not in the car.

    bay : None where no step in the bay is due (a danger, a referral, or the cause is named already).
    ending : how the desk ended where no bay step follows. look : the danger found, or `nothing`; looked : every look in
    words, with what later answers say against it. stands_at : what is due next, in words.
    """

    case: str
    printed: str
    workshop: str
    by: str
    car: str
    complaint: str
    title: str
    sorted_by: str
    words: str
    cuts_out_after: float | None
    also: tuple[tuple[str, str], ...]
    look: str
    looked: str
    danger: bool
    told: tuple[Told, ...]
    notes: tuple[str, ...]
    ranking: tuple[Likely, ...]
    outside: float | None
    doubt: str
    bay: BayTime | None
    takes: tuple[Taken, ...]
    keep: tuple[str, ...]
    safety: tuple[str, ...]
    stands_at: str
    go_on: str
