"""Perfect-test problems handed to pystreed (optimal decision trees with group discounts; van der Linden et al. 2023).

One group per test and no nesting, as that library has it. Rows are cars by weight, columns test outcomes, labels
causes; wrong labels cost so much that all causes are told apart. Its trees are walked again to get the money.
"""

from __future__ import annotations

import time
from typing import Any

from diagtree.reason.problem import Problem

WRONG = 1e4


def cost_of_optimal_tree(problem: Problem, seconds: float, depth: int) -> tuple[float, float]:
    """Return the cost per car of the best tree found of at most this depth, and the time taken. [s]"""
    import numpy as np
    from pystreed import CostSpecifier, STreeDCostSensitiveClassifier
    from pystreed.cstreed import FeatureCostSpecifier

    causes = len(problem.causes)
    shown = np.array([[int(test.chance[0][cause]) for test in problem.tests] for cause in range(causes)])
    rows = np.repeat(np.arange(causes), [int(weight) for weight in problem.weights])
    prices = []
    for number, test in enumerate(problem.tests):
        opening = sum(problem.layout.access[name].open for name in test.need.open)
        group = next(iter(test.need.open), test.id)
        prices.append(FeatureCostSpecifier(test.minutes + opening, test.minutes, group, number, number))
    wrong = ((np.ones((causes, causes)) - np.eye(causes)) * WRONG).tolist()
    # Its solver for the last two levels (1.4.0) misses discounts that cross it: left on, 8 x 10 problems come out up to
    # 8 % too dear, against plain branch and bound, against this library without it, and against ours.
    solver = STreeDCostSensitiveClassifier(max_depth=depth, time_limit=seconds, use_terminal_solver=False)
    begin = time.perf_counter()
    solver.fit(shown[rows], rows, CostSpecifier(wrong, prices))
    taken = time.perf_counter() - begin
    tree = solver.get_tree()
    money = sum(weight * _walk(problem, tree, cause) for cause, weight in enumerate(problem.weights))
    return money / sum(problem.weights), taken


def _walk(problem: Problem, node: Any, cause: int) -> float:
    cost, opened, done = 0.0, set(), set()
    while not node.is_leaf_node():
        test = problem.tests[node.feature]
        if test.id not in done:
            cost += test.minutes + sum(problem.layout.access[name].open for name in test.need.open - opened)
        opened |= test.need.open
        done.add(test.id)
        node = node.right_child if test.chance[0][cause] else node.left_child
    return cost if node.label == cause else cost + WRONG
