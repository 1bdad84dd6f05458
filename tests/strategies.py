"""Random small catalogues, trees and houses, as documents (see `tests.documents`)."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from tests.documents import MAKE_SAFE_STEPS, Document, Known, words

Draw = Any


@st.composite
def documents(
    draw: Draw, max_causes: int = 5, max_tests: int = 5, max_accesses: int = 4, max_outcomes: int = 3,
    stops: bool = False,
) -> Document:
    """Return a whole small knowledge: imperfect tests, nested access, power, refit, advice, referral, one tree."""
    access = draw(_accesses(max_accesses))
    tests = {f"test-{n}": draw(_test(access, max_outcomes, stops)) for n in range(draw(st.integers(1, max_tests)))}
    causes = {f"cause-{n}": draw(_cause(access, tests)) for n in range(draw(st.integers(1, max_causes)))}
    shares = {cause: draw(st.integers(1, 40)) for cause in causes}
    if draw(st.booleans()):
        shares["something-else"] = draw(st.integers(1, 20))
    needs_referral = "something-else" in shares
    return {
        "tests": tests,
        "causes": causes,
        "access": access,
        "procedures": draw(_procedures(access)),
        "house": {
            "rate": draw(st.sampled_from([60, 96])),
            "referral": draw(st.integers(20, 600)) if needs_referral or draw(st.booleans()) else None,
            "comeback": draw(st.integers(0, 500)),
        },
        "tree": draw(_tree(tests, causes, shares)),
    }


def knowledge(**limits: Any) -> st.SearchStrategy[Known]:
    """Return the same as words."""
    return documents(**limits).map(words)


def closure(access: Document, wanted: Any) -> set[str]:
    """Return `wanted` and all they are `after`."""
    found: set[str] = set()
    for key in wanted:
        found |= {key} | closure(access, access[key].get("after", ()))
    return found


def _must_close_live(access: Document, key: str) -> bool:
    return access[key].get("power") == "dead" or bool(access[key].get("refit-before-live"))


@st.composite
def _accesses(draw: Draw, most: int) -> dict[str, Any]:
    access: dict[str, Any] = {}
    for n in range(draw(st.integers(0, most))):
        said: dict[str, Any] = {"name": f"cover {n}"}
        said |= {"open": draw(st.integers(0, 20)), "close": draw(st.integers(0, 20))}
        if access and draw(st.booleans()):
            said["after"] = draw(st.lists(st.sampled_from(sorted(access)), min_size=1, max_size=2, unique=True))
        kind = draw(st.sampled_from(["plain", "plain", "dead", "refit"]))
        if kind == "dead":
            said["power"] = "dead"
        elif kind == "refit":
            said["refit-before-live"] = True
        access[f"access-{n}"] = said
    return access


@st.composite
def _needs(draw: Draw, access: Document) -> dict[str, Any]:
    power = draw(st.sampled_from(["live", "dead", "any"]))
    fit = [
        key for key in access
        if power != "live" or not any(_must_close_live(access, below) for below in closure(access, [key]))
    ]
    wanted = draw(st.lists(st.sampled_from(fit), max_size=2, unique=True)) if fit else []
    return {"power": power, "open": wanted} if wanted else {"power": power}


@st.composite
def _procedures(draw: Draw, access: Document) -> dict[str, Any]:
    fit = [key for key in access if not any(access[b].get("power") == "dead" for b in closure(access, [key]))]
    opened = draw(st.lists(st.sampled_from(fit), max_size=2, unique=True)) if fit else []
    make_safe: dict[str, Any] = {"minutes": draw(st.integers(5, 40)), "steps": MAKE_SAFE_STEPS}
    if opened:
        make_safe["needs"] = {"open": opened}
    found: dict[str, Any] = {"make-safe": make_safe}
    found["re-energise"] = {"minutes": draw(st.integers(0, 15)), "steps": [{"kind": "re-energise", "do": "Close it."}]}
    if draw(st.booleans()):
        found["hand-back"] = {"minutes": draw(st.integers(0, 15)), "steps": [{"kind": "hand-back", "do": "Look."}]}
    return found


@st.composite
def _test(draw: Draw, access: Document, max_outcomes: int, stops: bool) -> dict[str, Any]:
    outcomes = [f"outcome-{n}" for n in range(draw(st.integers(2, max_outcomes)))]
    place = draw(st.sampled_from(["reception", "bay", "bay", "bay", "road"]))
    minutes = draw(st.integers(0, 30))
    said: dict[str, Any] = {"ask": "What does it show?", "place": place, "minutes": minutes}
    if draw(st.integers(0, 3)) == 0:
        said["attended"] = draw(st.integers(0, minutes))
    if place == "bay":
        said["needs"] = draw(_needs(access))
    elif place == "road":
        said["needs"] = {"power": "live"}
    said |= {"outcomes": outcomes, "healthy": draw(st.sampled_from(outcomes))}
    if stops and draw(st.integers(0, 3)) == 0:
        said["stop"] = [draw(st.sampled_from([outcome for outcome in outcomes if outcome != said["healthy"]]))]
    said |= {"mistake": draw(st.sampled_from([0, 2, 5, 10])), "source": "made up for a test"}
    return said


@st.composite
def _cause(draw: Draw, access: Document, tests: Document) -> dict[str, Any]:
    shows = {}
    for key, test in tests.items():
        if draw(st.integers(0, 3)):
            cuts = sorted(draw(st.integers(0, 20)) * 5 for _ in test["outcomes"][1:])
            parts = [high - low for low, high in zip([0, *cuts], [*cuts, 100], strict=True)]
            shows[key] = {outcome: part for outcome, part in zip(test["outcomes"], parts, strict=True) if part}
    said: dict[str, Any] = {"name": "a fault", "where": "wiring", "shows": shows}
    if draw(st.integers(0, 3)) == 0:
        return said | {"where": "outside", "advise": {"do": "Tell the owner.", "minutes": draw(st.integers(0, 20))}}
    minutes = draw(st.integers(0, 120))
    correction: dict[str, Any] = {"do": "Mend it.", "minutes": minutes, "needs": draw(_needs(access))}
    if draw(st.booleans()):
        correction["parts"] = [{"name": "part", "price": draw(st.integers(0, 900))}]
    proof: dict[str, Any] = {"charge": "ac", "minutes": draw(st.integers(0, 45))}
    if draw(st.booleans()):
        proof["attended"] = draw(st.integers(0, proof["minutes"]))
    return said | {"correction": correction, "proof": proof}


@st.composite
def _tree(draw: Draw, tests: Document, causes: Document, shares: Document) -> dict[str, Any]:
    # A step leads only to steps whose tests stand later in this order: no test can come twice on a path.
    order = draw(st.permutations(sorted(tests)))[: draw(st.integers(1, len(tests)))]
    steps: dict[str, Any] = {}
    later: list[str] = []
    for test in reversed(order):
        level = [test, f"{test}-again"] if test != order[0] and draw(st.integers(0, 2)) == 0 else [test]
        for key in level:
            then = {outcome: draw(_target(test, outcome, tests, causes, later)) for outcome in tests[test]["outcomes"]}
            if not tests[test].get("stop") and draw(st.booleans()):
                then["not-done"] = draw(_target(test, "not-done", tests, causes, later))
            steps[key] = {"then": then} if key == test else {"test": test, "then": then}
        later += level
    return {
        "tree": "made-up", "title": "A made-up complaint", "revision": 1, "hears": ["does not charge"],
        "causes": shares, "start": order[0], "steps": dict(reversed(steps.items())),
    }


@st.composite
def _target(draw: Draw, test: str, outcome: str, tests: Document, causes: Document, later: list[str]) -> Any:
    stop = outcome in tests[test].get("stop", ())
    if later and not stop and draw(st.integers(0, 3)):
        return draw(st.sampled_from(later))
    kind = draw(st.sampled_from(["conclude", "conclude", "conclude", "hand-over", "refer"]))
    if kind == "conclude":
        return {"conclude": draw(st.sampled_from(sorted(causes)))}
    return {"hand-over": "another-tree"} if kind == "hand-over" else {"refer": "the charging specialist"}
