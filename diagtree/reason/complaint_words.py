"""The owner's own words to the complaints that they may mean: each tree's title and `hears:` are what it listens to.

A sentence becomes a set of ideas: word order, endings, British and US words and a slipped finger make no difference.
Clauses that say what is *fine* count as the opposite ("rapid is fine, it is only at home"). Rare ideas weigh more.
Pure; the same words and trees give the same ranking.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import exp, log, sqrt

from diagtree.knowledge.words import TRIAGE, Tree
from diagtree.reason.complaint_english import (
    BREAKS,
    EMPTY,
    FINE,
    IDEAS,
    JOINED,
    LINKS,
    NOT,
    PLACES,
    POINTS,
    SOUND,
    TROUBLE,
    UNITS,
)

LEAST, _AT_LEAST = 0.05, 3  # a weaker likeness is none, but so many are kept, where any word was heard
_OFTEN = 0.6  # weight of how often the ideas come in a complaint's phrases; the rest is that of likeness to phrases
_UNSEEN = 0.8  # phrases counted for an idea that a complaint's phrases do not hold
_RAW = 0.6  # weight of a word that is in no list of ideas
_CLOSEST = 0.7  # weight of the phrase most alike; the rest is that of all phrases together
_FEW = 1.0  # a phrase of few and common ideas is never quite what somebody means
_SHORTEST = 5  # letters; shorter words are never taken for a slip


def cause_of_complaint(tree: str) -> str:
    """Return the cause that says, in the tree `triage`, that it is the complaint of `tree`."""
    return f"is-{tree}"


@dataclass(frozen=True, slots=True)
class Heard:
    """A complaint that the words may mean. likeness : 0 to 1. words : those of the owner's that it was heard in."""

    tree: str
    likeness: float
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Idea:
    """One idea of a sentence, and the word as it was typed."""

    name: str
    word: str


def rank(text: str, trees: Iterable[Tree]) -> tuple[Heard, ...]:
    """Return the complaints that `text` may mean, likeliest first; () where it is like none of them."""
    ears = _ears(tuple((tree.id, (tree.title, *tree.hears)) for tree in trees if tree.id != TRIAGE))
    ideas = _ideas(text, ears.vocabulary)
    said = frozenset(idea.name for idea in ideas) & frozenset(ears.weight)
    if not said:
        return ()
    chances = ears.chances(said)
    found = []
    for tree, phrases in ears.phrases.items():
        likeness = _OFTEN * chances[tree] + (1 - _OFTEN) * ears.alike(frozenset(idea.name for idea in ideas), phrases)
        meant = frozenset[str]().union(*phrases)
        words = tuple(dict.fromkeys(idea.word for idea in ideas if idea.name in meant))
        if words:
            found.append(Heard(tree, likeness, words))
    ranked = sorted(found, key=lambda one: (-one.likeness, one.tree))
    return tuple(one for place, one in enumerate(ranked) if place < _AT_LEAST or one.likeness >= LEAST)


@dataclass(frozen=True)
class _Ears:
    """What all complaints listen to: each phrase as its ideas, how telling each idea is, and every word known."""

    phrases: Mapping[str, tuple[frozenset[str], ...]]
    weight: Mapping[str, float]
    vocabulary: frozenset[str]

    def chances(self, said: frozenset[str]) -> Mapping[str, float]:
        """Return each complaint's chance by how often its phrases hold the ideas said (naive Bayes, all as likely)."""
        logs = {
            tree: sum(
                _telling(idea) * log((_count(idea, phrases) + _UNSEEN) / (len(phrases) + 2 * _UNSEEN))
                for idea in sorted(said)
            )
            for tree, phrases in self.phrases.items()
        }
        most = max(logs.values())
        weights = {tree: exp(value - most) for tree, value in logs.items()}
        total = sum(weights.values())
        return {tree: weight / total for tree, weight in weights.items()}

    def alike(self, said: frozenset[str], phrases: Sequence[frozenset[str]]) -> float:
        """Return how alike the ideas are to the closest phrase, and to all of them together; 0 to 1."""
        closest = max((self._alike(said, phrase) for phrase in phrases), default=0.0)
        together = frozenset[str]().union(*phrases)
        covered = self._size(said & together) / (self._size(said) or 1.0)
        return _CLOSEST * closest + (1 - _CLOSEST) * covered

    def _alike(self, said: frozenset[str], phrase: frozenset[str]) -> float:
        both = self._size(said & phrase)
        return both / sqrt((self._size(said) + _FEW) * (self._size(phrase) + _FEW)) if both else 0.0

    def _size(self, ideas: Iterable[str]) -> float:
        return sum(self.weight.get(idea, _telling(idea)) ** 2 for idea in sorted(ideas))


