"""Which round is played: one that was left, or a new one where the trainee needs it most."""

from __future__ import annotations

import secrets
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import field
from shlex import quote

from diagtree.cases.quiz_store import QuizStore, RoundRow
from diagtree.errors import KnowledgeError, StoreError, WrongUse
from diagtree.knowledge.library import Library
from diagtree.quiz import drill_round
from diagtree.quiz.choosing import Choosing
from diagtree.quiz.drill_round import MODES as DRILLS
from diagtree.quiz.drill_round import DrillRound, Planned, askable
from diagtree.quiz.event_json import event_from_json, event_to_json
from diagtree.quiz.events import Dealt
from diagtree.quiz.modes import EXAM, MODES, PRACTICE, Mode, exam_seeds
from diagtree.quiz.progress import Decided, from_summary
from diagtree.quiz.progress_schedule import plan_round, standings
from diagtree.quiz.round import Round, resume
from diagtree.quiz.subject import SAFETY, SUBJECTS
from diagtree.records import dataclass
from diagtree.terminal.options import Costs
from diagtree.terminal.quiz_car import CarTable
from diagtree.terminal.quiz_drill import DrillTable
from diagtree.terminal.quiz_loop import SavedRound
from diagtree.terminal.views.quiz_pictures import Pictures
from diagtree.walk.context import Walk

CARS_OF_A_PAPER = 3
NOBODY = "trainee"  # who plays where no name was given
LEFT = "left"  # how a round ends that was put aside for a new one


@dataclass(frozen=True, slots=True)
class Wanted:
    """What was asked for on the command line; None where nothing was."""

    trainee: str
    mode: str | None = None
    tree: str | None = None
    vehicle: str | None = None
    seed: str | None = None
    questions: int = 10
    costs: Costs = field(default_factory=Costs)
    new: bool = False


Begun = tuple[CarTable | DrillTable, SavedRound, RoundRow]


def open_rounds(store: QuizStore, wanted: Wanted) -> list[RoundRow]:
    """Return the rounds that were left and fit what is wanted, the latest last."""
    return [
        row
        for row in store.rounds(wanted.trainee)
        if row.ended is None
        and wanted.mode in (None, row.mode)
        and (wanted.seed is None or _of_seed(row, wanted.seed))
        and _of_car(store, row, wanted)
    ]


def _of_car(store: QuizStore, row: RoundRow, wanted: Wanted) -> bool:
    """Whether a round is of the tree and the car that were asked for, if any were."""
    if wanted.tree is None and wanted.vehicle is None:
        return True
    begun = next(iter(store.events(row.id)), {})
    cars = begun.get("vehicles", [begun.get("vehicle")])
    return wanted.tree in (None, begun.get("tree")) and (wanted.vehicle is None or cars == [wanted.vehicle])


def _of_seed(row: RoundRow, seed: str) -> bool:
    return row.seed in exam_seeds(seed, CARS_OF_A_PAPER) if row.mode == EXAM.id else row.seed == seed


def put_aside(store: QuizStore, rows: Iterable[RoundRow], at: str) -> None:
    """End rounds that nobody wants to go on with; what was answered in them does not count."""
    for row in rows:
        store.append(row.id, len(store.events(row.id)), (), ended=at, summary={"ended": LEFT})


def decided_by(rows: Iterable[RoundRow]) -> list[Decided]:
    """Return every decision that counts in a trainee's finished rounds."""
    return [one for row in rows if row.ended for one in from_summary(row.id, row.ended, row.summary)]


def go_on(store: QuizStore, row: RoundRow, library: Library, pictures: Pictures) -> Begun:
    """Return a round as it was left. Raises WrongUse where the knowledge has changed since."""
    data = store.events(row.id)
    if not data:
        raise StoreError(f"round {row.id} was cut off before its first question; begin a new one with --new")
    saved = SavedRound(store, row.id, len(data), command_of(row))
    if row.mode in DRILLS:
        events = [drill_round.from_json(one) for one in data]
        planned = events[0]
        if not isinstance(planned, Planned):
            raise StoreError(f"round {row.id} has no plan; begin a new one with --new")
        if planned.digest != library.digest:
            raise WrongUse(_changed(row))
        drill = DrillRound(_walks(library, planned.tree, planned.vehicles, Costs()), planned)
        return DrillTable(drill, drill.fold(events), pictures), saved, row
    happened = [event_from_json(one) for one in data]
    dealt = happened[0]
    if not isinstance(dealt, Dealt):
        raise StoreError(f"round {row.id} has no car; begin a new one with --new")
    if dealt.digest != library.digest:
        raise WrongUse(_changed(row))
    return CarTable(resume(library, dealt), happened, pictures), saved, row


