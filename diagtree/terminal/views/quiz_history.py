"""A trainee's history: bars by subject, courses over rounds, how sure, and what comes next."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from diagtree.cases.quiz_store import RoundRow
from diagtree.quiz.modes import MODES
from diagtree.quiz.progress import Decided, tallies
from diagtree.quiz.progress_schedule import standings
from diagtree.quiz.result import Sureness, sureness
from diagtree.quiz.state import Statement
from diagtree.quiz.subject import SUBJECTS
from diagtree.terminal.clock import short
from diagtree.terminal.quiz_start import LEFT, command_of, decided_by
from diagtree.terminal.views.quiz_pictures import Pictures


def lines(
    trainee: str, rows: Sequence[RoundRow], now: str, pictures: Pictures,
    command: Callable[[RoundRow], str] = command_of,
) -> Iterator[str]:  # fmt: skip
    """Give the history as lines; pictures fit into 80 columns, sentences may be wrapped.

    command : the one that goes on with a round.
    """
    done = _done(rows)
    cars, drills = _apart(done)
    waiting = [row for row in rows if row.ended is None]
    yield f"{trainee}: {_counted('car', cars)} and {_counted('drill', drills)} played" + (
        f", the latest {short(done[-1].ended or '')}" if done else ""
    )
    yield from (f"Round {row.id} ({row.mode}) waits: `{command(row)}` goes on." for row in waiting)
    if not done:
        yield "Nothing to show yet. `diagtree quiz` begins."
        return
    yield from _subjects("On cars: right decisions by subject, lately; then by car", cars, pictures)
    yield from _subjects("In drills: right answers by subject, lately; then by drill", drills, pictures)
    yield ""
    decided = decided_by(done)
    yield from _cars(done, pictures)
    yield from _sure(sureness(_statements(done)))
    first, second, *_ = standings(decided, SUBJECTS, now)
    yield f"Next: {first.subject} ({first.words}), then {second.subject} ({second.words})."


def _counted(word: str, rows: Sequence[RoundRow]) -> str:
    """Return how many were played, by mode: `3 cars (2 practice, 1 exam)`."""
    modes = ", ".join(f"{count} {mode}" for mode, count in Counter(row.mode for row in rows).items())
    return f"{len(rows)} {word}{'' if len(rows) == 1 else 's'}{f' ({modes})' if modes else ''}"


def _subjects(heading: str, rows: Sequence[RoundRow], pictures: Pictures) -> Iterator[str]:
    if not rows:
        return
    yield ""
    yield f"{heading}, the latest last"
    for tally in tallies(decided_by(rows)):
        if tally.share is None:
            yield pictures.bar_line(tally.subject, None, "never practised")
            continue
        course = pictures.course([round(100 * share) for share in tally.rounds], 0, 100)
        words = f"{tally.right} of {tally.count}"
        yield pictures.bar_line(tally.subject, tally.share, f"{words:9} {course}")


def document(trainee: str, rows: Sequence[RoundRow], now: str) -> Mapping[str, Any]:
    """Return the history as JSON data."""
    done = _done(rows)
    cars, drills = _apart(done)
    decided: list[Decided] = decided_by(done)
    sure = sureness(_statements(done))
    return {
        "trainee": trainee,
        "rounds": [
            {"round": row.id, "mode": row.mode, "seed": row.seed, "opened": row.opened, "ended": row.ended,
             "result": {key: row.summary.get(key) for key in ("ended", "points", "regret", "money", "right", "asked")}}
            for row in rows
        ],
        "cars": {"played": len(cars), "subjects": _tallied(cars)},
        "drills": {"played": len(drills), "subjects": _tallied(drills)},
        "subjects": _tallied(done),  # both together: what comes next rests on that
        "next": [{"subject": one.subject, "need": one.need, "why": one.words}
                 for one in standings(decided, SUBJECTS, now)],
        "sureness": None if sure is None else {"statements": sure.count, "brier": sure.two_class.score,
                                               "evidence": sure.evidence},
    }  # fmt: skip


def _done(rows: Sequence[RoundRow]) -> list[RoundRow]:
    return [row for row in rows if row.ended and row.summary.get("ended") != LEFT]


def _apart(done: Sequence[RoundRow]) -> tuple[list[RoundRow], list[RoundRow]]:
    """Return the rounds on cars, and those of drills."""
    return [row for row in done if row.mode in MODES], [row for row in done if row.mode not in MODES]


def _tallied(rows: Sequence[RoundRow]) -> list[Mapping[str, Any]]:
    return [
        {"subject": one.subject, "count": one.count, "right": one.right, "lately": one.share,
         "by_round": list(one.rounds), "last": one.last}
        for one in tallies(decided_by(rows))
    ]  # fmt: skip


def _cars(done: Sequence[RoundRow], pictures: Pictures) -> Iterator[str]:
    cars = [row for row in done if row.mode in MODES and row.summary.get("points") is not None]
    if not cars:
        return
    points = [float(row.summary["points"]) for row in cars]
    mean = sum(points) / len(points)
    course = pictures.course([round(one) for one in points], 0, 100)
    yield f"Points on {_cars_words(cars)}: latest {points[-1]:.0f}, mean {mean:.0f} of 100  {course}"
    unsafe = sum(int(row.summary.get("unsafe") or 0) for row in cars)
    yield f"Unsafe acts: {unsafe} on {_cars_words(cars)}. On a real car one is enough."


def _cars_words(cars: Sequence[RoundRow]) -> str:
    return f"{len(cars)} car{'s' if len(cars) != 1 else ''}"


def _sure(found: Sureness | None) -> Iterator[str]:
    if found is None:
        return
    yield (
        f"How sure: Brier score {found.two_class.score:.2f} over {found.count} "
        f"(0 is best, 0.25 says 50 % always; the evidence had {found.evidence:.2f})"
    )


def _statements(done: Sequence[RoundRow]) -> list[Statement]:
    return [
        Statement("", float(stated), bool(came), float(evidence))
        for row in done
        for stated, came, evidence in row.summary.get("statements") or ()
    ]
