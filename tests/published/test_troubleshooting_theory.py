"""The best strategy on instances from the literature on troubleshooting and test sequencing.

Each case names its source. The instances are simple enough to be quoted; where one is quoted from memory the case says
so, and the expected number was then recomputed by listing all orders or by an independent dynamic programme.

How they are put into our acts: 60 money an hour, so that a minute costs 1. "Find out which" = advice that is free where
right and dearer than anything where wrong. "Which of two classes" = advice for one class, referral for the other.
"Repair and see" = a correction without minutes whose proof is free.

Left out, because our acts cannot say them: actions that remove several causes (Ottosen and Jensen's three overlapping
actions; two repairs for four causes of which two tests tell the parity), several repairs before one check (batching),
looking twice with the same imperfect test, an inspection that is prescribed before every repair, a decision whose
payoff has more than two values over the causes (the oil wildcatter), and trees of limited depth.
"""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from diagtree.knowledge.house import House
from diagtree.knowledge.words import Power
from diagtree.reason.arrangement import Layout, Need
from diagtree.reason.plan import Act, Solver, State, start
from diagtree.reason.problem import Problem, ProblemAdvice, ProblemCorrection, ProblemTest
from tests.bench.generators import access, layout

FORTUNE = 1e7
ANY = Need(Power.ANY)


def binary(name: str, minutes: float, bad: Sequence[float], need: Need = ANY) -> ProblemTest:
    """Return a test with the chance of `bad` for each cause."""
    return ProblemTest(name, ("bad", "ok"), (tuple(bad), tuple(1 - one for one in bad)), minutes, minutes, need)


def find_out(weights: Sequence[float], tests: Sequence[ProblemTest], car: Layout | None = None) -> Problem:
    """Return the problem of telling all causes apart."""
    causes = tuple(f"s{number}" for number in range(len(weights)))
    advices = tuple(ProblemAdvice(number, 0.0, 0.0) for number in range(len(weights)))
    return Problem(
        causes, tuple(weights), tuple(tests), (), advices, House(60.0, None, FORTUNE), car or layout([])
    )


def repairs(
    weights: Sequence[float], prices: Sequence[float], tests: Sequence[ProblemTest] = (), *,
    car: Layout | None = None, needs: Sequence[Need] | None = None, check: float = 0.0,
) -> Problem:
    """Return the problem of repairing until the car is fixed; each check takes `check` minutes."""
    causes = tuple(str(number + 1) for number in range(len(weights)))
    corrections = tuple(
        ProblemCorrection(number, 0.0, 0.0, price, needs[number] if needs else ANY, check, check)
        for number, price in enumerate(prices)
    )
    return Problem(causes, tuple(weights), tuple(tests), corrections, (), House(60.0), car or layout([]))


def order(solver: Solver) -> list[str]:
    """Return the corrections that the policy tries one after the other while none helps."""
    state, tried = start(solver.problem), []
    while (act := solver.act(state)) is not None:
        tried.append(act.id or "")
        (state,) = solver.after(state, act)
    return tried


# -- test sequencing: Pattipati and Alexandridis 1990, IEEE Trans. SMC 20(4), their five-test system (from memory)

SYSTEM = ("00000", "01001", "00110", "10011", "11000", "11110")
CHANCES = (0.70, 0.01, 0.02, 0.10, 0.05, 0.12)


def five_tests(costs: Sequence[float]) -> Problem:
    return find_out(CHANCES, [
        binary(f"t{column + 1}", cost, [float(row[column]) for row in SYSTEM]) for column, cost in enumerate(costs)
    ])


@pytest.mark.parametrize(
    ("costs", "optimum"), [((1, 1, 1, 1, 1), 2.18), ((3, 1, 2, 2, 4), 3.42), ((1, 5, 5, 1, 1), 2.85)]
)
def test_pattipati_alexandridis_five_tests(costs: Sequence[float], optimum: float) -> None:
    found = Solver(five_tests(costs)).solve()
    assert found.exact
    assert found.expected_cost == pytest.approx(optimum, abs=1e-9)