def _changed(row: RoundRow) -> str:
    return f"the knowledge has changed since round {row.id} was begun; begin a new one with --new"


def command_of(row: RoundRow, before: str = "diagtree quiz", progress: str | None = None) -> str:
    """Return the command that goes on with a round. before : its beginning. progress : the quiz's file, if named."""
    who = "" if row.trainee == NOBODY else f" --trainee {quote(row.trainee)}"
    where = f" --progress {quote(progress)}" if progress else ""
    return f"{before} --mode {row.mode}{who}{where}"


def begin(store: QuizStore, wanted: Wanted, library: Library, pictures: Pictures, at: str) -> Begun:
    """Return a new round. Raises WrongUse for a mode, tree or car that does not exist."""
    mode = wanted.mode or PRACTICE.id
    if mode in DRILLS:
        return _begin_drill(store, wanted, mode, library, pictures, at)
    played = _dealt(store, wanted, MODES[mode], library, at)
    number = store.begin(wanted.trainee, mode, played.dealt.seed, at, [event_to_json(played.dealt)])
    row = _row(store, wanted, number)
    return CarTable(played, [played.dealt], pictures), SavedRound(store, number, 1, command_of(row)), row


def _row(store: QuizStore, wanted: Wanted, number: int) -> RoundRow:
    return next(row for row in store.rounds(wanted.trainee) if row.id == number)


def _dealt(store: QuizStore, wanted: Wanted, mode: Mode, library: Library, at: str) -> Round:
    rows = store.rounds(wanted.trainee)
    if mode is EXAM or wanted.seed is not None:  # the same for everybody
        seed = _paper_seed(wanted, rows) if mode is EXAM else wanted.seed or ""
        return _choosing(library, wanted).deal(seed, mode)
    cars = [row for row in rows if row.mode in MODES and row.ended]
    played = Counter(str(row.summary.get("tree")) for row in cars)
    decided = decided_by(rows)
    by_need: list[str] = []
    if len(cars) % 2 and decided:  # every other car is dealt by share alone, so that shares keep their meaning
        faults = [subject for subject in SUBJECTS if subject != SAFETY]  # no car is faulty in its safety
        by_need = [one.subject for one in standings(decided, faults, at)]
    return _choosing(library, wanted, played).deal(_new_seed(), mode, by_need)


def _choosing(library: Library, wanted: Wanted, played: Mapping[str, int] | None = None) -> Choosing:
    return Choosing(library, wanted.costs.house(library.workshop), wanted.tree, wanted.vehicle, played or {})


def _paper_seed(wanted: Wanted, rows: Sequence[RoundRow]) -> str:
    paper = wanted.seed or "1"
    done = {row.seed: row.summary.get("points") for row in rows if row.mode == EXAM.id and row.ended}
    seeds = exam_seeds(paper, CARS_OF_A_PAPER)
    left = [seed for seed in seeds if seed not in done]
    if not left:
        told = ", ".join("none" if done[seed] is None else f"{done[seed]:.0f}" for seed in seeds)
        raise WrongUse(f"exam paper `{paper}` is sat, with {told} points for its cars; name another with --seed")
    return left[0]


def _begin_drill(store: QuizStore, wanted: Wanted, mode: str, library: Library, pictures: Pictures, at: str) -> Begun:
    seed = wanted.seed or _new_seed()
    vehicles = (wanted.vehicle,) if wanted.vehicle else (tuple(library.profiles) or (None,))
    tree = _choosing(library, wanted).walk(seed).tree
    walks = _walks(library, tree, vehicles, wanted.costs)
    subjects = askable(mode, walks)
    plan = plan_round(decided_by(store.rounds(wanted.trainee)), subjects, at, wanted.questions)
    planned = Planned(mode, seed, tree, tuple(walk.vehicle for walk in walks), plan, library.digest)
    number = store.begin(wanted.trainee, mode, seed, at, [drill_round.to_json(planned)])
    drill = DrillRound(walks, planned)
    row = _row(store, wanted, number)
    return DrillTable(drill, drill.fold(()), pictures), SavedRound(store, number, 1, command_of(row)), row


def _walks(library: Library, tree: str, vehicles: Sequence[str | None], costs: Costs) -> tuple[Walk, ...]:
    """Return the tree on each of the cars that it can be used on. Raises KnowledgeError where there is none."""
    house = costs.house(library.workshop)
    found, error = [], None
    for vehicle in vehicles:
        try:
            found.append(Walk.begin(library, tree, vehicle, house))
        except KnowledgeError as refused:
            error = refused
    if not found and error is not None:
        raise error
    return tuple(found)


def _new_seed() -> str:
    return str(secrets.randbelow(10**6))
