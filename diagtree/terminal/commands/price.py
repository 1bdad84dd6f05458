"""Tell what a tree costs to walk, step by step, beside the best that could be."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from diagtree.terminal.commands import FINE
from diagtree.terminal.options import AMOUNT, Costs, costs_options, json_option, vehicle_option
from diagtree.terminal.setting import Setting

if TYPE_CHECKING:
    from diagtree.knowledge.library import Library
    from diagtree.reason.flips import Flips
    from diagtree.reason.plan import Solver
    from diagtree.reason.price import Price


SEARCHED = 0.7  # part of the time that goes to the search; the rest is for adding up
WHOLE = 0.15  # part of the time that goes to a search of the whole, before its policy is bettered
BETTERED = 0.5  # part of the time until the policy is bettered; then every state of the tree is searched
SOLVED = 15  # parts of the time for guesses that one solving may take


@click.command("price")
@click.argument("tree", required=False, metavar="TREE")
@click.option("--seconds", type=AMOUNT, default=10.0, show_default=True,
              help="Time for the whole page; where strategies are not proven in it, bounds show what is left. With "
                   "--table the time of each row.")
@click.option("--guesses/--no-guesses", default=None,
              help="Which guesses matter most, and how far each may be wrong (default: yes, but not with --json).")
@click.option("--every-vehicle/--one-vehicle", default=None,
              help="Also a line for each vehicle profile (default: where no vehicle is named, but not with --json).")
@click.option("--table", metavar="FILE", help="Keep the prices of all trees (or of TREE) on every car in FILE (JSON), "
              "with simulated cars; computes only rows whose knowledge has changed.")
@click.option("--jobs", type=click.IntRange(1, 64), default=1, show_default=True, help="With --table: rows at a time.")
@vehicle_option
@costs_options
@json_option
@click.pass_obj
def price(
    setting: Setting, tree: str | None, seconds: float, guesses: bool | None, every_vehicle: bool | None,
    table: str | None, jobs: int, vehicle: str | None, costs: Costs, as_json: bool,
) -> int:  # fmt: skip
    """Tell what walking TREE costs a car, step by step, beside the best strategy there is.

    The cost is expected over the causes by their shares: tests, access, making safe, corrections, parts, proofs, the
    end, wrong parts and comebacks. The regret of a step is what its test costs more than the best strategy there. One
    page holds every vehicle profile and the ten guesses that matter most.
    """
    from diagtree.terminal.views import price as view

    if table is not None:
        return _table(setting, table, tree, seconds, jobs)
    if tree is None:
        raise click.UsageError("name a tree, or say --table FILE for all of them")
    library = setting.library()
    car = vehicle if vehicle is not None else (library.workshop.vehicle if library.workshop else None)
    guessing = not as_json if guesses is None else guesses
    others = vehicle is None and not as_json and bool(library.profiles) if every_vehicle is None else every_vehicle
    part = seconds / (1 + guessing + others)
    found, solver = _price(library, tree, car, costs, part)
    matter = _guesses(library, tree, car, solver, part) if guessing else None
    cars = [None, *library.profiles] if others else []
    each = part / max(1, len(cars) - 1)  # as long as the first, for all other cars together
    pages = {name: found if name == car else _price(library, tree, name, costs, each)[0] for name in cars}
    if as_json:
        setting.document(view.document(tree, car, found, pages, matter))
    else:
        setting.say_wrapped(view.lines(tree, car, found, pages, matter))
    return FINE


def _table(setting: Setting, table: str, tree: str | None, seconds: float, jobs: int) -> int:
    """Bring the table up to date, row by row; broken off, it goes on where it was."""
    from pathlib import Path

    from diagtree.report.price_table import Row, read_rows, write_rows
    from diagtree.terminal.price_table import Wanted, computed, due, pairs
    from diagtree.terminal.write_whole import write_whole

    library, file = setting.library(), Path(table)
    if tree is not None:
        library.tree(tree)  # complains, with the nearest name
    wanted = frozenset(pairs(library))
    kept = read_rows(file.read_text(encoding="utf-8"), table) if file.exists() else ()
    rows = {row.key: row for row in kept if row.key in wanted}
    missing = tuple(due(library, kept, () if tree is None else (tree,)))

    def tell(row: Row) -> None:
        rows[row.key] = row
        write_whole(file, write_rows(rows.values()), overwrite=True)
        setting.say(f"{row.tree} on {row.vehicle}: {row.price:.0f}, best {row.best:.0f}, ratio {row.ratio:.2f}")

    computed([Wanted(setting.trees, *key, seconds) for key in missing], jobs, tell)
    write_whole(file, write_rows(rows.values()), overwrite=True)
    setting.say(f"{table}: {len(rows)} rows, {len(missing)} of them computed now")
    return FINE


def _price(
    library: Library, tree: str, vehicle: str | None, costs: Costs, seconds: float
) -> tuple[Price, Solver]:
    from diagtree.reason.plan import Solver
    from diagtree.reason.plan_improve import SHARED, improved
    from diagtree.reason.price import price as priced
    from diagtree.reason.problem import compile_problem
    from diagtree.terminal.deadline import within

    known, catalogue = library.require(tree, vehicle)
    house = costs.house(library.workshop)
    whole, bettered, searched = (within(part * seconds) for part in (WHOLE, BETTERED, SEARCHED))
    solver = Solver(compile_problem(known, catalogue, house))
    improved(solver, whole=whole, out_of_time=bettered, room=SHARED)  # the whole first: it serves every step
    return priced(known, catalogue, house, solver=solver, out_of_time=searched), solver


def _guesses(library: Library, tree: str, vehicle: str | None, solver: Solver, seconds: float) -> Flips:
    from diagtree.reason.flips import flips
    from diagtree.terminal.deadline import within

    known, catalogue = library.require(tree, vehicle)
    return flips(
        known, catalogue, solver.problem.house, solver=solver, out_of_time=within(seconds),
        each=lambda: within(seconds / SOLVED),
    )


COMMAND = price
