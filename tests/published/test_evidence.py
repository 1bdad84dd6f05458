"""Evidence against published examples and against other engines.

The two general-purpose engines (pyagrum, pgmpy) are no requirement: where one is not installed, its check is skipped,
and the same values are still checked as printed here.
"""

from __future__ import annotations

import gzip
from itertools import product
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from diagtree.reason.evidence import Answered, answer_chance, posterior, telling
from diagtree.reason.plan import Act, Solver, start
from diagtree.reason.problem import compile_problem
from tests.documents import words
from tests.strategies import documents


def document(shares: dict[str, float], tests: dict[str, list[str]], shows: dict[str, Any], **rest: Any) -> Any:
    """Return a document of tests at reception whose per cents are exact (no mistakes), one money a minute."""
    advise = {"do": "Nothing.", "minutes": 0}
    return {
        "tests": {
            key: {
                "ask": "?", "place": "reception", "minutes": 0, "outcomes": outcomes, "healthy": outcomes[0],
                "mistake": 0, "source": "as published",
            } | rest.get("also", {}).get(key, {})
            for key, outcomes in tests.items()
        },
        "causes": {
            cause: {"name": cause, "where": "wiring", "shows": shows.get(cause, {})}
            | rest.get("corrections", {}).get(cause, {"advise": advise})
            for cause in shares
        },
        "house": {"rate": 60, "comeback": 0, "referral": None},
        "tree": {
            "tree": "published", "title": "P", "revision": 1, "causes": shares, "start": next(iter(tests)),
            "steps": {next(iter(tests)): {"then": {}}},
        },
    }


# TR-7: three causes, two imperfect tests; computed by two independent methods (dynamic programme, enumeration of all
# strategies); the values are plain mathematics.


def tr7() -> Any:
    """causes .5 .3 .2; repair and verify 80 40 150; T1 cost 10, P(bad) = .9 .2 .1; T2 cost 15, P(bad) = .1 .8 .3."""
    bad = {"c1": (90, 10), "c2": (20, 80), "c3": (10, 30)}
    return document(
        {"c1": 5, "c2": 3, "c3": 2}, {"t1": ["ok", "bad"], "t2": ["ok", "bad"]},
        {
            cause: {test: {"bad": per, "ok": 100 - per} for test, per in zip(("t1", "t2"), chances, strict=True)}
            for cause, chances in bad.items()
        },
        also={"t1": {"minutes": 10}, "t2": {"minutes": 15}},
        corrections={
            cause: {
                "correction": {"do": "Mend it.", "minutes": minutes, "needs": {"power": "any"}},
                "proof": {"charge": "ac", "minutes": 0},
            }
            for cause, minutes in (("c1", 80), ("c2", 40), ("c3", 150))
        },
    )


@pytest.mark.parametrize(("answers", "expected"), [
    ({"t1": "bad"}, (0.849057, 0.113208, 0.037736)),
    ({"t1": "ok"}, (0.106383, 0.510638, 0.382979)),
    ({"t2": "bad"}, (0.142857, 0.685714, 0.171429)),
    ({"t2": "ok"}, (0.692308, 0.092308, 0.215385)),
    ({"t1": "bad", "t2": "ok"}, (0.939675, 0.027842, 0.032483)),
])
def test_tr7_posterior(answers: dict[str, str], expected: tuple[float, ...]) -> None:
    known = words(tr7())
    belief = posterior(known.tree.causes, [Answered(*item) for item in answers.items()], known.catalogue)
    assert tuple(belief.chances.values()) == pytest.approx(expected, abs=5e-7)


@pytest.mark.parametrize(("test", "chance"), [("t1", 0.53), ("t2", 0.35)])
def test_tr7_chance_of_bad(test: str, chance: float) -> None:
    known = words(tr7())
    told = telling(known.tree.causes, known.catalogue.tests[test], known.catalogue)
    assert told.outcomes["bad"] == pytest.approx(chance)


def test_tr7_optimum_and_regrets_at_the_start() -> None:
    """Optimum 115.9, perfect information 82.0; regrets T1 T2 r2 r1 r3: 0, 9.43, 10.1, 14.1, 100.9 (as printed)."""
    known = words(tr7())
    problem = compile_problem(known.tree, known.catalogue, known.house)
    solver, first = Solver(problem), start(problem)
    best = solver.solve()
    assert best.expected_cost == pytest.approx(115.9)
    assert best.perfect_information == pytest.approx(82.0)
    values = {value.act: value.bounds.upper / first.total - best.expected_cost for value in solver.q_values(first)}
    expected = {
        Act("test", "t1"): 0.0, Act("test", "t2"): 9.43, Act("correct", "c2"): 10.1, Act("correct", "c1"): 14.1,
        Act("correct", "c3"): 100.9,
    }
    assert values == pytest.approx(expected, abs=1e-6)


# BN-1: the `asia` network of Lauritzen and Spiegelhalter, "Local computations with probabilities on graphical
# structures and their application to expert systems", Journal of the Royal Statistical Society B 50 (1988). The tables
# are quoted from memory; one test compares with the file that pgmpy carries. The posterior values: two engines agree.

SMOKE, TUB, LUNG, BRONC = 0.5, (0.01, 0.05), (0.01, 0.1), (0.3, 0.6)  # the pairs: without, with its cause
DYSP = {(0, 0): 0.1, (1, 0): 0.7, (0, 1): 0.8, (1, 1): 0.9}  # (either, bronchitis)
ASIA, XRAY = 0.01, (0.05, 0.98)