def test_pattipati_alexandridis_by_first_test() -> None:
    problem = five_tests((1, 1, 1, 1, 1))
    values = {value.act.id: value.bounds.upper for value in Solver(problem).q_values(start(problem))
              if value.act.kind == "test"}
    assert values == {
        name: pytest.approx(cost, abs=1e-9)
        for name, cost in zip(("t1", "t2", "t3", "t4", "t5"), (2.86, 2.18, 2.82, 2.18, 2.89), strict=True)
    }


# -- tests behind covers. Constructed; 17.02 agrees with the optimal trees with group discounts of pystreed 1.4.0
# -- (van der Linden et al. 2023, arXiv 2305.19706)

BEHIND = (
    ("t1", 3, "", (1, 2, 3, 4)), ("t2", 2, "", (1, 5, 6)), ("t3", 4, "A", (2, 3, 6)), ("t4", 5, "A", (1, 2, 7)),
    ("t5", 3, "A", (4, 6, 8)), ("t6", 6, "B", (3, 5, 8)), ("t7", 2, "B", (4, 5, 7)),
)
COVERS = {"A": 12.0, "B": 20.0}
SHARES = (30, 20, 15, 10, 8, 7, 6, 4)


def behind(every_time: bool) -> Problem:
    """Covers are opened once and stay open; or (`every_time`) each test is planned as if it opened its own."""
    tests = []
    for name, cost, cover, bad in BEHIND:
        row = [float(cause in bad) for cause in range(1, 9)]
        minutes = cost + COVERS.get(cover, 0.0) * every_time
        need = Need(Power.ANY, frozenset({cover})) if cover and not every_time else ANY
        tests.append(binary(name, minutes, row, need))
    return find_out(SHARES, tests, layout([access(name, minutes, 0.0) for name, minutes in COVERS.items()]))


def test_access_is_paid_once_by_tests_that_share_it() -> None:
    assert Solver(behind(every_time=False)).solve().expected_cost == pytest.approx(17.02, abs=1e-9)


def test_a_plan_that_pays_access_with_every_test_believes_more_and_costs_more() -> None:
    """It believes 20.15; followed on the real car it costs 17.15, against 17.02 for the best."""
    planner, real = Solver(behind(every_time=True)), Solver(behind(every_time=False))

    def cost(state: State, planned: State) -> float:
        act = planner.act(planned)
        if act is None:
            return 0.0
        onward = zip(real.after(state, act), planner.after(planned, act), strict=True)
        return state.total * real.step(state, act).cost + sum(cost(one, other) for one, other in onward)

    assert planner.solve().expected_cost == pytest.approx(20.15, abs=1e-9)
    assert cost(start(real.problem), start(planner.problem)) / 100 == pytest.approx(17.15, abs=1e-9)


# -- testing a series system until something fails: by cost over chance (Mitten 1960, from memory); all orders listed


def test_series_system() -> None:
    fails, costs, referral = (0.2, 0.3, 0.6), (4, 3, 10), 1000.0
    joint = [tuple(number >> bit & 1 for bit in range(3)) for number in range(8)]
    weights = []
    for state in joint:
        weight = 1.0
        for failed, chance in zip(state, fails, strict=True):
            weight *= chance if failed else 1 - chance
        weights.append(weight)
    problem = Problem(
        tuple(str(state) for state in joint), tuple(weights),
        tuple(binary(f"t{n + 1}", cost, [float(state[n]) for state in joint]) for n, cost in enumerate(costs)),
        (), (ProblemAdvice(0, 0.0, 0.0),), House(60.0, referral, FORTUNE), layout([]),
    )
    solver = Solver(problem)
    failing = 1 - 0.8 * 0.7 * 0.4
    assert solver.solve().expected_cost - failing * referral == pytest.approx(11.12, abs=1e-9)
    state, path = start(problem), []
    while (act := solver.act(state)) is not None and act.kind == "test":
        path.append(act.id)
        state = solver.after(state, act)[1]
    assert path == ["t2", "t3", "t1"]


