"""Which walk is meant: a tree to begin, a case to go on with, or a choice among both."""

from __future__ import annotations

from collections.abc import Callable

from diagtree.cases.case_number import is_number
from diagtree.cases.store import CaseId, CaseRow, CaseStore
from diagtree.errors import WrongUse
from diagtree.knowledge.library import Library
from diagtree.records import dataclass
from diagtree.terminal import run_walk
from diagtree.terminal.clock import short
from diagtree.terminal.dialogue import Dialogue
from diagtree.terminal.options import Costs
from diagtree.terminal.quick_knowledge import library_for
from diagtree.terminal.run_walk import SavedWalk
from diagtree.terminal.setting import Setting
from diagtree.walk.context import Walk
from diagtree.walk.prompts import Option

_MOST_CASES = 9


@dataclass(frozen=True, slots=True)
class Wanted:
    """What was asked for on the command line. title : what lists call a case that is begun; "": the tree's title."""

    what: str | None
    vehicle: str | None
    costs: Costs
    by: str | None
    title: str = ""


def start(
    setting: Setting, store: CaseStore, wanted: Wanted, dialogue: Dialogue | None,
    check: Callable[[Walk], object] = lambda walk: None,  # noqa: ARG005
) -> SavedWalk:  # fmt: skip
    """Return the walk to play.

    dialogue : asks for what was not said, None where there is nobody to ask. check : may refuse a walk, by raising,
    before anything is saved.
    """
    what = wanted.what or _choose(setting, store, dialogue)
    case = case_meant(store, what)
    if case is not None:  # on the knowledge that it keeps: whatever became of the folder since
        check(run_walk.reopen(store, case).walk)
        saved = _resume(setting, store, case, wanted)
        saved.command = setting.command
        return saved
    library = library_for(setting.trees, wanted.vehicle)
    library.tree(what)  # complains, with the nearest name
    vehicle = wanted.vehicle or _vehicle(library, dialogue)
    walk = Walk.begin(library, what, vehicle, wanted.costs.house(library.workshop))
    check(walk)
    saved = run_walk.begin(walk, store, by=wanted.by, title=wanted.title)
    saved.command = setting.command
    store.claim(saved.case)
    return saved


def case_meant(store: CaseStore, typed: str) -> CaseId | None:
    """Return the case that `typed` names, None where it is no case's number. Raises WrongUse where there is none."""
    case = store.resolve(typed)
    if case is None and is_number(typed):
        raise WrongUse(f"there is no case `{typed}` in {store.path}; `diagtree cases` lists what there is")
    return case


def _resume(setting: Setting, store: CaseStore, case: CaseId, wanted: Wanted) -> SavedWalk:
    if store.row(case).status == run_walk.CLOSED:
        how = run_walk.reopen(store, case).state.closed  # None: closed by hand, which can be taken back
        again, new = setting.command(f"cases reopen {case}"), setting.command("walk TREE", "store", "trees")
        ways = f"or `{again}`" if how is None else f"a new one begins with `{new}`"
        came, record = f" ({how})" if how else "", setting.command(f"report {case}")
        raise WrongUse(f"case {case} is closed{came}; look at it with `{record}`, {ways}")
    if not store.claim(case):
        setting.talk(f"diagtree: case {case} is open in another window too; who answers second will be told")
    saved = run_walk.resume(store, case)
    if wanted.vehicle not in (None, saved.walk.vehicle):
        raise WrongUse(f"case {case} was begun on `{saved.walk.vehicle}`, not on `{wanted.vehicle}`; begin a new one")
    return saved


def _choose(setting: Setting, store: CaseStore, dialogue: Dialogue | None) -> str:
    library = setting.library()
    if dialogue is None:
        raise WrongUse(f"say which complaint or case; trees here: {_names(library)}; `diagtree cases` lists cases")
    opened = store.cases(status="open", limit=_MOST_CASES)
    options = [Option(row.id, f"go on with {row.id}: {_about(row)}") for row in opened]
    options += [Option(tree.id, f"begin: {tree.title}") for tree in library.trees.values()]
    if not options:
        raise WrongUse("there is no tree in the knowledge folder; name another with --trees DIR")
    return dialogue.choose("What is it about?", options)


def _about(row: CaseRow) -> str:
    return ", ".join(filter(None, (row.title or row.tree, row.vehicle, short(row.changed))))


def _vehicle(library: Library, dialogue: Dialogue | None) -> str | None:
    workshop = library.workshop
    if dialogue is None or not library.profiles or (workshop and workshop.vehicle):
        return None  # the workshop's, or the catalogue as written
    options = [Option(name, profile.vehicle.name) for name, profile in library.profiles.items()]
    options.append(Option("none", "another car: the catalogue as written, maker's values are asked for"))
    chosen = dialogue.choose("Which car is it?", options)
    return None if chosen == "none" else chosen


def _names(library: Library) -> str:
    return ", ".join(sorted(library.trees)) or "none"