def asia() -> Any:
    """Every combination of the diseases and their reasons is one cause; what is seen of it are the tests."""
    shares, shows = {}, {}
    for now in product((0, 1), repeat=5):
        visit, smoke, tub, lung, bronc = now
        name = "".join(map(str, now))
        weight = _chance(ASIA, visit) * _chance(SMOKE, smoke) * _chance(TUB[visit], tub)
        shares[name] = 100 * weight * _chance(LUNG[smoke], lung) * _chance(BRONC[smoke], bronc)
        either = tub or lung
        shows[name] = {
            test: {"yes": 100 * chance, "no": 100 - 100 * chance}
            for test, chance in (
                ("asia", float(visit)), ("smoke", float(smoke)), ("xray", XRAY[either]), ("dysp", DYSP[either, bronc]),
            )
        }
    return document(shares, {key: ["no", "yes"] for key in ("asia", "smoke", "xray", "dysp")}, shows)


def _chance(yes: float, now: int) -> float:
    return yes if now else 1 - yes


def _marginal(chances: Any, *places: int) -> float:
    return sum(chance for name, chance in chances.items() if any(name[place] == "1" for place in places))


@pytest.mark.parametrize(("answers", "tub", "lung", "bronc"), [
    ([], 0.0104, 0.055, 0.45),
    (["asia", "dysp"], 0.087751, 0.099525, 0.811402),
    (["asia", "dysp", "smoke"], 0.07276, 0.145519, 0.867258),
])
def test_bn1_asia(answers: list[str], tub: float, lung: float, bronc: float) -> None:
    known = words(asia())
    chances = posterior(known.tree.causes, [Answered(test, "yes") for test in answers], known.catalogue).chances
    assert _marginal(chances, 2) == pytest.approx(tub, abs=1e-6)
    assert _marginal(chances, 3) == pytest.approx(lung, abs=1e-6)
    assert _marginal(chances, 4) == pytest.approx(bronc, abs=1e-6)


def test_bn1_asia_before_anything_is_seen() -> None:
    """Either .064828, x-ray .11029, dyspnoea .435971."""
    known = words(asia())
    assert _marginal(posterior(known.tree.causes, [], known.catalogue).chances, 2, 3) == pytest.approx(0.064828)
    for test, chance in (("xray", 0.11029), ("dysp", 0.435971)):
        told = telling(known.tree.causes, known.catalogue.tests[test], known.catalogue)
        assert told.outcomes["yes"] == pytest.approx(chance, abs=1e-6)


def test_bn1_asia_as_pyagrum_computes_it_from_the_file_that_pgmpy_carries(tmp_path: Path) -> None:
    gum, pgmpy = pytest.importorskip("pyagrum"), pytest.importorskip("pgmpy")
    packed = Path(pgmpy.__file__).parent / "utils" / "example_models" / "asia.bif.gz"
    if not packed.is_file():
        pytest.skip("this pgmpy carries no asia.bif.gz")
    file = tmp_path / "asia.bif"
    file.write_bytes(gzip.decompress(packed.read_bytes()))
    engine = gum.LazyPropagation(gum.loadBN(str(file)))
    engine.setEvidence({"asia": "yes", "dysp": "yes", "smoke": "yes"})
    known = words(asia())
    answers = [Answered(test, "yes") for test in ("asia", "dysp", "smoke")]
    chances = posterior(known.tree.causes, answers, known.catalogue).chances
    for disease, place in (("tub", 2), ("lung", 3), ("bronc", 4)):
        theirs = engine.posterior(disease)[{disease: "yes"}]
        assert _marginal(chances, place) == pytest.approx(theirs, abs=1e-7)  # it reads the file in single precision


@settings(deadline=None, max_examples=100, suppress_health_check=list(HealthCheck))
@given(documents(max_accesses=0), st.data())
def test_posterior_agrees_with_pyagrum_close_readings_included(made: Any, data: Any) -> None:
    gum = pytest.importorskip("pyagrum")
    known = words(made)
    causes = list(known.tree.causes)
    net = gum.BayesNet()
    net.add(gum.LabelizedVariable("cause", "cause", causes + ["_"] * (len(causes) == 1)))
    prior = [float(share) for share in known.tree.causes.values()] + [0.0] * (len(causes) == 1)
    net.cpt("cause").fillWith([share / sum(prior) for share in prior])
    answers, seen = [], {}
    for test in known.catalogue.tests.values():
        net.add(gum.LabelizedVariable(test.id, test.id, list(test.outcome_ids())))
        net.addArc("cause", test.id)
        for number, cause in enumerate(causes + ["_"] * (len(causes) == 1)):
            found = known.catalogue.causes.get(cause)
            columns = [answer_chance(test, found, Answered(test.id, outcome)) for outcome in test.outcome_ids()]
            net.cpt(test.id)[{"cause": number}] = columns
        parts = [data.draw(st.integers(0, 5)) for _ in test.outcome_ids()]
        if sum(parts):
            chances = {o: part / sum(parts) for o, part in zip(test.outcome_ids(), parts, strict=True) if part}
            answers.append(Answered(test.id, max(chances, key=lambda o: chances[o]), chances))
            seen[test.id] = [part / sum(parts) for part in parts]
    belief = posterior(known.tree.causes, answers, known.catalogue)
    if belief.impossible:
        return
    engine = gum.LazyPropagation(net)
    engine.setEvidence(seen)
    theirs = engine.posterior("cause").tolist()[: len(causes)]
    assert list(belief.chances.values()) == pytest.approx(theirs, abs=1e-9)