# -- repairs in order. Kalagnanam and Henrion 1990; Heckerman, Breese and Rommelse 1995: by chance over cost


def test_repairs_by_chance_over_cost() -> None:
    solver = Solver(repairs((0.4, 0.3, 0.2, 0.1), (60, 20, 50, 5)))
    assert solver.solve().expected_cost == pytest.approx(69.0, abs=1e-9)
    assert order(solver) == ["4", "2", "1", "3"]


def test_the_last_suspect_needs_no_inspection() -> None:
    """Inspections 30, 5, 12 before repairs of 100, 400, 20: 187.4, beginning with the second."""
    tests = [binary(f"look{n + 1}", cost, [float(n == cause) for cause in range(3)])
             for n, cost in enumerate((30, 5, 12))]
    found = Solver(repairs((0.5, 0.3, 0.2), (100, 400, 20), tests)).solve()
    assert found.expected_cost == pytest.approx(187.4, abs=1e-9)
    assert found.first_act == Act("test", "look2")


@pytest.mark.parametrize(("check", "cost"), [(0, 18.84)])
def test_five_repairs_with_a_free_check(check: float, cost: float) -> None:
    """Ottosen and Jensen, technical report 10-001 (2010), the kind of instance; all orders listed."""
    found = Solver(repairs((0.35, 0.25, 0.20, 0.12, 0.08), (8, 10, 6, 12, 5), check=check)).solve()
    assert found.expected_cost == pytest.approx(cost, abs=1e-9)


# -- repairs behind covers: Lin 2017, Kybernetika 53(3), scheduling applied to troubleshooting; all orders listed

BEHIND_COVERS = {"A": (0.25, 20, ""), "B": (0.10, 5, ""), "C": (0.30, 10, "cover1"), "D": (0.05, 25, "cover1"),
                 "E": (0.20, 25, "cover2"), "G": (0.10, 5, "cover2")}


def covered(closing: tuple[float, float], check: float, refit: bool) -> Problem:
    car = layout([
        access("cover1", 30.0, closing[0], refit=refit), access("cover2", 15.0, closing[1], refit=refit)
    ])
    rows = BEHIND_COVERS.values()
    needs = [Need(Power.ANY, frozenset({cover}) if cover else frozenset()) for _, _, cover in rows]
    return repairs([row[0] for row in rows], [row[1] for row in rows], car=car, needs=needs, check=check)


def test_covers_that_may_stay_open_while_checking() -> None:
    solver = Solver(covered((0.0, 0.0), 0.0, refit=False))
    assert solver.solve().expected_cost == pytest.approx(63.5, abs=1e-9)
    assert [list(BEHIND_COVERS)[int(name) - 1] for name in order(solver)] == ["B", "A", "C", "G", "E", "D"]


@pytest.mark.parametrize(("check", "cost"), [(0, 78.25), (5, 93.75), (15, 123.25)])
def test_covers_that_must_be_closed_to_check(check: float, cost: float) -> None:
    """One repair per check; closing takes 10 and 5."""
    found = Solver(covered((10.0, 5.0), check, refit=True)).solve()
    assert found.expected_cost == pytest.approx(cost, abs=1e-9)


# -- two imperfect tests, three repairs: a constructed instance whose optimum two independent programmes agree on

TESTS = (binary("T1", 10, (0.9, 0.2, 0.1)), binary("T2", 15, (0.1, 0.8, 0.3)))
THREE = repairs((0.5, 0.3, 0.2), (80, 40, 150), TESTS)


def test_two_imperfect_tests() -> None:
    found = Solver(THREE).solve()
    assert found.expected_cost == pytest.approx(115.9, abs=1e-9)
    assert found.first_act == Act("test", "T1")
    assert found.perfect_information == pytest.approx(82.0, abs=1e-9)
    assert Solver(repairs((0.5, 0.3, 0.2), (80, 40, 150))).solve().expected_cost == pytest.approx(126.0, abs=1e-9)


