"""Rank what could be done next in a case by what it is worth now, with the reason."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import click

from diagtree.terminal.commands import FINE
from diagtree.terminal.options import AMOUNT, Costs, costs_options, json_option
from diagtree.terminal.setting import Setting

if TYPE_CHECKING:
    from collections.abc import Sequence

    from diagtree.reason.next_act import Advised, Present
    from diagtree.terminal.run_walk import SavedWalk
    from diagtree.terminal.views.next import Page

AHEAD = 0.06  # seconds for the first advice
WHOLE, BETTERED = 0.15, 0.6  # parts of the time until which the best strategy is searched, and bettered; then every act
LEAST_SEARCH = 0.3  # seconds; a search needs as long to show what the first advice shows at once


@click.command("next")
@click.argument("case", metavar="CASE")
@click.option("--seconds", type=AMOUNT, default=2.0, show_default=True,
              help="Time for the search; with 0 the first advice alone, at once.")
@costs_options
@json_option
@click.pass_obj
def next_(setting: Setting, case: str, seconds: float, costs: Costs, as_json: bool) -> int:
    """Rank what could be done next in CASE by what the whole case is expected to cost after it, with the reason.

    It starts from the case as it stands: the answers so far, what is open and whether the car is dead, the tests done,
    the corrections that were in vain. On a screen the first advice stands at once, and the better one takes its place.
    What is not proven in the time is shown. Costs are those that the case began with, unless others are given. It
    advises; the technician decides.
    """
    from diagtree.reason.first_advice import FirstAdvice
    from diagtree.reason.next_act import first_acts, next_acts
    from diagtree.reason.plan import Solver
    from diagtree.terminal.deadline import within
    from diagtree.terminal.run_walk import CLOSED, reopen
    from diagtree.terminal.views import next as view
    from diagtree.terminal.views.advice import currency_of
    from diagtree.walk.advice import case_of
    from diagtree.walk.route import route

    with setting.cases(read_only=True) as store:
        known = store.resolve(case)
        if known is None:
            from diagtree.errors import WrongUse

            raise WrongUse(f"there is no case `{case}` in {store.path}; `diagtree cases` lists what there is")
        saved = reopen(store, known)
        house = saved.walk.house
        saved.walk = saved.walk.with_costs(
            house.rate if costs.rate is None else costs.rate,
            house.referral if costs.referral is None else costs.referral,
            house.comeback if costs.comeback is None else costs.comeback,
        )
        closed = store.row(known).status == CLOSED
    if closed:
        return _told_closed(setting, known, saved, as_json)
    now = case_of(saved.walk, saved.state, route(saved.walk, saved.state))
    advice = FirstAdvice(now.problem)
    acts = first_acts(now, advice, out_of_time=within(AHEAD))
    if halted := _halted(saved):
        now, acts = replace(now, doubt=halted), tuple(act for act in acts if act.kind == "refer")
    elif settled := _settled(saved):
        now, acts = replace(now, doubt=settled), ()
    search = seconds >= LEAST_SEARCH and any(act.at_least < act.expected_cost for act in acts)
    if search:
        with setting.meanwhile(() if as_json else view.first_lines(known, acts, seconds, currency_of(saved.walk))):
            whole, bettered, late = (within(part * seconds) for part in (WHOLE, BETTERED, 1.0))
            acts = next_acts(
                now, Solver(now.problem), whole=whole, bettered=bettered, out_of_time=late, too_late=late,
                advice=advice,
            )
    page = replace(_page(saved, known, closed, now, acts, searched=search), currency=currency_of(saved.walk))
    if as_json:
        setting.document(view.document(page))
    else:
        setting.say_wrapped(view.lines(page))
    return FINE


def _told_closed(setting: Setting, case: str, saved: SavedWalk, as_json: bool) -> int:
    """Say that nothing is left to weigh: the case is over."""
    from diagtree.terminal.views import next as view

    ended = f" as {saved.state.closed}" if saved.state.closed else ""
    word = f"The case is closed{ended}: nothing is left to weigh in it. `diagtree report {case}` tells what was done."
    word = f"{word} {_halted(saved)}".rstrip()
    page = view.Page(case, True, word, (), (), None, None, None, searched=False, settled=True)
    if as_json:
        setting.document(view.document(page))
    else:
        setting.say_wrapped(view.lines(page))
    return FINE


def _halted(saved: SavedWalk) -> str:
    """Return why nobody works on this car now, whatever the sums say; "" where nothing is in the way."""
    from diagtree.walk.route import route

    if route(saved.walk, saved.state).danger:
        return "A danger was found: no more work on this car. It stays set apart; refer it."
    if saved.state.voltage_found:
        return "Voltage was found where none may be: prove its absence again, or leave the car isolated and refer it."
    return ""


def _settled(saved: SavedWalk) -> str:
    """Return what was decided or done, where that leaves nothing to weigh; "" where it leaves something."""
    from diagtree.walk.route import ToCorrect, ToEnd, route

    match route(saved.walk, saved.state).goal:
        case ToEnd(how="fixed"):
            return "The car is fixed, by its proof: nothing of this case is left to find."
        case ToEnd(how="advised"):
            return "The case ends in advice to the owner: nothing is left to weigh. Put back what is open; hand back."
        case ToEnd(how="referred"):
            return "The car is referred: nothing is left to weigh here. Put back what is open; hand back."
        case ToEnd():
            return "The case goes to its end, the car as it is: nothing is left to weigh here."
        case ToCorrect(cause=cause) if cause in saved.state.corrected:
            return f"The correction of {cause} is done: its proof comes next. What follows hangs on how that ends."
        case _:
            return ""


def _page(
    saved: SavedWalk, case: str, closed: bool, now: Present, acts: Sequence[Advised], *, searched: bool
) -> Page:
    from diagtree.reason.next_act import before_order
    from diagtree.reason.sharing import sharing
    from diagtree.terminal.views.next import Page
    from diagtree.walk.advice import compare, tree_says
    from diagtree.walk.ask_ending import untried
    from diagtree.walk.route import route

    walk, found = saved.walk, route(saved.walk, saved.state)
    if _halted(saved) or _settled(saved):
        return Page(case, closed, now.doubt, acts, (), None, None, None, searched, bool(_settled(saved)))
    says = tree_says(walk, found)
    overturn = before_order(acts, now, says.id) if says and says.id and says.kind != "test" else None
    tests = [walk.test(test) for test in untried(walk, found)]
    shared = sharing(tests, walk.layout, walk.house, saved.state.arrangement)
    return Page(case, closed, now.doubt, acts, shared, says, compare(walk, found, acts), overturn, searched)


COMMAND = next_
