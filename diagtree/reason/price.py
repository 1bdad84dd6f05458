"""What a tree costs to walk, and what the best strategy would cost (docs/meaning.md, "Price of a tree").

Summed over states, never sampled. A state is a step, an arrangement, and what the answers so far make of the causes;
answers that lead to the same state are taken together.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from diagtree.knowledge.house import House
from diagtree.knowledge.words import Catalogue, Ending, Tree
from diagtree.reason.plan import Act, Solver
from diagtree.reason.price_steps import TestedSteps
from diagtree.reason.problem import compile_problem
from diagtree.records import dataclass


@dataclass(frozen=True, slots=True)
class StepPrice:
    """One step: the chance to reach it [-], the cost of a car from there on, and the regret of doing its test there.

    A step that no car reaches has 0 in all three.
    """

    reached: float
    cost: float
    regret: float


@dataclass(frozen=True, slots=True)
class EndingPrice:
    """One way to end: the step and the outcome that lead there, the ending, and the same three figures.

    instead : the best act known for those of the cars there that lose most; None where nothing is lost.
    """

    step: str
    outcome: str
    ending: Ending
    figures: StepPrice
    instead: Act | None = None


@dataclass(frozen=True, slots=True)
class Price:
    """What a tree costs, per car. Costs are money of the house, minutes are time in the bay. [min]

    best_cost : cost of the best strategy found; lower_bound : what no strategy can undercut. Equal where `exact`.
    perfect_information : each cause's own correction or advice, paid alone from the start.
    wrong_part : cause to the chance that its correction is made in vain in the whole case. [-]
    comeback : the chance of wrong advice. [-]
    right_first : the share of cars that end right at the first correction or advice. [-]
    money, minutes : by kind (`price_account.KINDS`).
    The regrets of steps and endings, each times its `reached`, add up to expected_cost - best_cost.
    """

    expected_cost: float
    expected_minutes: float
    best_cost: float
    lower_bound: float
    perfect_information: float
    wrong_part: Mapping[str, float]
    comeback: float
    right_first: float
    referred: float
    money: Mapping[str, float]
    minutes: Mapping[str, float]
    steps: Mapping[str, StepPrice]
    endings: tuple[EndingPrice, ...]

    @property
    def exact(self) -> bool:
        """Whether the best cost is proven, up to float noise."""
        return self.best_cost - self.lower_bound <= 1e-9 * abs(self.best_cost)


def price(
    tree: Tree, catalogue: Catalogue, house: House, *, solver: Solver | None = None,
    out_of_time: Callable[[], bool] = lambda: False,
) -> Price:
    """Return what walking `tree` costs on the car that `catalogue` was merged for.

    solver : one that has already worked on this tree's problem; what it knows is used.
    out_of_time : asked while strategies are searched; once true, they are as good as found so far, and bounds show it.
    Raises WrongUse where a path repeats a test (naming it), or lacks a branch or a cost.
    """
    from diagtree.reason.price_sums import Pricing  # loads numpy: only where there is something to price

    walk = TestedSteps.of(tree, catalogue)
    return Pricing(walk, solver or Solver(compile_problem(tree, catalogue, house)), out_of_time).price()