@pytest.mark.parametrize(("test", "net"), [(0, 10.1), (1, -1.8)])
def test_value_of_one_imperfect_test_net_of_its_price(test: int, net: float) -> None:
    problem = repairs((0.5, 0.3, 0.2), (80, 40, 150), TESTS[test : test + 1])
    values = {value.act.kind: value.bounds.upper for value in Solver(problem).q_values(start(problem))[::-1]}
    assert 126.0 - values["test"] == pytest.approx(net, abs=1e-9)


@pytest.mark.parametrize(
    ("shown", "posterior"),
    [
        (((0, 0),), (0.849057, 0.113208, 0.037736)), (((0, 1),), (0.106383, 0.510638, 0.382979)),
        (((1, 0),), (0.142857, 0.685714, 0.171429)), (((1, 1),), (0.692308, 0.092308, 0.215385)),
        (((0, 0), (1, 1)), (0.939675, 0.027842, 0.032483)),
    ],
)
def test_states_carry_the_posterior(shown: Sequence[tuple[int, int]], posterior: Sequence[float]) -> None:
    """Bayes' rule by hand: P(T1 bad) = .53, P(T2 bad) = .35."""
    solver, state = Solver(THREE), start(THREE)
    for test, outcome in shown:
        state = solver.after(state, Act("test", THREE.tests[test].id))[outcome]
    assert [weight / state.total for weight in state.weights] == pytest.approx(posterior, abs=1e-6)


def test_regrets_of_every_first_act() -> None:
    """Regret of an act = its cost with all going best afterwards, less the optimum; a policy's cost is the optimum
    plus the regrets on its way (performance difference lemma, Kakade and Langford 2002)."""
    solver, first = Solver(THREE), start(THREE)
    values = {value.act.id: value.bounds.upper for value in solver.q_values(first)}
    best = values["T1"]
    regrets = {name: cost - best for name, cost in values.items()}
    assert regrets == {
        name: pytest.approx(regret, abs=1e-9)
        for name, regret in {"T1": 0, "T2": 9.43, "2": 10.1, "1": 14.1, "3": 100.9}.items()
    }


def test_a_worse_plan_costs_the_optimum_plus_its_regrets() -> None:
    """T2 first; bad: repairs 2, 1, 3; ok: 1, 3, 2. 131.2 = 115.9 + 15.3."""
    solver = Solver(THREE)

    def cost(state: State, plan: Sequence[str]) -> tuple[float, float]:
        """Return the plan's cost and the sum of its regrets."""
        if not plan or not state.total:
            return 0.0, 0.0
        act = Act("correct", plan[0])
        (after,) = solver.after(state, act)
        values = {value.act: value.bounds.upper for value in solver.q_values(state)}
        more = cost(after, plan[1:])
        return state.total * solver.step(state, act).cost + more[0], values[act] - min(values.values()) + more[1]

    bad, ok = solver.after(start(THREE), Act("test", "T2"))
    parts = [cost(bad, "213"), cost(ok, "132")]
    assert 15 + sum(part[0] for part in parts) == pytest.approx(131.2, abs=1e-9)
    assert 9.43 + sum(part[1] for part in parts) == pytest.approx(15.3, abs=1e-9)


# -- tests are to tell repair classes apart, not causes: a constructed instance


def test_one_test_is_enough_where_one_class_is_one_cause() -> None:
    """Eight equal causes, one special; a test for it and three that halve the causes, each costing 1."""
    referral = 100.0
    tests = [binary("d", 1.0, [float(cause == 0) for cause in range(8)])]
    tests += [binary(f"bit{bit}", 1.0, [float(cause >> bit & 1) for cause in range(8)]) for bit in range(3)]
    problem = Problem(
        tuple(f"c{cause}" for cause in range(8)), (1.0,) * 8, tuple(tests), (), (ProblemAdvice(0, 0.0, 0.0),),
        House(60.0, referral, FORTUNE), layout([]),
    )
    found = Solver(problem).solve()
    assert found.first_act == Act("test", "d")
    assert found.expected_cost - 7 / 8 * referral == pytest.approx(1.0, abs=1e-9)
