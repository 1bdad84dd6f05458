"""Small trees with random mistakes of graph and meaning, and the slow, obvious twin: every path, one by one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from hypothesis import strategies as st

from diagtree.knowledge.words import NOT_DONE, SOMETHING_ELSE, Catalogue, Conclude, Target, Test, Tree
from tests.documents import Document

Draw = Any


@st.composite
def mistaken(draw: Draw, max_steps: int = 5, loops: bool = True) -> Document:
    """Return a document whose tree has any mistakes but broken links: loops, repeats, dead branches, dead ends.

    loops : whether a branch may lead back; without, branches lead to later steps only.
    """
    tests = {f"test-{n}": draw(_test()) for n in range(draw(st.integers(1, 4)))}
    causes = {f"cause-{n}": draw(_cause(tests)) for n in range(draw(st.integers(1, 4)))}
    names = [f"step-{n}" for n in range(draw(st.integers(1, max_steps)))]
    steps = {}
    for number, name in enumerate(names):
        test = draw(st.sampled_from(sorted(tests)))
        ahead = names if loops and draw(st.integers(0, 5)) == 0 else names[number + 1 :]
        outcomes = [*tests[test]["outcomes"], *([NOT_DONE] if draw(st.booleans()) else [])]
        missing = draw(st.integers(0, 9)) == 0
        then = {one: draw(_target(ahead, sorted(causes))) for one in outcomes if not (missing and draw(st.booleans()))}
        if draw(st.integers(0, 5)) == 0 and then:
            then = dict.fromkeys(then, draw(_target(ahead, sorted(causes))))
        steps[name] = {"test": test, "then": then}
    shares = {cause: draw(st.integers(1, 40)) for cause in causes}
    if draw(st.booleans()):
        shares[SOMETHING_ELSE] = draw(st.integers(1, 20))
    return {
        "tests": tests, "causes": causes, "access": {}, "procedures": {},
        "house": {"rate": 60, "referral": 100, "comeback": 100},
        "tree": {
            "tree": "made-up", "title": "A made-up complaint", "revision": 1, "hears": ["does not charge"],
            "causes": shares, "start": names[0], "steps": steps,
        },
    }  # fmt: skip


@st.composite
def _test(draw: Draw) -> dict[str, Any]:
    outcomes = [f"outcome-{n}" for n in range(draw(st.integers(2, 3)))]
    said: dict[str, Any] = {"ask": "What does it show?", "place": "reception", "minutes": 1, "outcomes": outcomes}
    said |= {"healthy": draw(st.sampled_from(outcomes)), "mistake": draw(st.sampled_from([0, 5, 100]))}
    return said | {"source": "made up for a test"}


@st.composite
def _cause(draw: Draw, tests: Document) -> dict[str, Any]:
    shows: dict[str, Any] = {}
    for key, test in tests.items():
        kind = draw(st.sampled_from(["healthy", "certain", "shared", "shared"]))
        first, second = draw(st.permutations(test["outcomes"]))[:2]
        if kind == "certain":
            shows[key] = {first: 100}
        elif kind == "shared":
            shows[key] = {first: 60, second: 40}
    advise = {"do": "Tell the owner.", "minutes": 1}
    return {"name": "a fault", "where": "outside", "shows": shows, "advise": advise}


@st.composite
def _target(draw: Draw, steps: list[str], causes: list[str]) -> Any:
    if steps and draw(st.integers(0, 2)):
        return draw(st.sampled_from(steps))
    return draw(st.sampled_from([{"refer": "a specialist"}, *({"conclude": cause} for cause in causes)]))


# --- the twin: paths listed one by one ------------------------------------------------------------------------------


@dataclass(frozen=True)
class Path:
    """Answers (step, outcome) from the start on, and the step at which the path stands now, None at an ending."""

    answers: tuple[tuple[str, str], ...]
    here: str | None


class Listed:
    """Every path of a tree; one that comes to a step a second time is cut there."""

    def __init__(self, tree: Tree, catalogue: Catalogue) -> None:
        self.tree, self.catalogue = tree, catalogue
        self.causes = [cause for cause in tree.causes if cause != SOMETHING_ELSE]
        self.paths = list(self._from(Path((), tree.start)))

    def test(self, step: str) -> Test:
        return self.catalogue.tests[self.tree.steps[step].test]

    def leads(self, step: str) -> dict[str, Target]:
        """Return outcome to target, as docs/answers-file.md and the format say: `not-done` goes the healthy way."""
        then, test = self.tree.steps[step].then, self.test(step)
        found = {outcome.id: then[outcome.id] for outcome in test.outcomes if outcome.id in then}
        if NOT_DONE in then:
            found[NOT_DONE] = then[NOT_DONE]
        elif test.healthy in then:
            found[NOT_DONE] = then[test.healthy]
        return found

    def _from(self, path: Path) -> Iterator[Path]:
        yield path
        if path.here is None or path.here in [step for step, _ in path.answers]:
            return
        for outcome, target in self.leads(path.here).items():
            onward = target if isinstance(target, str) else None
            yield from self._from(Path((*path.answers, (path.here, outcome)), onward))

    def shows(self, cause: str, step: str, outcome: str) -> float:
        test = self.test(step)
        shown = self.catalogue.causes[cause].shows.get(test.id, {test.healthy: 100})
        return shown.get(outcome, 0)

    def allows(self, cause: str, answers: tuple[tuple[str, str], ...]) -> bool:
        return all(outcome == NOT_DONE or self.shows(cause, step, outcome) > 0 for step, outcome in answers)

    def to(self, step: str) -> list[Path]:
        """Return the paths that stand at a step, those cut there among them."""
        return [path for path in self.paths if path.here == step]

    def reached(self) -> set[str]:
        return {path.here for path in self.paths if path.here is not None}

    def coming(self, step: str) -> set[str]:
        """Return the causes that allow all answers of some path to a step."""
        return {cause for cause in self.causes if any(self.allows(cause, path.answers) for path in self.to(step))}

    def branches(self) -> Iterator[tuple[str, str, Target]]:
        for step in sorted(self.reached()):
            for outcome, target in self.leads(step).items():
                yield step, outcome, target

    # --- what each rule must find -------------------------------------------------------------------------------

    def unreached(self) -> set[str]:
        return set(self.tree.steps) - self.reached()

    def looping(self) -> bool:
        return any(path.here in [step for step, _ in path.answers] for path in self.paths)

    def caught(self) -> set[str]:
        """Return the reached steps from which no path comes to an ending."""
        good = {step for path in self.paths if path.here is None for step, _ in path.answers}
        for _ in self.tree.steps:  # a path that was cut at a step goes on from there as the others do
            good |= {
                path.answers[index][0]
                for path in self.paths if path.here in good for index in range(len(path.answers))
            }  # fmt: skip
        return self.reached() - good

    def repeated(self) -> set[str]:
        """Return the steps whose test was answered at another step of some path there."""
        return {
            path.here for path in self.paths
            if path.here is not None and any(
                step != path.here and outcome != NOT_DONE and self.test(step).id == self.test(path.here).id
                for step, outcome in path.answers
            )
        }  # fmt: skip

    def never_taken(self) -> set[tuple[str, str]]:
        return {
            (step, outcome) for step, outcome, _ in self.branches()
            if outcome != NOT_DONE and self.coming(step)
            and not any(self.shows(cause, step, outcome) > 0 for cause in self.coming(step))
        }  # fmt: skip

    def excluded(self) -> set[tuple[str, str]]:
        return {
            (step, outcome) for step, outcome, target in self.branches()
            if isinstance(target, Conclude) and self.coming(step) and outcome in self.tree.steps[step].then
            and not (target.cause in self.coming(step)
                     and (outcome == NOT_DONE or self.shows(target.cause, step, outcome) > 0))
        }  # fmt: skip

    def without_effect(self) -> set[str]:
        found = set()
        for step in self.reached():
            leads = [self.tree.steps[step].then.get(outcome.id) for outcome in self.test(step).outcomes]
            if None not in leads and all(target == leads[0] for target in leads):
                found.add(step)
        return found

    def parting_nothing(self) -> set[str]:
        return {step for step in self.reached() if self.coming(step) and self._parts_nothing(step)}

    def _parts_nothing(self, step: str) -> bool:
        test = self.test(step)
        together = False
        for path in self.to(step):
            alive = [cause for cause in self.causes if self.allows(cause, path.answers)]
            together = together or len(alive) > 1
            for outcome in test.outcomes:
                chances = {(100 - test.mistake) * self.shows(cause, step, outcome.id) for cause in alive}
                if len(chances) > 1:
                    return False
        return together or SOMETHING_ELSE not in self.tree.causes
