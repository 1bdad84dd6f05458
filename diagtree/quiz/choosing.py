"""Which complaint and which car a round is about, where nothing was said: all trees come round, and weak subjects."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import field

from diagtree.car.dice import chance
from diagtree.errors import KnowledgeError, WrongUse
from diagtree.knowledge.house import House
from diagtree.knowledge.library import Library
from diagtree.knowledge.words import TRIAGE
from diagtree.quiz.modes import Mode
from diagtree.quiz.round import Round, deal
from diagtree.quiz.subject import subject_of_cause
from diagtree.records import dataclass
from diagtree.walk.context import Walk

TRIES = 25
"""Cars of a tree that are looked at for one whose fault is of the subject; its shares decide among those."""


@dataclass(frozen=True, slots=True)
class Choosing:
    """What a round may be about. tree, vehicle : None where any will do.

    played : how often each tree was played: where any will do, those that were played least come first.
    """

    library: Library
    house: House
    tree: str | None = None
    vehicle: str | None = None
    played: Mapping[str, int] = field(default_factory=dict)

    def walks(self, seed: str) -> Iterator[Walk]:
        """Give the trees that fit, each on a car that it can be used on, in the order in which they are to be taken.

        Trees are read as they are asked for. Raises KnowledgeError where none can be used, WrongUse for no tree at all.
        """
        trees = [self.tree] if self.tree else sorted(self.library.trees.named - {TRIAGE})
        cars: Sequence[str | None] = [self.vehicle] if self.vehicle else [*sorted(self.library.profiles)] or [None]
        if not trees:
            raise WrongUse("this knowledge has no tree to play; name another folder with --trees")
        trees.sort(key=lambda tree: (self.played.get(tree, 0), chance(seed, "tree", tree)))
        refused: KnowledgeError | None = None
        found = False
        for tree in trees:
            for car in sorted(cars, key=lambda car: chance(seed, "car", tree, str(car))):
                try:
                    walk = Walk.begin(self.library, tree, car, self.house)
                except KnowledgeError as error:
                    refused = error
                    continue
                found = True
                yield walk
                break
        if not found and refused is not None:
            raise refused

    def walk(self, seed: str) -> Walk:
        """Return the first of them."""
        return next(self.walks(seed))

    def deal(self, seed: str, mode: Mode, subjects: Sequence[str] = ()) -> Round:
        """Return a round. subjects : the neediest first; the car's fault is of the first that any tree has.

        Without subjects the fault is dealt by share alone.
        """
        for subject in subjects:
            for walk in self.walks(seed):
                causes = walk.library.tree(walk.tree).causes
                if any(subject_of_cause(cause, walk.catalogue) == subject for cause in causes):
                    return _of_subject(walk, seed, mode, subject)
        return deal(self.walk(seed), seed, mode)


def _of_subject(walk: Walk, seed: str, mode: Mode, subject: str) -> Round:
    rounds = (deal(walk, f"{seed}-{number}", mode) for number in range(TRIES))
    fit = (played for played in rounds if subject_of_cause(played.dealt.cause, walk.catalogue) == subject)
    return next(fit, None) or deal(walk, seed, mode)
