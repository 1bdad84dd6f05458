"""A round of drills as a pure fold: its plan, what was answered, and what came of it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict, replace
from typing import Any, TypeAlias

from diagtree.errors import AnswerError, WrongUse
from diagtree.physics.nearest import did_you_mean
from diagtree.quiz.drills import Dice, Drill, Question, drills
from diagtree.quiz.subject import SUBJECTS
from diagtree.records import dataclass
from diagtree.walk.context import Walk

MODES = ("reading", "safety")
FORMAT = 1  # of the stored form


@dataclass(frozen=True, slots=True)
class Planned:
    """The round begins: one subject a question, chosen beforehand, so that a resumed round asks the same.

    vehicles : profiles that are drawn from; None among them is the catalogue as written. digest : of the knowledge.
    """

    mode: str
    seed: str
    tree: str
    vehicles: tuple[str | None, ...]
    subjects: tuple[str, ...]
    digest: str


@dataclass(frozen=True, slots=True)
class HintGiven:
    """The rule was shown before the answer."""

    number: int


@dataclass(frozen=True, slots=True)
class DrillAnswered:
    """A question was answered. `given` : ids of the options named."""

    number: int
    subject: str
    about: str
    given: tuple[str, ...]
    right: bool
    hinted: bool


@dataclass(frozen=True, slots=True)
class DrillStopped:
    """The trainee gave the round up."""


Event: TypeAlias = Planned | HintGiven | DrillAnswered | DrillStopped
_TYPES: Mapping[str, type[Event]] = {one.__name__: one for one in (Planned, HintGiven, DrillAnswered, DrillStopped)}


@dataclass(frozen=True, slots=True)
class DrillState:
    """Where a round stands. hinted : whether the rule was shown for the present question."""

    answered: tuple[DrillAnswered, ...] = ()
    hinted: bool = False
    stopped: bool = False

    @property
    def right(self) -> int:
        """How many answers were right."""
        return sum(one.right for one in self.answered)


@dataclass(frozen=True)
class DrillRound:
    """What a round stands on: the cars and the plan."""

    walks: tuple[Walk, ...]
    planned: Planned

    def question(self, state: DrillState) -> Question | None:
        """Return what is asked now, None at the end."""
        number = len(state.answered)
        if state.stopped or number >= len(self.planned.subjects):
            return None
        subject = self.planned.subjects[number]
        seed = f"{self.planned.seed} {self.planned.mode}"
        kinds = [one for one in _of_mode(self.planned.mode) if subject in one.subjects(self.walks)]
        if not kinds:
            raise WrongUse(f"there is nothing to ask about {subject} in this knowledge")
        # By turns: by chance alone three of a kind in a row would be common.
        before = self.planned.subjects[:number].count(subject)
        drill = Dice(seed).shuffled(kinds, subject)[before % len(kinds)]
        return drill.ask(self.walks, subject, Dice(f"{seed} {number}"))

    def fold(self, events: Iterable[Event]) -> DrillState:
        """Return where the round stands after `events`."""
        state = DrillState()
        for event in events:
            state = step(state, event)
        return state


def step(state: DrillState, event: Event) -> DrillState:
    """Return the state after one more event."""
    match event:
        case HintGiven():
            return replace(state, hinted=True)
        case DrillAnswered():
            return replace(state, answered=(*state.answered, event), hinted=False)
        case DrillStopped():
            return replace(state, stopped=True)
        case Planned():
            return state


def askable(mode: str, walks: Sequence[Walk]) -> tuple[str, ...]:
    """Return the subjects that a round of `mode` can ask about on these cars, in the order of SUBJECTS.

    Raises WrongUse for a mode that does not exist, or one without anything to ask.
    """
    if mode not in MODES:
        raise WrongUse(f"there is no drill `{mode}`{did_you_mean(mode, MODES)}; drills: {', '.join(MODES)}")
    known = frozenset[str]().union(*(one.subjects(walks) for one in _of_mode(mode)))
    if not known:
        raise WrongUse(f"this knowledge has nothing to ask in a {mode} drill: no number with `of:`, no make-safe")
    return tuple(subject for subject in SUBJECTS if subject in known)


def judge(question: Question, state: DrillState, given: Sequence[str]) -> DrillAnswered:
    """Return the answer, judged. `given` : ids of options. Raises AnswerError, saying what to type, for others."""
    known = {option.id for option in question.options}
    for one in given:
        if one not in known:
            raise AnswerError(f"`{one}` is none of the answers{did_you_mean(one, known)}")
    if not given or (len(set(given)) > 1 and not question.many):
        raise AnswerError("name one answer" if not question.many else "name at least one answer")
    named = tuple(sorted(set(given)))
    right = frozenset(named) == question.right
    return DrillAnswered(len(state.answered), question.subject, question.about, named, right, state.hinted)


def chosen(question: Question, line: str) -> tuple[str, ...]:
    """Return the ids of the options that a typed line names: numbers or words, commas or blanks between.

    Raises AnswerError, saying what was expected.
    """
    known = {option.id.casefold(): option.id for option in question.options}
    known |= {str(number): option.id for number, option in enumerate(question.options, 1)}
    found = []
    for word in line.replace(",", " ").split():
        tidy = word.casefold().rstrip(".)")
        if tidy not in known:
            raise AnswerError(
                f"`{word[:40]}` is none of the answers; type a number from 1 to {len(question.options)}"
                f"{', or several with commas between' if question.many else ''}"
            )
        found.append(known[tidy])
    if not found:
        raise AnswerError("Enter alone is no answer")
    if len(set(found)) > 1 and not question.many:
        raise AnswerError("one answer only")
    return tuple(found)


def to_json(event: Event) -> dict[str, Any]:
    """Return an event as plain data."""
    return {"type": type(event).__name__, "v": FORMAT, **asdict(event)}


def from_json(data: Mapping[str, Any]) -> Event:
    """Return the event that `data` was made from. Raises WrongUse where this program does not know its form."""
    kind = _TYPES.get(str(data.get("type")))
    values: dict[str, Any] = {key: tuple(value) if isinstance(value, list) else value for key, value in data.items()}
    try:
        if kind is None or values.pop("v", None) != FORMAT:
            raise TypeError(f"type {data.get('type')!r}, form {data.get('v')!r}")
        values.pop("type")
        return kind(**values)
    except TypeError as error:
        raise WrongUse(f"the round holds an event that this version does not know ({error}); begin a new one") from None


def _of_mode(mode: str) -> tuple[Drill, ...]:
    return tuple(one for one in drills() if one.mode == mode)
