"""A state of the car and a job: may it be done now, and if not, what is missing?

Judged by `reason.arrangement.may_be_shown`, the predicate that lets a walk show a job, and by the moves it derives.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import UTC, datetime, timedelta
from itertools import groupby

from diagtree.knowledge.words import Where
from diagtree.quiz.drills import Dice, Drill, Option, Question
from diagtree.quiz.subject import SAFETY
from diagtree.reason.arrangement import START, Arrangement, Move, Moved, Need, may_be_shown, relies_on_dead
from diagtree.records import dataclass
from diagtree.walk.approach import proof_is_good
from diagtree.walk.context import Walk
from diagtree.walk.state import State

_SAID = {Move.MAKE_SAFE: "make safe"}  # the others are said as they are typed
NOW, PROOF = "now", "proof"
OPTIONS = (
    Option(NOW, "yes, now"),
    Option(Move.MAKE_SAFE.value, "no: make the car safe first, to the proven absence of voltage"),
    Option(PROOF, "no: prove the absence of voltage anew first"),
    Option(Move.RE_ENERGISE.value, "no: re-energise first"),
    Option(Move.OPEN.value, "no: something more must be opened or removed first"),
    Option(Move.CLOSE.value, "no: something must be closed or refitted first"),
)
_PROVEN = datetime(2026, 1, 1, 8, tzinfo=UTC)
_SHORT, _LONG = 5, 150


_BACK = frozenset({Move.RE_ENERGISE.value, Move.CLOSE.value})
# Kinds of questions, each as often: it may be done; it may not; the way leads back to a live car.
_WANTED: Mapping[str, Callable[[frozenset[str]], bool]] = {
    "now": lambda right: NOW in right,
    "not": lambda right: NOW not in right and not right & _BACK,
    "back": lambda right: bool(right & _BACK),
}


@dataclass(frozen=True, slots=True)
class Job:
    """A test or a correction: its id, words, and what it asks of the arrangement."""

    id: str
    words: str
    need: Need


@dataclass(frozen=True, slots=True)
class CarNow:
    """What the trainee is told of the car. minutes : since the proof; None where none stands."""

    arrangement: Arrangement
    minutes: int | None
    changed: bool = False  # somebody was at the car since


def missing(walk: Walk, car: CarNow, need: Need) -> tuple[frozenset[str], tuple[Moved, ...]]:
    """Return the ids of `OPTIONS` that are right, and the moves that bring the car to the job.

    A proof of the absence of voltage counts as a walk counts it: not after a change, not after the house's time.
    """
    good = _good(walk, car)
    now = car.arrangement
    if may_be_shown(walk.layout, now, need, absence_proven=good):
        return frozenset({NOW}), ()
    moves = walk.layout.moves(now, need)
    dead_only = any(moved.access and walk.layout.access[moved.access].dead_only for moved in moves)
    found = {moved.move.value for moved in moves}
    if now.dead and not good and (dead_only or relies_on_dead(walk.layout, now, need)):
        found.add(PROOF)
    return frozenset(found), moves


def _good(walk: Walk, car: CarNow) -> bool:
    if car.minutes is None or car.changed:
        return False
    state = State(arrangement=car.arrangement, proven_at=_PROVEN.isoformat())
    return proof_is_good(walk, state, (_PROVEN + timedelta(minutes=car.minutes)).isoformat())


def _ask(walks: Sequence[Walk], subject: str, dice: Dice) -> Question:
    walk = dice.pick(walks, "car")
    jobs = _jobs(walk)
    harder = [job for job in jobs if job.need.open or job.need.power.value == "dead"] or jobs
    wanted = dice.pick(tuple(_WANTED), "wanted")
    for number in range(40):  # most pairs of a state and a job are far apart: look for the kind that is wanted
        job = dice.pick(jobs if wanted == "back" else harder, "job", number)
        car = _state(walk, jobs, job, dice, number)
        right, moves = missing(walk, car, job.need)
        if right and _WANTED[wanted](right):
            break
    vehicle = walk.catalogue.vehicle
    return Question(
        drill="may-it-be-done",
        subject=subject,
        about=job.id,
        heading=vehicle.name if vehicle else "A car",
        situation=(*_told(walk, car), f"The job: {job.words}", *_needs(walk, job)),
        ask="May it be done now? If not, what is missing? Name all that is missing.",
        options=OPTIONS,
        right=right,
        why=tuple(_why(walk, car, job, right, moves)),
        hint=(_power(job),),
        many=True,
    )


def _jobs(walk: Walk) -> list[Job]:
    layout, catalogue = walk.layout, walk.catalogue
    jobs = [
        Job(test.id, test.ask, layout.need_of(test))
        for test in catalogue.tests.values()
        if test.place is not Where.RECEPTION and not layout.live_conflicts(layout.need_of(test))
    ]
    for cause in catalogue.causes.values():
        if cause.correction is not None and not layout.live_conflicts(layout.need(cause.correction.needs)):
            jobs.append(Job(cause.id, cause.correction.do, layout.need(cause.correction.needs)))
    return jobs


def _state(walk: Walk, jobs: Sequence[Job], job: Job, dice: Dice, number: int) -> CarNow:
    """Return a state that work at this car leads to: ready for this job or another, its proof fresh, old or spoilt."""
    before = job if dice.chance("same", number) < 0.5 else dice.pick(jobs, "before", number)
    layout = walk.layout
    moves = layout.moves(START, before.need)
    kept = moves[: 1 + int(dice.chance("cut", number) * len(moves))] if dice.chance("half", number) < 0.3 else moves
    now = layout.after(START, kept)
    if not now.dead:
        return CarNow(now, None)
    holds = walk.absence_holds or _LONG / 2
    fresh = int(_SHORT + dice.chance("fresh", number) * max(holds - 2 * _SHORT, 1.0))
    fate = dice.chance("fate", number)
    if fate < 0.12:  # somebody switched it on behind everybody's back
        return CarNow(Arrangement(dead=False, open=now.open), None, changed=True)
    if fate < 0.27:
        return CarNow(now, fresh, changed=True)
    if fate < 0.42 and walk.absence_holds is not None:
        return CarNow(now, int(holds + _SHORT + dice.chance("old", number) * holds))
    return CarNow(now, fresh)


def _told(walk: Walk, car: CarNow) -> list[str]:
    now = car.arrangement
    if not now.dead and car.changed:
        lines = ["The car was made safe; since then somebody has put the service disconnect back."]
    elif not now.dead:
        lines = ["The car is as it came in: nobody has made it safe."]
    else:
        lines = [f"The car was made safe; the absence of voltage was proven {car.minutes} minutes ago."]
        lines.append("Since then somebody has been at the car." if car.changed else "Nobody else has been at the car.")
        holds = walk.absence_holds
        if holds is not None:
            lines.append(f"In this house a proof is good for {holds:g} minutes.")
    names = [_name(walk, one) for one in reversed(walk.layout.put_back(now.open))]
    return [*lines, f"Open or removed: {'; '.join(names) if names else 'nothing'}."]


def _needs(walk: Walk, job: Job) -> list[str]:
    if job.need.road:
        return ["It is done on the road."]
    names = [_name(walk, one) for one in reversed(walk.layout.put_back(job.need.open))]
    return [f"Where it is measured or fitted: behind {'; '.join(names)}."] if names else []


def _name(walk: Walk, access: str) -> str:
    """Return an access without where it is (after a comma), if no other is called the same: lists are long enough."""
    short = [one.name.split(",")[0] for one in walk.layout.access.values()]
    name = walk.layout.access[access].name
    return name.split(",")[0] if short.count(name.split(",")[0]) == 1 else name


def _why(walk: Walk, car: CarNow, job: Job, right: frozenset[str], moves: Sequence[Moved]) -> list[str]:
    lines = [_power(job)]
    if right == {NOW}:
        lines.append("All it needs is so now.")
    if PROOF in right:
        lines.append("Made safe is not enough: the proof of the absence of voltage is not good any more.")
    if moves:
        lines.append(f"In this order: {_in_order(walk, moves)}.")
    shut = [moved.access for moved in moves if moved.move is Move.CLOSE and moved.access]
    if shut and job.need.power.value == "live":
        lines.append("What is opened dead only, or must be refitted before live, goes back before the car is live.")
    if Move.MAKE_SAFE.value in right and not car.arrangement.dead and car.changed:
        lines.append("Whatever was done before: a car that was powered counts as live, gloves on, until proven again.")
    return [*lines, "Dead means made safe and proven by measurement; all else counts as live (EN 50110-1)."]


def _power(job: Job) -> str:
    power = {"live": "a live car", "dead": "a dead car", "any": "no particular state of the high voltage"}
    return f"The job needs {power[job.need.power.value]}{' with everything closed' if job.need.road else ''}."


def _in_order(walk: Walk, moves: Sequence[Moved]) -> str:
    """Return moves with what is opened one after the other in one breath: `make safe; then open A, B`."""
    told = []
    for move, some in groupby(moves, key=lambda moved: moved.move):
        names = [_name(walk, moved.access) for moved in some if moved.access]
        told.append(" ".join(filter(None, (_SAID.get(move, move.value), ", ".join(names)))))
    return "; then ".join(told)


def _subjects(walks: Sequence[Walk]) -> frozenset[str]:
    return frozenset({SAFETY}) if any(_jobs(walk) for walk in walks) else frozenset()


DRILL = Drill(id="may-it-be-done", mode="safety", subjects=_subjects, ask=_ask)
