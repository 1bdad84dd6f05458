"""The loop of a quiz: show, ask, take, save, tell. What happened is saved before anything more is shown."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Any, Protocol

from diagtree.errors import AnswerError
from diagtree.records import dataclass
from diagtree.terminal.face import Block, Face, Look
from diagtree.terminal.interrupted import Interrupted

if TYPE_CHECKING:
    from diagtree.cases.quiz_store import QuizStore

PRACTICE_ONLY = (
    "Practice on a simulated car, nothing more. Work on high voltage needs a qualification, the maker's procedure and "
    "local law, whatever the score here."
)


class Left(Exception):
    """The trainee typed `leave`: the round stays, the status is fine."""


@dataclass(frozen=True, slots=True)
class Taken:
    """What came of a line. events : as plain data, to be saved. blocks : to be shown after that.

    goes_on : the question that stands there is answered, the next is due.
    """

    events: tuple[Mapping[str, Any], ...] = ()
    blocks: tuple[Block, ...] = ()
    goes_on: bool = False


class Table(Protocol):
    """One round being played, of whatever sort."""

    @property
    def over(self) -> bool:
        """Whether nothing is left to be asked."""

    @property
    def label(self) -> str:
        """What stands before the place to type."""

    def opening(self) -> Iterable[Block]:
        """Return what is shown once, when the round is begun or gone on with."""

    def asked(self) -> Iterable[Block]:
        """Return the present question."""

    def take(self, line: str) -> Taken:
        """Return what comes of a typed line. Raises AnswerError where it cannot be taken, Left for `leave`."""

    def closing(self) -> tuple[Sequence[Block], Mapping[str, Any]]:
        """Return what is shown at the end, and the summary that is kept."""

    def document(self) -> Mapping[str, Any]:
        """Return the end of the round as JSON data."""


@dataclass(slots=True)
class SavedRound:
    """A round whose events are in the quiz's file. count : how many of them. command : what goes on with it."""

    store: QuizStore
    number: int
    count: int
    command: str = "diagtree quiz"

    def add(self, events: Sequence[Mapping[str, Any]], ended: str | None = None, summary: Any = None) -> None:
        """Save events, and the end with its summary."""
        self.store.append(self.number, self.count, events, ended=ended, summary=summary)
        self.count += len(events)


def play(table: Table, saved: SavedRound, face: Face, clock: Callable[[], str]) -> None:
    """Play a round to its end. Raises Left or Interrupted where the trainee goes; all that happened is saved."""
    try:
        face.show([*table.opening(), Block(Look.CAUTION, PRACTICE_ONLY, "! ")])
        while not table.over:
            face.show(table.asked())
            _taken(table, saved, face)
        blocks, summary = table.closing()
        saved.add((), ended=clock(), summary=summary)
        face.show([*blocks, Block(Look.CAUTION, PRACTICE_ONLY, "! ")])
    except (Interrupted, KeyboardInterrupt) as gone:
        raise Interrupted(saved_words(saved)) from gone


def saved_words(saved: SavedRound) -> str:
    """Return that the round is kept, and how to go on."""
    return f"round {saved.number} is saved; `{saved.command}` goes on with it"


def _taken(table: Table, saved: SavedRound, face: Face) -> None:
    """Take one line that does something; others (help, lists, slips) are answered on the way."""
    while True:
        line = face.ask(table.label)
        try:
            if not line:
                raise AnswerError("Enter alone is no answer; `help` says what may be typed")
            taken = table.take(line)
        except AnswerError as error:
            face.show([Block(Look.REFUSED, sentence(str(error)), "! ")])
            continue
        if taken.events:
            saved.add(taken.events)
        face.show(taken.blocks)
        if taken.goes_on:
            return


def sentence(text: str) -> str:
    """Return `text` with a capital, unless it begins with a quoted word."""
    return text[:1].upper() + text[1:]


def said(*lines: str, look: Look = Look.SAID, first: str = "  ") -> tuple[Block, ...]:
    """Return lines as blocks."""
    return tuple(Block(look, line, first) for line in lines)