def _count(idea: str, phrases: Sequence[frozenset[str]]) -> int:
    return sum(idea in phrase for phrase in phrases)


def _telling(idea: str) -> float:
    """Return how much an idea counts: a word that stands for itself alone less than one of the list."""
    return 1.0 if idea.removeprefix("fine ").removeprefix("not ") in IDEAS or idea == "not" else _RAW


@lru_cache(maxsize=4)
def _ears(heard: tuple[tuple[str, tuple[str, ...]], ...]) -> _Ears:
    vocabulary = frozenset(
        word for _, phrases in heard for phrase in phrases for word in _split(phrase) if len(word) >= _SHORTEST
    )
    known = frozenset({*vocabulary, *_MEANING, *EMPTY, *NOT, *FINE, *BREAKS})
    phrases = {
        tree: tuple(ideas for phrase in said if (ideas := frozenset(one.name for one in _ideas(phrase, known))))
        for tree, said in heard
    }
    listeners: dict[str, int] = {}
    for own in phrases.values():
        for idea in frozenset[str]().union(*own):
            listeners[idea] = listeners.get(idea, 0) + 1
    weight = {idea: _telling(idea) * (log((len(heard) + 1) / count) + 0.1) for idea, count in listeners.items()}
    return _Ears(phrases, weight, known)


def _plain(text: str, typed: dict[str, str]) -> str:
    """Return `text` without what makes no difference, expressions as one word; `typed` gets how they were typed."""
    plain = re.sub(r"[’'`´]", "", text.lower()).replace("-", " ").replace("/", " ")
    plain = re.sub(r"(\d)(kw|amps?|v|volts?|percent)\b", r"\1 \2", plain)
    for expression, word in JOINED:
        plain = re.sub(expression, lambda found, word=word: _joined(found, word, typed), plain)  # type: ignore[misc]
    return plain


def _joined(found: re.Match[str], word: str, typed: dict[str, str]) -> str:
    joined = found.expand(word)
    for part in joined.split():
        typed.setdefault(part, found[0].strip())
    return f" {joined} "


def _split(text: str) -> list[str]:
    return re.findall(r"[a-z0-9]+", _plain(text, {}))


def _clauses(text: str, typed: dict[str, str]) -> Iterable[list[str]]:
    for part in re.split(r"[,.;:!?()]+", _plain(re.sub(r"(\d)[.,](\d)", r"\1\2", text), typed)):
        clause: list[str] = []
        for word in re.findall(r"[a-z0-9]+", part):
            # "home fine rapid dead": without a sign, what is fine ends with its word
            if clause and (word in BREAKS or (clause[-1] in SOUND and word not in LINKS)):
                yield clause
                clause = []
            clause.append(word)
        if clause:
            yield clause


_AC = frozenset({"ac", "home"})


