"""Rules of graph and meaning on very long trees: no recursion; work grows with the steps, not with the paths."""

from __future__ import annotations

from diagtree.check.flow import Flow
from diagtree.check.loops import dead_ends, loops
from diagtree.check.repeats import repeats
from diagtree.check.ways import Ways
from diagtree.knowledge.words import (
    Catalogue,
    Cause,
    Conclude,
    Needs,
    Outcome,
    Power,
    Qualification,
    Step,
    Target,
    Test,
    Tree,
    Where,
)
from tests.documents import AT

CAUSES = 6
LONG = 40_000


def yes_or_no(name: str) -> Test:
    return Test(
        id=name, ask="Is it?", how=(), place=Where.RECEPTION, minutes=1, attended=None, needs=Needs(Power.ANY),
        qualification=Qualification.NONE, mind=(), reads=(), expected=None, judge=None,
        outcomes=(Outcome("yes", None, AT), Outcome("no", None, AT)), healthy="no", stop=frozenset(), mistake=2,
        source="made up", at=AT,
    )  # fmt: skip


def known(leads: dict[str, tuple[Target, Target]], tests: int) -> Flow:
    """Return steps with their targets for yes and no; step number n performs test number n modulo `tests`."""
    names = list(leads)
    catalogue = {f"t{number}": yes_or_no(f"t{number}") for number in range(tests)}
    shows = {test: {"yes": 50.0, "no": 50.0} for test in catalogue}
    causes = {f"c{n}": Cause(f"c{n}", "x", "wiring", shows, {}, None, None, None, "", AT) for n in range(CAUSES)}
    steps = {
        name: Step(name, f"t{number % tests}", dict(zip(("yes", "no"), leads[name], strict=True)), {}, AT)
        for number, name in enumerate(names)
    }
    tree = Tree("made-up", "x", 1, (), dict.fromkeys(causes, 10.0), dict.fromkeys(causes, AT), names[0], steps, AT)
    return Flow(tree, Catalogue(catalogue, causes, {}, {}, None))


def chain(count: int) -> dict[str, tuple[Target, Target]]:
    return {
        f"s{n}": (Conclude(f"c{n % CAUSES}"), f"s{n + 1}" if n + 1 < count else Conclude("c0")) for n in range(count)
    }


def ladder(count: int) -> dict[str, tuple[Target, Target]]:
    """Return steps that each lead to both of the next two: more paths than could ever be listed."""

    def to(n: int) -> Target:
        return f"s{n}" if n < count else Conclude(f"c{n % CAUSES}")

    return {f"s{n}": (to(n + 1), to(n + 2)) for n in range(count)}


def test_a_chain_of_forty_thousand_steps_is_no_recursion() -> None:
    flow = known(chain(LONG), LONG)
    assert len(flow.order) == LONG
    assert flow.alive[f"s{LONG - 1}"] == flow.everything
    assert (loops(flow), dead_ends(flow), repeats(flow)) == ((), (), ())
    assert len(next(iter(Ways(flow).to_step(f"s{LONG - 1}"))).answers) == LONG - 1


def test_one_loop_of_forty_thousand_steps() -> None:
    leads = chain(LONG)
    leads[f"s{LONG - 1}"] = ("s0", "s0")
    (around,) = loops(known(leads, 1))
    assert len(around) == LONG


def test_a_dead_end_behind_forty_thousand_steps() -> None:
    leads: dict[str, tuple[Target, Target]] = {f"s{n}": (f"s{n + 1}", f"s{n + 1}") for n in range(LONG - 1)}
    leads[f"s{LONG - 1}"] = (f"s{LONG - 1}", f"s{LONG - 1}")
    ((step, around),) = dead_ends(known(leads, 1))
    assert (step, len(around)) == (f"s{LONG - 1}", 1)


def test_more_paths_than_could_be_listed() -> None:
    flow = known(ladder(3000), 1500)
    assert flow.pairs is not None
    assert flow.pairs["s2999"] == flow.square(flow.everything)
    assert len(repeats(flow)) == 1500
