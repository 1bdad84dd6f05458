"""The owner's own words to the complaints that they may mean: each tree's title and `hears:` are what it listens to.

`complaint_ideas` makes a sentence a set of ideas. Here they are weighed: how often they come, or are missing, in a
complaint's phrases (naive Bayes, all complaints as likely), and how alike the sentence is to the closest of them. Rare
ideas weigh more. Pure; the same words and trees give the same ranking.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from math import exp, log, sqrt

from diagtree.knowledge.words import TRIAGE, Tree
from diagtree.reason.complaint_english import BREAKS, EMPTY, FINE, IDEAS, NOT
from diagtree.reason.complaint_ideas import MEANING, SHORTEST, ideas_of, ideas_of_plain, plain_phrases, words_of
from diagtree.records import dataclass

LEAST, _AT_LEAST = 0.05, 3  # a weaker likeness is none, but so many are kept, where any word was heard
_OFTEN = 0.6  # weight of how often the ideas come in a complaint's phrases; the rest is that of likeness to phrases
_UNSEEN = 1.0  # phrases counted for an idea that a complaint's phrases do not hold
_MISSING = 0.3  # weight of an idea that a complaint's phrases hold and the sentence does not; owners leave much unsaid
_RAW = 0.6  # weight of a word that is in no list of ideas
_CLOSEST = 0.7  # weight of the phrases most alike; the rest is that of all phrases together
_NEAREST = 2  # phrases most alike that count: one may be so by chance
_FEW = 1.0  # a phrase of few and common ideas is never quite what somebody means


def cause_of_complaint(tree: str) -> str:
    """Return the cause that says, in the tree `triage`, that it is the complaint of `tree`."""
    return f"is-{tree}"


@dataclass(frozen=True, slots=True)
class Heard:
    """A complaint that the words may mean. likeness : 0 to 1. words : those of the owner's that it was heard in."""

    tree: str
    likeness: float
    words: tuple[str, ...]


def rank(text: str, trees: Iterable[Tree]) -> tuple[Heard, ...]:
    """Return the complaints that `text` may mean, likeliest first; () where it is like none of them."""
    ears = _ears(tuple((tree.id, (tree.title, *tree.hears)) for tree in trees if tree.id != TRIAGE))
    ideas = ideas_of(text, ears.vocabulary)
    said = frozenset(idea.name for idea in ideas)
    if said.isdisjoint(ears.weight):
        return ()
    chances = ears.chances(said)
    found = []
    for tree, phrases in ears.phrases.items():
        likeness = _OFTEN * chances[tree] + (1 - _OFTEN) * ears.alike(said, phrases)
        meant = frozenset[str]().union(*phrases)
        words = tuple(dict.fromkeys(idea.word for idea in ideas if idea.name in meant))
        if words:
            found.append(Heard(tree, likeness, words))
    ranked = sorted(found, key=lambda one: (-one.likeness, one.tree))
    return tuple(one for place, one in enumerate(ranked) if place < _AT_LEAST or one.likeness >= LEAST)


@dataclass(frozen=True)
class _Ears:
    """What all complaints listen to.

    phrases : each phrase as its ideas. share : how often each of a complaint's ideas comes in its phrases, 0 to 1.
    unheard : the log of the chance that none of them is said. weight : how telling each idea is.
    vocabulary : every word that is known.
    """

    phrases: Mapping[str, tuple[frozenset[str], ...]]
    share: Mapping[str, Mapping[str, float]]
    unheard: Mapping[str, float]
    weight: Mapping[str, float]
    vocabulary: frozenset[str]

    def chances(self, said: frozenset[str]) -> Mapping[str, float]:
        """Return each complaint's chance by the ideas said, and by those that are missing."""
        known = sorted(said & frozenset(self.weight))
        logs = {tree: self._log(known, share, len(self.phrases[tree])) for tree, share in self.share.items()}
        logs = {tree: value + _MISSING * self.unheard[tree] for tree, value in logs.items()}
        most = max(logs.values())
        weights = {tree: exp(value - most) for tree, value in logs.items()}
        total = sum(weights.values())
        return {tree: weight / total for tree, weight in weights.items()}

    def _log(self, known: Sequence[str], share: Mapping[str, float], phrases: int) -> float:
        never = _UNSEEN / (phrases + 2 * _UNSEEN)
        return sum(
            _telling(idea) * (log(share.get(idea, never)) - (_MISSING * log(1 - share[idea]) if idea in share else 0.0))
            for idea in known
        )

    def alike(self, said: frozenset[str], phrases: Sequence[frozenset[str]]) -> float:
        """Return how alike the ideas are to the closest phrases, and to all of them together; 0 to 1."""
        size = self._size(said)
        likes = sorted((self._alike(said, size, phrase) for phrase in phrases), reverse=True)[:_NEAREST]
        covered = self._size(said & frozenset[str]().union(*phrases)) / (size or 1.0)
        return _CLOSEST * sum(likes) / _NEAREST + (1 - _CLOSEST) * covered

    def _alike(self, said: frozenset[str], size: float, phrase: frozenset[str]) -> float:
        both = self._size(said & phrase)
        return both / sqrt((size + _FEW) * (self._size(phrase) + _FEW)) if both else 0.0

    def _size(self, ideas: Iterable[str]) -> float:
        return sum(self.weight.get(idea, _telling(idea)) ** 2 for idea in sorted(ideas))


def _telling(idea: str) -> float:
    """Return how much an idea counts: a word that stands for itself alone less than one of the list."""
    return 1.0 if idea.removeprefix("fine ").removeprefix("not ") in IDEAS or idea == "not" else _RAW


@lru_cache(maxsize=4)
def _ears(heard: tuple[tuple[str, tuple[str, ...]], ...]) -> _Ears:
    listened = [(tree, phrase) for tree, phrases in heard for phrase in phrases]
    plain = plain_phrases([" ".join(phrase.split()) for _, phrase in listened])
    vocabulary = {word for phrase in plain for word in words_of(phrase) if len(word) >= SHORTEST}
    known = frozenset({*vocabulary, *MEANING, *EMPTY, *NOT, *FINE, *BREAKS})
    own_ideas: dict[str, list[frozenset[str]]] = {tree: [] for tree, _ in heard}
    for (tree, _), phrase in zip(listened, plain, strict=True):
        if ideas := frozenset(idea.name for idea in ideas_of_plain(phrase, known, {})):
            own_ideas[tree].append(ideas)
    phrases = {tree: tuple(own) for tree, own in own_ideas.items()}
    share = {tree: _shares(own) for tree, own in phrases.items()}
    unheard = {
        tree: sum(_telling(idea) * log(1 - often) for idea, often in sorted(own.items())) for tree, own in share.items()
    }
    listeners: dict[str, int] = {}
    for own in share.values():
        for idea in own:
            listeners[idea] = listeners.get(idea, 0) + 1
    weight = {idea: _telling(idea) * (log((len(heard) + 1) / count) + 0.1) for idea, count in listeners.items()}
    return _Ears(phrases, share, unheard, weight, known)


def _shares(phrases: Sequence[frozenset[str]]) -> dict[str, float]:
    """Return how often each idea comes in the phrases: above 0 and below 1, for none is certain."""
    counts: dict[str, int] = {}
    for phrase in phrases:
        for idea in phrase:
            counts[idea] = counts.get(idea, 0) + 1
    return {idea: (count + _UNSEEN) / (len(phrases) + 2 * _UNSEEN) for idea, count in counts.items()}