def _ideas(text: str, vocabulary: frozenset[str]) -> list[Idea]:
    found: list[Idea] = []
    troubled = False
    as_typed: dict[str, str] = {}
    for clause in _clauses(text, as_typed):
        rest = troubled and clause[0] == "only"  # "rapid does not work, only the wall box"
        words = [_slip(word, vocabulary) for word in clause]
        meant = [(_meaning(word), typed) for word, typed in zip(words, clause, strict=True)]
        following = [*clause[1:], ""]
        meant += [("level", word) for word, after in zip(clause, following, strict=True) if _is_level(word, after)]
        troubled = any(word in NOT for word in words) or any(idea in TROUBLE for idea, _ in meant)
        fine = not troubled and (rest or any(word in FINE for word in words))
        denied = any(word in NOT for word in words)
        names = {idea for idea, _ in meant}
        neither = denied and "rapid" in names and bool(names & _AC)  # "neither AC nor DC": no matter where
        for idea, typed in meant:
            if not idea or idea.isdigit() or (neither and idea in {"rapid", *_AC}):
                continue
            own = as_typed.get(typed, typed)
            found.append(Idea(f"fine {idea}" if fine and idea in PLACES else idea, own))
            if denied and idea in PLACES:
                found.append(Idea(f"not {idea}", own))
        if denied:
            found.append(Idea("not", next(typed for typed, word in zip(clause, words, strict=True) if word in NOT)))
        if neither:
            found += [Idea("every", as_typed.get(typed, typed)) for idea, typed in meant if idea in {"rapid", *_AC}]
    return found + _here_not_there(found)


def _is_level(word: str, after: str) -> bool:
    """Return whether a number may be a state of charge in per cent."""
    return word.isdigit() and 60 <= int(word) <= 100 and after not in UNITS


def _here_not_there(ideas: Sequence[Idea]) -> list[Idea]:
    """Return the idea of some points only, where one sort of AC point is fine and another is not."""
    if any(idea.name.endswith("rapid") for idea in ideas):
        return []
    fine = {idea.name.removeprefix("fine ") for idea in ideas if idea.name.startswith("fine ")} & POINTS
    bad = [idea for idea in ideas if idea.name.removeprefix("not ") in POINTS - fine]
    return [Idea("some", bad[0].word)] if fine and bad else []


def _stem(word: str) -> str:
    for ending in ("ing", "ed", "es", "s"):
        if word.endswith(ending) and len(word) - len(ending) >= 3 and not word.endswith("ss"):
            stem = word[: -len(ending)]
            if len(stem) > 3 and stem[-1] == stem[-2] and stem[-1] not in "ls":
                stem = stem[:-1]  # tripping, stopped
            return stem.rstrip("e") if len(stem) > 3 else stem
    return word.rstrip("e") if len(word) > 3 else word


_MEANING = {word: idea for idea, words in IDEAS.items() for word in words.split()}
_BY_STEM = {_stem(word): idea for word, idea in _MEANING.items()}


def _meaning(word: str) -> str:
    """Return the idea of a word; itself (its stem) where no list has it, "" where it says nothing."""
    if word in _MEANING:
        return _MEANING[word]
    if word in EMPTY or word in NOT or word in FINE or word in BREAKS:
        return ""
    stem = _stem(word)
    return _BY_STEM.get(stem, stem)


def _slip(word: str, vocabulary: frozenset[str]) -> str:
    """Return the known word that `word` is a slip of the finger for; itself where it is known or like none."""
    if len(word) < _SHORTEST or word in vocabulary or word.isdigit() or _stem(word) in _BY_STEM:
        return word
    return _nearest(word, vocabulary)


@lru_cache(maxsize=4096)
def _nearest(word: str, vocabulary: frozenset[str]) -> str:
    from rapidfuzz.distance import OSA  # loaded at the first word that nobody knows

    most = 1 if len(word) < 8 else 2
    near = [known for known in vocabulary if len(known) >= _SHORTEST and known[0] == word[0]]
    distance = {known: OSA.distance(word, known, score_cutoff=most) for known in near}
    if len(word) == _SHORTEST:  # of short words only letters that changed places: `chose` is not `close`
        distance = {known: far for known, far in distance.items() if sorted(known) == sorted(word)}
    least = min(distance.values(), default=most + 1)
    return word if least > most else min(known for known, far in distance.items() if far == least)
