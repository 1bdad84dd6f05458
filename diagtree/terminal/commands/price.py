"""Tell what a tree costs to walk, step by step, beside the best that could be."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from diagtree.terminal.commands import FINE
from diagtree.terminal.options import Costs, costs_options, json_option, vehicle_option
from diagtree.terminal.setting import Setting

if TYPE_CHECKING:
    from diagtree.knowledge.library import Library
    from diagtree.reason.flips import Flip
    from diagtree.reason.price import Price

    Guesses = tuple[tuple[Flip, ...], int, int]


@click.command("price")
@click.argument("tree", metavar="TREE")
@click.option("--seconds", type=click.FloatRange(min=0), default=10.0, show_default=True,
              help="Time for the search of the best strategy; short of that, bounds show what is not proven.")
@click.option("--guesses", is_flag=True, help="Also which guesses matter: how far each may be wrong (as long again).")
@click.option("--every-vehicle", is_flag=True, help="Also one line for each vehicle profile.")
@vehicle_option
@costs_options
@json_option
@click.pass_obj
def price(
    setting: Setting, tree: str, seconds: float, guesses: bool, every_vehicle: bool, vehicle: str | None, costs: Costs,
    as_json: bool,
) -> int:  # fmt: skip
    """Tell what walking TREE costs a car, step by step, beside the best strategy there is.

    The cost is expected over the causes by their shares: tests, access, making safe, corrections, parts, proofs, the
    end, wrong parts and comebacks. The regret of a step is what its test costs more than the best strategy there.
    """
    from diagtree.terminal.views import price as view

    library = setting.library()
    car = vehicle if vehicle is not None else (library.workshop.vehicle if library.workshop else None)
    found = _price(library, tree, car, costs, seconds)
    matter = _guesses(library, tree, car, costs, seconds) if guesses else None
    cars = [None, *library.profiles] if every_vehicle else []
    pages = {name: found if name == car else _price(library, tree, name, costs, seconds) for name in cars}
    if as_json:
        setting.document(view.document(tree, car, found, pages, matter))
    else:
        for line in view.lines(tree, car, found, pages, matter):
            setting.say(line)
    return FINE


def _price(library: Library, tree: str, vehicle: str | None, costs: Costs, seconds: float) -> Price:
    from diagtree.reason.plan import Solver
    from diagtree.reason.price import price as priced
    from diagtree.reason.problem import compile_problem
    from diagtree.terminal.deadline import within

    known, catalogue = library.require(tree, vehicle)
    house = costs.house(library.workshop)
    solver = Solver(compile_problem(known, catalogue, house))
    solver.solve(out_of_time=within(seconds / 2))  # the whole first: what is learnt there serves every step
    return priced(known, catalogue, house, solver=solver, out_of_time=within(seconds / 2))


def _guesses(library: Library, tree: str, vehicle: str | None, costs: Costs, seconds: float) -> Guesses:
    from diagtree.reason.flips import flips
    from diagtree.terminal.deadline import within

    known, catalogue = library.require(tree, vehicle)
    each = seconds / 40
    return flips(
        known, catalogue, costs.house(library.workshop), out_of_time=within(seconds), each=lambda: within(each)
    )


COMMAND = price
