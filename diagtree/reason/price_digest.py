"""One number for all that the price of a tree on a car depends on: figures and branches, not words.

So a mended question or caution leaves a computed price as it is.
"""

from __future__ import annotations

from dataclasses import asdict
from hashlib import sha256
from json import dumps
from typing import Any

from diagtree.knowledge.house import House
from diagtree.knowledge.words import MAKE_SAFE, Catalogue, Target, Tree
from diagtree.reason.arrangement import Need
from diagtree.reason.price_steps import TestedSteps
from diagtree.reason.problem import Problem, compile_problem


def price_digest(tree: Tree, catalogue: Catalogue, house: House) -> str:
    """Return the digest, SHA-256 in hexadecimal. Raises WrongUse where the tree cannot be priced."""
    walk, problem = TestedSteps.of(tree, catalogue), compile_problem(tree, catalogue, house)
    needs = [test.need for test in problem.tests] + [work.need for work in problem.corrections]
    steps = {
        step: [walk.tests[step], [(outcome, _ending(target)) for outcome, target in walk.targets[step].items()]]
        for step in walk.order
    }
    return sha256(dumps([_acts(problem), _moves(catalogue, needs), steps], sort_keys=True).encode()).hexdigest()


def _acts(problem: Problem) -> list[Any]:
    tests = [
        [test.id, test.outcomes, test.chance, test.minutes, test.labour, _need(test.need)] for test in problem.tests
    ]
    works = [
        [work.cause, work.minutes, work.labour, work.price, _need(work.need), work.proof_minutes, work.proof_labour]
        for work in problem.corrections
    ]
    advices = [asdict(advice) for advice in problem.advices]
    return [problem.causes, problem.weights, tests, works, advices, asdict(problem.house)]


def _need(need: Need) -> list[Any]:
    return [need.power.value, sorted(need.open), need.road, need.hands_on]


def _moves(catalogue: Catalogue, needs: list[Need]) -> list[Any]:
    """Return the accesses that can be touched on the way, and the procedures."""
    made_safe = catalogue.procedures.get(MAKE_SAFE)
    touched = {name for need in needs for name in need.open} | set(made_safe.open if made_safe else ())
    access = [
        [one.id, one.open, one.close, sorted(one.after), one.dead_only, one.refit_before_live]
        for one in catalogue.access.values() if one.id in touched
    ]  # fmt: skip
    procedures = {name: [one.minutes, sorted(one.open)] for name, one in catalogue.procedures.items()}
    return [sorted(access), procedures]


def _ending(target: Target) -> list[str]:
    return ["step", target] if isinstance(target, str) else [type(target).__name__, *map(str, asdict(target).values())]
