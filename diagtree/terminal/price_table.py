"""The table of what all trees cost on all cars: which rows are stale, and how one is computed."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from diagtree.knowledge.words import SOMETHING_ELSE
from diagtree.records import dataclass

if TYPE_CHECKING:
    from diagtree.car.first_right import FirstActs
    from diagtree.knowledge.library import Library
    from diagtree.report.price_table import Row, Seldom

CARS, SEED = 60, 1
"""Simulated cars of each cause, and the seed that makes them."""
FOLLOWED = 0.8  # part of the time that goes to the search; the rest is for adding up
REFERRED = "given away"
MOST = 4
"""So many wrong first acts are told of a cause."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """A row to compute. trees : the knowledge folder; None: the one that ships."""

    trees: str | None
    tree: str
    vehicle: str
    seconds: float


def due(library: Library, rows: Sequence[Row], only: Sequence[str] = ()) -> Iterator[tuple[str, str]]:
    """Give tree and car of each row that is missing, or was computed from other knowledge than there is now."""
    known = {row.key: row.digest for row in rows}
    for tree, vehicle in pairs(library):
        if (not only or tree in only) and known.get((tree, vehicle)) != digest(library, tree, vehicle):
            yield tree, vehicle


def pairs(library: Library) -> Iterator[tuple[str, str]]:
    """Give every tree that ends in causes of its own, on every car."""
    for tree in library.trees.values():
        if any(share for cause, share in tree.causes.items() if cause != SOMETHING_ELSE):
            yield from ((tree.id, vehicle) for vehicle in library.profiles)


def digest(library: Library, tree: str, vehicle: str) -> str:
    """Return the digest of all that the tree's price on that car depends on."""
    from diagtree.reason.price_digest import price_digest

    known, catalogue = library.require(tree, vehicle)
    return price_digest(known, catalogue, library.house)


def compute(wanted: Wanted) -> Row:
    """Search, price and simulate; for `seconds` and a little more."""
    from diagtree.car.first_right import by_strategy, by_tree, first_acts, over_shares
    from diagtree.knowledge.files import load
    from diagtree.reason.plan import Solver
    from diagtree.reason.plan_improve import SHARED, improved
    from diagtree.reason.price import price
    from diagtree.reason.problem import compile_problem
    from diagtree.report.price_table import Row
    from diagtree.terminal.deadline import within
    from diagtree.walk.context import Walk

    library = load(Path(wanted.trees) if wanted.trees else None)
    walk = Walk.begin(library, wanted.tree, wanted.vehicle)
    tree, house = library.tree(wanted.tree), library.house
    problem = compile_problem(tree, walk.catalogue, house)
    searched, half = within(FOLLOWED * wanted.seconds), within(FOLLOWED * wanted.seconds / 2)
    solver = Solver(problem)
    improved(solver, whole=within(FOLLOWED * wanted.seconds / 4), out_of_time=half, room=SHARED)
    found = price(tree, walk.catalogue, house, solver=solver, out_of_time=searched)
    by_this = first_acts(walk, by_tree(walk), CARS, SEED)
    best = first_acts(walk, by_strategy(problem, solver.act), CARS, SEED)
    return Row(
        tree.id, wanted.vehicle, digest(library, tree.id, wanted.vehicle), wanted.seconds,
        round(found.expected_cost, 2), round(found.best_cost, 2), round(found.lower_bound, 2),
        round(100.0 * found.right_first, 1), CARS,
        round(over_shares(by_this, tree.causes), 1), round(over_shares(best, tree.causes), 1),
        tuple(_seldom(by_this, best)),
    )  # fmt: skip


def _seldom(tree: Mapping[str, FirstActs], best: Mapping[str, FirstActs]) -> Iterator[Seldom]:
    from diagtree.report.price_table import SELDOM, Seldom

    for cause, one in tree.items():
        if one.right < SELDOM:
            instead = {what or REFERRED: round(part, 1) for what, part in list(one.instead.items())[:MOST]}
            yield Seldom(cause, round(one.right, 1), instead, round(best[cause].right, 1))


def computed(wanted: Sequence[Wanted], jobs: int, tell: Callable[[Row], None]) -> None:
    """Compute rows, `jobs` at a time, each told as soon as it is there."""
    if jobs <= 1:
        for one in wanted:
            tell(compute(one))
        return
    from concurrent.futures import ProcessPoolExecutor, as_completed

    with ProcessPoolExecutor(jobs) as pool:
        for done in as_completed([pool.submit(compute, one) for one in wanted]):
            tell(done.result())
