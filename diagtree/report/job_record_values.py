"""A job record as values: who measured what, when, with which meter, and what was decided and done.

Times are ISO 8601 as the case keeps them, minutes are minutes, money is money of the house. Texts are as people typed
them: a format makes them harmless. An empty text means that there is nothing to say.
"""

from __future__ import annotations

from diagtree.records import dataclass
from diagtree.walk.account import Line


@dataclass(frozen=True, slots=True)
class CaseFacts:
    """What the case store knows about a case besides its events.

    digest : of the knowledge that the case began with. head : hash of the latest event, the anchor that is printed.
    breach : the first thing in the case that is not as it was written, or empty.
    """

    number: str
    status: str
    opened: str
    changed: str
    by: str
    digest: str
    head: str
    breach: str = ""


BY_CAR = "as the car reports it"  # in place of a meter


@dataclass(frozen=True, slots=True)
class ReadingRecord:
    """One number that was measured. typed : as typed; value : with the test's unit; spread : expanded uncertainty."""

    name: str
    typed: str
    value: str
    meter: str
    spread: str


@dataclass(frozen=True, slots=True)
class AnswerRecord:
    """One answer to a test, or readings that led to none.

    outcome : named result, `not-done`, or empty where the readings were not judged (see `fate`).
    judged : the judged number with its uncertainty; band : what the outcome means on this car; expected : value and
    formula; chances : of each outcome where the reading is close to a limit. by : who chose to do this test.
    fate : why this answer does not count (taken back, measured again), or empty where it counts.
    """

    at: str
    test: str
    ask: str
    outcome: str
    readings: tuple[ReadingRecord, ...]
    judged: str
    band: str
    expected: str
    source: str
    close: bool
    chances: tuple[tuple[str, float], ...]
    by: str
    compared: bool
    was_mistake: bool
    reason: str
    note: str
    fate: str


@dataclass(frozen=True, slots=True)
class Saying:
    """Something said, decided or noted. fate : why it does not count any more, or empty."""

    at: str
    text: str
    fate: str = ""


@dataclass(frozen=True, slots=True)
class PairRecord:
    """One reading for the absence of voltage. limit, spread (expanded uncertainty) : in volts; verdict in words."""

    points: str
    typed: str
    limit: float
    spread: float
    verdict: str


@dataclass(frozen=True, slots=True)
class SafetyRecord:
    """One thing that was done to the car or told about it. pairs : readings, where absence was measured."""

    at: str
    what: str
    said: str = ""
    pairs: tuple[PairRecord, ...] = ()
    proven: bool | None = None


@dataclass(frozen=True, slots=True)
class ChargeRecord:
    """A proof charge: minutes charged, needed (with the reason, if any) and watched, power, what was seen, results.

    doubts : what speaks against it as a proof by the catalogue's own limits, whatever was said of it.
    """

    at: str
    minutes: float
    needed: float
    needed_why: str
    watched: float
    power: str
    cut_out: bool
    seen: tuple[tuple[str, str], ...]
    results: tuple[Saying, ...]
    doubts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class CorrectionRecord:
    """A correction that was carried out, with its parts and their prices, and the charges that were to prove it."""

    at: str
    cause: str
    do: str
    minutes: float
    parts: tuple[tuple[str, float], ...]
    said: str
    charges: tuple[ChargeRecord, ...]


@dataclass(frozen=True, slots=True)
class CauseChance:
    """A cause in words and its chance by the evidence. [-] why : what ruled it out, or empty."""

    id: str
    name: str
    chance: float
    why: str = ""


@dataclass(frozen=True, slots=True)
class Conclusion:
    """How the case ended, or where it stands.

    words : the ending in one sentence. chance : of the named cause; None where none is named. chances : of every cause,
    something-else included. planned : the work list of a cause that was named but not corrected yet.
    owner : advice and words for the owner.
    """

    words: str
    cause: str
    chance: float | None
    chances: tuple[CauseChance, ...]
    doubts: tuple[str, ...]
    arguments_for: tuple[str, ...]
    arguments_against: tuple[str, ...]
    planned: tuple[str, ...]
    owner: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class JobRecord:
    """Everything that was asked, read, done and decided in one case. printed : when this record was made."""

    printed: str
    case: CaseFacts
    workshop: str
    currency: str
    rate: float
    car: str
    trees: tuple[str, ...]
    looks: tuple[Saying, ...]
    complaints: tuple[Saying, ...]
    conclusion: Conclusion
    corrections: tuple[CorrectionRecord, ...]
    answers: tuple[AnswerRecord, ...]
    facts: tuple[Saying, ...]
    decisions: tuple[Saying, ...]
    safety: tuple[SafetyRecord, ...]
    state_now: str
    still_open: tuple[str, ...]
    notes: tuple[Saying, ...]
    ruled_out: tuple[CauseChance, ...]
    uncertain: tuple[str, ...]
    account: tuple[Line, ...]
    minutes: float
    money: float
    closing: tuple[str, ...]
