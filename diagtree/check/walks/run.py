"""Made-up walks over every tree on every car: what graph rules prove is attacked a second time, by playing it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import field

from diagtree.check.subject import Subject, TreeOnCar
from diagtree.check.walks.laws import BrokenLaw
from diagtree.check.walks.person import Person
from diagtree.check.walks.said import script_text
from diagtree.check.walks.walker import Walker
from diagtree.errors import KnowledgeError
from diagtree.knowledge.library import Library
from diagtree.knowledge.place import Finding, Level, Place
from diagtree.knowledge.words import SOMETHING_ELSE, Cause, Conclude, Tree
from diagtree.records import dataclass
from diagtree.walk.context import Walk

ENOUGH = 30
"""Walks by the book on cars with a cause after which it is odd that none concluded it."""


@dataclass(frozen=True, slots=True)
class Walked:
    """What the walks found. `walks` : how many were played. `skipped` : trees whose mistakes forbid a walk."""

    findings: tuple[Finding, ...]
    walks: int
    skipped: tuple[str, ...]


@dataclass(slots=True)
class _Seen:
    """What the walks of one tree came to, on all cars together."""

    walks: int = 0
    ended: dict[str, Counter[str]] = field(default_factory=dict)  # cause to conclusion to walks by the book


@dataclass(slots=True)
class _Failed:
    """The latest walk that broke a law: hypothesis ends with the smallest."""

    walker: Walker
    cause: str
    message: str


def play_walks(library: Library, count: int, seed: int) -> Walked:
    """Play `count` walks, shared out evenly over every tree on every car; the same seed plays the same walks.

    A tree with mistakes of the reader cannot be walked and is skipped.
    """
    subject = Subject(library)
    playable = [(one, walk) for one in subject.trees_on_cars() if (walk := _walk(library, one)) is not None]
    skipped = sorted(set(library.trees) - {one.tree.id for one, _ in playable})
    seen: dict[str, _Seen] = {}
    findings: list[Finding] = []
    for number, (one, walk) in enumerate(playable):
        share = count * (number + 1) // len(playable) - count * number // len(playable)
        if share:
            failed = _hypothesis(one, walk, share, seed, seen.setdefault(one.tree.id, _Seen()))
            if failed is not None:
                findings.append(_broken(one, failed, seed))
    for tree_id, found in seen.items():
        if not any(finding.place.file == library.trees[tree_id].at.file for finding in findings):
            findings.extend(_not_seen(library.trees[tree_id], found))
    return Walked(tuple(findings), sum(one.walks for one in seen.values()), tuple(skipped))


def _walk(library: Library, one: TreeOnCar) -> Walk | None:
    if not one.walkable:  # with a default car in the house, no walk begins on the catalogue as written
        return None
    try:
        return Walk.begin(library, one.tree.id, one.car.id)
    except KnowledgeError:
        return None


def _hypothesis(one: TreeOnCar, walk: Walk, count: int, seed: int, seen: _Seen) -> _Failed | None:
    from hypothesis import HealthCheck, Phase, given, settings
    from hypothesis import seed as seeded
    from hypothesis import strategies as st

    failed: list[_Failed] = []
    causes: list[Cause | None] = [one.catalogue.causes[name] for name in one.tree.causes if name != SOMETHING_ELSE]
    causes.append(None)  # none of the list

    @seeded(f"{seed} {one.tree.id} {one.car.id}")  # else every car would be met by the same people
    @settings(
        max_examples=count, database=None, deadline=None, phases=(Phase.generate, Phase.shrink),
        suppress_health_check=list(HealthCheck), report_multiple_bugs=False, print_blob=False,
    )  # fmt: skip
    @given(st.data())
    def walked(data: st.DataObject) -> None:
        def draw(highest: int) -> int:
            return data.draw(st.integers(0, highest)) if highest > 0 else 0

        cause = causes[draw(len(causes) - 1)]
        walker = Walker(walk)
        _played(walker, Person(draw, walk, one.car, cause), cause, seen, failed)

    try:
        walked()
    except BrokenLaw:
        return failed[-1]
    return None


def _played(walker: Walker, person: Person, cause: Cause | None, seen: _Seen, failed: list[_Failed]) -> None:
    name = SOMETHING_ELSE if cause is None else cause.id
    try:
        walker.play(person)
    except BrokenLaw as error:
        failed.append(_Failed(walker, name, str(error)))
        raise
    except Exception as error:  # a fault of the tool is a finding too, and hypothesis shrinks it
        failed.append(_Failed(walker, name, f"{type(error).__name__} in the tool: {error}"))
        raise BrokenLaw(str(error)) from error
    seen.walks += 1
    if person.calm and not person.even:
        seen.ended.setdefault(name, Counter())[walker.concluded or "no conclusion"] += 1


def _broken(one: TreeOnCar, failed: _Failed, seed: int) -> Finding:
    car = "the catalogue as written" if one.car.id is None else f"`{one.car.id}`"
    head = (failed.message, f"cause: {failed.cause}; seed {seed}")
    witness = script_text(failed.walker.said, one.car.id, head)
    message = (
        f"tree `{one.tree.id}` on {car}: {failed.message}; "
        f"after {len(failed.walker.said)} answer(s) on a car with `{failed.cause}`"
    )
    return Finding("walk-breaks-law", Level.ERROR, failed.walker.at, message, witness)


def _not_seen(tree: Tree, seen: _Seen) -> Iterator[Finding]:
    """Tell each conclusion that no walk came to, although many cars had its cause."""
    for cause, at in _conclusions(tree).items():
        ended = seen.ended.get(cause, Counter())
        if ended.total() >= ENOUGH and not ended[cause]:
            most, times = ended.most_common(1)[0]
            message = (
                f"none of {ended.total()} walks on cars with `{cause}` concluded it; most ({times}) came to "
                f"`{most}`: lead what this cause shows to its conclusion"
            )
            yield Finding("conclusion-not-seen", Level.WARNING, at, message)


def _conclusions(tree: Tree) -> dict[str, Place]:
    found: dict[str, Place] = {}
    for step in tree.steps.values():
        for outcome, target in step.then.items():
            if isinstance(target, Conclude):
                found.setdefault(target.cause, step.then_at[outcome])
    return found


