"""An owner's sentence as a set of ideas: what is told, where, what is fine there and what is not.

Word order, endings, British and US words and a slipped finger make no difference. A clause that says what is *fine*
counts as the opposite ("rapid is fine, it is only at home"). A negation turns the places of its clause, and of what
happens only the few words that follow it. Numbers count as what they say: seconds or hours, kilowatts of a wall box or
of a rapid charger, a state of charge.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache

from diagtree.reason.complaint_english import (
    BREAKS,
    EMPTY,
    FINE,
    IDEAS,
    LINKS,
    NOT,
    NUMBERS,
    PLACES,
    POINTS,
    SOUND,
    TROUBLE,
    TURNED,
    UNITS,
)
from diagtree.reason.complaint_expressions import EXPRESSIONS
from diagtree.records import dataclass

SHORTEST = 5  # letters; shorter words are never slips of the finger, nor what one stands for
_REACH = 4  # so many words a negation reaches
_WALL_BOX = 22.0  # kW; hardly any AC point gives more, hardly any rapid charger so little
_AC = frozenset({"ac", "home", "granny"})
_SECONDS = {"second": 1.0, "seconds": 1.0, "sec": 1.0, "secs": 1.0, "minute": 60.0, "minutes": 60.0, "min": 60.0,
            "mins": 60.0, "hour": 3600.0, "hours": 3600.0, "hr": 3600.0, "hrs": 3600.0}  # fmt: skip
_SOON = 90.0  # seconds; what ends sooner never got going
_ENDINGS = frozenset({"does", "do", "did", "is", "are", "will", "was"})
_ENDINGS_DENIED = frozenset({"doesnt", "dont", "didnt", "isnt", "arent", "wont"})
_FAILING = frozenset({"fails", "fail", "failed", "refuse", "refuses", "refused", "ignored", "ignores", "impossible"})
_VAGUE = frozenset({"several", "dozen"})
_NUMBER_WORD = "|".join(rf"\b{word}\b" for word, value in NUMBERS.items() if value > 3 and word not in _VAGUE)
_NOTHING = EMPTY | NOT | FINE | BREAKS | UNITS | frozenset(_SECONDS)  # words that are no idea of their own
_WHERE = POINTS | _AC | {"rapid"}
_FINE_SOMEWHERE = frozenset({"fine rapid", "fine ac", "fine home"})
_KILOWATTS = frozenset({"kw", "kilowatt", "kilowatts"})


@dataclass(frozen=True, slots=True)
class Idea:
    """One idea of a sentence, and the word as it was typed."""

    name: str
    word: str


@dataclass(frozen=True, slots=True)
class _Clause:
    words: tuple[str, ...]  # as known: slips mended
    typed: tuple[str, ...]

    @property
    def denied(self) -> bool:
        return any(word in NOT for word in self.words)

    @property
    def negated(self) -> bool:
        """Whether it is denied by grammar, not by a word that says that something fails."""
        return any(word in NOT and word not in _FAILING for word in self.words)

    @property
    def list_alone(self) -> bool:
        """Whether it names places and nothing else."""
        if not self.placed or self.words[0] == "only" or self.troubled or self.sound or _ENDINGS & {*self.words}:
            return False
        return all(meaning(word) in _WHERE or word in EMPTY or word in BREAKS for word in self.words)

    @property
    def sound(self) -> bool:
        return any(word in FINE for word in self.words)

    @property
    def placed(self) -> bool:
        return any(meaning(word) in PLACES for word in self.words)

    @property
    def troubled(self) -> bool:
        return self.denied or any(meaning(word) in TROUBLE for word in self.words)


def ideas_of(text: str, vocabulary: frozenset[str]) -> list[Idea]:
    """Return the ideas of `text`; `vocabulary` holds the words that a slip of the finger may stand for."""
    as_typed: dict[str, str] = {}
    return ideas_of_plain(_plain(text.replace("\n", "; "), as_typed), vocabulary, as_typed)


def plain_phrases(phrases: Sequence[str]) -> list[str]:
    """Return phrases without what makes no difference; all at once, for each expression is looked for only once."""
    return _plain("\n".join(phrases), {}).split("\n")


def words_of(plain: str) -> list[str]:
    """Return the words of a plain phrase."""
    return re.findall(r"[a-z0-9]+", plain)


def ideas_of_plain(plain: str, vocabulary: frozenset[str], as_typed: Mapping[str, str]) -> list[Idea]:
    """Return the ideas of a plain phrase. as_typed : how its words were typed, where otherwise."""
    clauses: list[_Clause] = []
    for sentence in re.split(r"[;:!?]+|\.(?!\d)", plain):
        clauses += _joined_lists(
            _Clause(tuple(_slip(word, vocabulary) for word in clause), tuple(clause)) for clause in _clauses(sentence)
        )
    found: list[Idea] = []
    for place, clause in enumerate(clauses):
        others = [other for other in clauses if other is not clause]
        before = clauses[place - 1] if place and clause.words[0] == "only" else None
        # "no rapid, only the wall box"; "works only at home", "fails only at home"
        rest = before is not None and before.troubled == before.placed and (before.placed or before.sound)
        fine = _is_fine(clause, others, rest) and not _goes_on(clause, others)
        found += _of_clause(clause, fine, as_typed)
    if any(idea.name in _FINE_SOMEWHERE for idea in found):  # "takes DC, but no AC anywhere"
        found = [idea for idea in found if idea.name not in {"every", "not every"}]
    return found + _here_not_there(found) + _repeated(clauses)


def _joined_lists(clauses: Iterable[_Clause]) -> list[_Clause]:
    """Return the clauses; one of places alone goes on with its neighbour ("on home, work and rapid alike")."""
    joined: list[_Clause] = []
    for clause in clauses:
        if joined and (clause.list_alone or joined[-1].list_alone) and clause.words[0] != "only":
            before = joined.pop()
            clause = _Clause(before.words + clause.words, before.typed + clause.typed)
        joined.append(clause)
    return joined


def meaning(word: str) -> str:
    """Return the idea of a word; itself (its stem) where no list has it, "" where it says nothing."""
    if word in MEANING:
        return MEANING[word]
    if word in _NOTHING or not word.isalpha():
        return ""
    stem = _stem(word)
    return _BY_STEM.get(stem, stem)


def _is_fine(clause: _Clause, others: Sequence[_Clause], rest: bool) -> bool:
    """Return whether a clause says that something is in order."""
    last = clause.words[-2:]
    if last[-1] in _ENDINGS_DENIED or (last[-1] == "not" and last[0] in _ENDINGS):
        # "AC gives an error, rapid does not"
        return any(other.troubled and not other.negated for other in others)
    if clause.troubled:
        return False
    return rest or clause.sound or clause.words[:2] == ("only", "charge") or (
        last[-1] in _ENDINGS and len(clause.words) > 1 and any(other.denied for other in others)
    )  # fmt: skip


def _goes_on(clause: _Clause, others: Sequence[_Clause]) -> bool:
    """Return whether another clause tells what is wrong where this one works ("rapid works but slowly")."""
    if not clause.placed or any(other.placed for other in others):
        return False
    return any(other.words[0] in BREAKS and other.troubled and not other.denied for other in others)


def _of_clause(clause: _Clause, fine: bool, as_typed: Mapping[str, str]) -> list[Idea]:
    found: list[Idea] = []
    meant = [meaning(word) for word in clause.words]
    denied = clause.denied and not fine
    neither = denied and "rapid" in meant and not _AC.isdisjoint(meant)  # "neither AC nor DC": no matter where
    reached = _reached(clause.words) if denied else frozenset()
    for place, idea in enumerate(meant):
        own = as_typed.get(clause.typed[place], clause.typed[place])
        if neither and idea in {"rapid", *_AC}:
            found.append(Idea("every", own))
            continue
        if not idea:
            continue
        found.append(Idea(f"fine {idea}" if fine and idea in PLACES else idea, own))
        if (denied and idea in PLACES) or (place in reached and idea in TURNED):
            found.append(Idea(f"not {idea}", own))
    if denied:
        found.append(
            Idea("not", next(own for word, own in zip(clause.words, clause.typed, strict=True) if word in NOT))
        )
    return found + list(_numbers(clause, as_typed))


def _reached(words: Sequence[str]) -> frozenset[int]:
    """Return the places of the words that a negation reaches."""
    places: set[int] = set()
    left = 0
    for place, word in enumerate(words):
        if word in NOT:
            left = _REACH
        elif left:
            places.add(place)
            left -= word not in EMPTY
    return frozenset(places)


def _numbers(clause: _Clause, as_typed: Mapping[str, str]) -> Iterable[Idea]:
    """Yield what the numbers of a clause say."""
    words = clause.words
    for place, word in enumerate(words):
        own = as_typed.get(clause.typed[place], clause.typed[place])
        before, after = words[place - 1] if place else "", words[place + 1] if place + 1 < len(words) else ""
        if word in _SECONDS:
            many = _value(before)
            time = _SECONDS[word] * (many if many is not None else 20.0 if word in {"minutes", "mins"} else 1.0)
            yield Idea("soon" if time <= _SOON else "later", own)
        value = _value(word)
        if value is None:
            continue
        if after in _KILOWATTS:
            yield Idea("wallboxpower" if value <= _WALL_BOX else "rapidpower", own)
        elif 60 <= value <= 100 and after not in UNITS:
            yield Idea("level", own)


def _value(word: str) -> float | None:
    return float(word) if re.fullmatch(r"\d+(\.\d+)?", word) else NUMBERS.get(word)


def _here_not_there(found: Sequence[Idea]) -> list[Idea]:
    """Return the idea of some points only, where one sort of AC point is fine and another is not."""
    if any(idea.name.endswith("rapid") for idea in found):
        return []
    fine = {idea.name.removeprefix("fine ") for idea in found if idea.name.startswith("fine ")} & POINTS
    bad = [idea for idea in found if idea.name.removeprefix("not ") in POINTS - fine]
    return [Idea("some", bad[0].word)] if fine and bad else []


def _repeated(clauses: Sequence[_Clause]) -> list[Idea]:
    """Return the idea of again and again, where starting or stopping is told twice ("on, off, on, off")."""
    words = [(word, typed) for clause in clauses for word, typed in zip(clause.words, clause.typed, strict=True)]
    for acts in ({"start"}, {"stop"}):
        told = [typed for word, typed in words if meaning(word) in acts]
        if len(told) > 1:
            return [Idea("again", told[0])]
    switched = [typed for word, typed in words if word in {"on", "off"}]
    return [Idea("again", switched[0])] if len(switched) > 2 and len(set(switched)) == 2 else []


def _plain(text: str, typed: dict[str, str]) -> str:
    """Return `text` without what makes no difference, expressions as one word; `typed` gets how they were typed."""
    plain = re.sub(r"[’'`´]", "", text.lower()).replace("-", " ").replace("/", " ")
    plain = re.sub(r"(\d)(kw|amps?|v|volts?|percent|mins?|minutes|hrs?|hours|secs?)\b", r"\1 \2", plain)
    plain = re.sub(r"(\d),(\d)", r"\1.\2", plain)
    plain = re.sub(_NUMBER_WORD, lambda found: _joined(found, f"{NUMBERS[found[0]]:g}", typed), plain)
    for expression, word in EXPRESSIONS:
        plain = re.sub(expression, lambda found, word=word: _joined(found, word, typed), plain)  # type: ignore[misc]
        while "  " in plain:  # else an expression that holds what was put in would not be found
            plain = plain.replace("  ", " ")
    return plain


def _joined(found: re.Match[str], word: str, typed: dict[str, str]) -> str:
    joined = found.expand(word)
    own = " ".join(dict.fromkeys(typed.get(part, part) for part in found[0].split()))
    for part in joined.split():
        typed.setdefault(part, own)
    return f" {joined} "


def _clauses(sentence: str) -> Iterable[list[str]]:
    for part in re.split(r"[,()]+", sentence):
        clause: list[str] = []
        for word in re.findall(r"\d+(?:\.\d+)?(?![a-z0-9.])|[a-z0-9]+", part):
            # "home fine rapid dead": without a sign, what is fine ends with its word
            if clause and (word in BREAKS or (clause[-1] in SOUND and word not in LINKS)):
                yield clause
                clause = []
            clause.append(word)
        if clause:
            yield clause


def _stem(word: str) -> str:
    for ending in ("ing", "ed", "es", "s"):
        if word.endswith(ending) and len(word) - len(ending) >= 3 and not word.endswith("ss"):
            stem = word[: -len(ending)]
            if len(stem) > 3 and stem[-1] == stem[-2] and stem[-1] not in "ls":
                stem = stem[:-1]  # tripping, stopped
            return stem.rstrip("e") if len(stem) > 3 else stem
    return word.rstrip("e") if len(word) > 3 else word


MEANING = {word: idea for idea, words in IDEAS.items() for word in words.split()}
_BY_STEM = {_stem(word): idea for word, idea in MEANING.items()}


def _slip(word: str, vocabulary: frozenset[str]) -> str:
    """Return the known word that `word` is a slip of the finger for; itself where it is known or like none."""
    if len(word) < SHORTEST or word in vocabulary or not word.isalpha() or _stem(word) in _BY_STEM:
        return word
    return _nearest(word, vocabulary)


@lru_cache(maxsize=4096)
def _nearest(word: str, vocabulary: frozenset[str]) -> str:
    from rapidfuzz.distance import OSA  # loaded at the first word that nobody knows

    most = 1 if len(word) < 8 else 2
    near = [known for known in vocabulary if len(known) >= SHORTEST and known[0] == word[0]]
    distance = {known: OSA.distance(word, known, score_cutoff=most) for known in near}
    if len(word) == SHORTEST:  # of short words only letters that changed places: `chose` is not `close`
        distance = {known: far for known, far in distance.items() if sorted(known) == sorted(word)}
    least = min(distance.values(), default=most + 1)
    return word if least > most else min(known for known, far in distance.items() if far == least)
