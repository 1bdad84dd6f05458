"""The ways to play a round, as data."""

from __future__ import annotations

from diagtree.errors import WrongUse
from diagtree.physics.nearest import did_you_mean
from diagtree.records import dataclass


@dataclass(frozen=True, slots=True)
class Mode:
    """One way to play a round.

    feedback : whether each decision is judged as soon as it is made; else only at the end.
    guide : whether the tree's next step is suggested, with its reason.
    hints : whether the best act is told on request.
    hint_minutes : labour minutes that a hint costs, at the house's rate: an experienced colleague is asked. [min]
    unsafe_ends : whether an unsafe act ends the round, at zero points; else its consequence is told and it goes on.
    """

    id: str
    words: str
    feedback: bool
    guide: bool
    hints: bool
    hint_minutes: float
    unsafe_ends: bool


HINT_MINUTES = 10.0
"""A colleague's time for one question. A convention of this quiz, not a trade figure. [min]"""

PRACTICE = Mode("practice", "free choice; what every decision cost is told at once", True, False, True, HINT_MINUTES,
                False)  # fmt: skip
GUIDED = Mode("guided", "the tree's next step is suggested and explained", True, True, True, HINT_MINUTES, False)
EXAM = Mode("exam", "no word before the end; an unsafe act ends the round at zero", False, False, False, 0.0, True)

MODES = {mode.id: mode for mode in (PRACTICE, GUIDED, EXAM)}


def mode_of(name: str) -> Mode:
    """Return the mode of that name. Raises WrongUse naming those there are."""
    if name not in MODES:
        raise WrongUse(f"there is no mode `{name}`{did_you_mean(name, MODES)}; modes: {', '.join(MODES)}")
    return MODES[name]


def exam_seeds(paper: str, rounds: int) -> tuple[str, ...]:
    """Return the seeds of an exam paper: the same cars for everybody who sits it."""
    return tuple(f"exam {paper} {number}" for number in range(1, rounds + 1))
