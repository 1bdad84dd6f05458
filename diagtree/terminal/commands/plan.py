"""Find the best strategy for a complaint, and write it as a tree."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from diagtree.terminal.commands import FINE
from diagtree.terminal.options import AMOUNT, Amount, Costs, costs_options, json_option, vehicle_option
from diagtree.terminal.setting import Setting

if TYPE_CHECKING:
    from diagtree.knowledge.house import House
    from diagtree.knowledge.words import Catalogue, Tree
    from diagtree.reason.plan import Strategy
    from diagtree.reason.price import Price


RARE = 0.2  # per cent of cars
SMALL = 200  # situations of a strategy that is written down whole


ALLOWED = {
    "branch-never-taken": "a plan answers every outcome, mistaken ones too",
    "cause-never-concluded": "on these cars another ending costs less",
    "test-parts-nothing": "it tells the listed causes from something else, or follows a mistaken answer",
    "test-without-effect": "its answer counts after a correction in vain",
    "conclusion-excluded": "only a mistaken answer leads here",
}
"""What `check` warns of in trees of people and what a computed tree may have, with the reason that is written there."""
WHOLE = 0.15  # part of the time that goes to a search of the whole, before its policy is made better point by point
SEARCHED = 0.85  # part of the time that goes to the search; the rest is for writing the tree


@click.command("plan")
@click.argument("tree", metavar="TREE")
@click.option("--seconds", type=AMOUNT, default=10.0, show_default=True,
              help="Time for the search; short of that, bounds show what is not proven.")
@click.option("--rare", type=Amount(min=0, max=100), default=None,
              help="Per cent of cars below which a branch ends instead of asking on (default: 0.2; 0 where the "
                   "strategy is proven and small enough to be read).")
@click.option("--out", metavar="FILE", type=click.Path(path_type=Path, dir_okay=False),
              help="Write the tree to FILE (its name is the tree's), never over a file that is there.")
@vehicle_option
@costs_options
@json_option
@click.pass_obj
def plan(
    setting: Setting, tree: str, seconds: float, rare: float | None, out: Path | None, vehicle: str | None,
    costs: Costs, as_json: bool,
) -> int:  # fmt: skip
    """Find the strategy of least expected cost for the complaint of TREE; print it as a tree, or write it to a file.

    It may use every test of the tree and every test that one of its causes shows. With --json the figures are printed
    instead of the tree; what is not proven in the time given stands between `expected_cost` and `lower_bound`.
    """
    from diagtree.check.allowing import allowing
    from diagtree.reason.plan import Solver
    from diagtree.reason.plan_improve import improved
    from diagtree.reason.problem import compile_problem
    from diagtree.terminal.deadline import within
    from diagtree.terminal.views import plan as view

    if out is not None:
        _demand_new(out)  # said now, not after the search
    library = setting.library()
    car = vehicle if vehicle is not None else (library.workshop.vehicle if library.workshop else None)
    known, catalogue = library.require(tree, car)
    house = costs.house(library.workshop)
    whole, searched = within(WHOLE * seconds), within(SEARCHED * seconds)
    best = improved(Solver(compile_problem(known, catalogue, house)), whole=whole, out_of_time=searched)
    if out is not None or not as_json:
        name = out.stem if out is not None else f"{tree}-plan"
        drawn, costs_of_it = _tree(best, known, catalogue, house, name, rare, car)
        text, left = allowing(drawn, f"{name}.yaml", library, ALLOWED)
        for finding in left:
            setting.talk(f"diagtree: {finding}")
        if out is not None:
            _write(out, text)
            setting.talk(f"written to {out}")
        if out is None and not as_json:
            setting.out.write(text)
    if as_json:
        setting.document(view.document(tree, car, best))
    elif out is not None:
        for line in view.lines(tree, car, best, costs_of_it):
            setting.say(line)
    return FINE


def _tree(
    best: Strategy, known: Tree, catalogue: Catalogue, house: House, name: str, rare: float | None, car: str | None
) -> tuple[str, Price]:
    """Return the strategy as a tree's text, and what that tree costs."""
    from diagtree.reason.price import price
    from diagtree.report.tree_yaml import tree_text
    from diagtree.terminal.deadline import within
    from diagtree.terminal.views import plan as view

    drawn = _drawn(best, known, catalogue, name, rare)
    costs = price(drawn, catalogue, house, solver=best.solver, out_of_time=within(0))
    beside = {step: f"{100 * figures.reached:.1f} % of cars" for step, figures in costs.steps.items()}
    head = view.heading(known.id, car, best, costs, _dangers_first(known, drawn, catalogue))
    return tree_text(drawn, above=head, beside=beside), costs


def _dangers_first(known: Tree, drawn: Tree, catalogue: Catalogue) -> tuple[str, ...]:
    """Return the look for a danger that people's tree begins with, where the computed one begins otherwise."""
    first, now = (tree.steps[tree.start].test for tree in (known, drawn))
    return (first,) if catalogue.tests[first].stop and now != first else ()


def _drawn(best: Strategy, known: Tree, catalogue: Catalogue, name: str, rare: float | None) -> Tree:
    from diagtree.reason.plan_tree import TooLarge, strategy_tree
    from diagtree.terminal.deadline import within

    if rare is None and best.exact:
        try:
            return strategy_tree(best.solver, known, catalogue, name, most=SMALL)
        except TooLarge:
            pass
    least = (RARE if rare is None else rare) / 100
    return strategy_tree(best.solver, known, catalogue, name, rare=least, out_of_time=within(0))


def _demand_new(out: Path) -> None:
    from diagtree.errors import WrongUse

    if out.suffix != ".yaml":
        raise WrongUse(f"`{out}` must end in .yaml, as every tree's file does")
    if out.exists():
        raise WrongUse(f"`{out}` is there already; give another name, or move it away first")
    if not out.parent.is_dir():
        raise WrongUse(f"`{out}` cannot be written: there is no folder `{out.parent}`")


def _write(out: Path, text: str) -> None:
    from diagtree.errors import WrongUse

    try:
        with out.open("x", encoding="utf-8") as file:
            file.write(text)
    except FileExistsError as error:
        raise WrongUse(f"`{out}` is there already; give another name, or move it away first") from error
    except OSError as error:
        raise WrongUse(f"`{out}` cannot be written: {(error.strerror or str(error)).lower()}") from error


COMMAND = plan
