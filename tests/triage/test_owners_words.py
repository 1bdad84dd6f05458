"""The owner's words to a complaint: held-out sentences, and what must make no difference."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.knowledge.place import Place
from diagtree.knowledge.words import Tree
from diagtree.reason.complaint_english import BREAKS, FINE, IDEAS, NOT
from diagtree.reason.complaint_words import Heard, rank
from tests.triage.owners import COMPLAINTS, DEVELOPMENT, HELD_OUT, TO_TUNE_ON, complaints, missing, sentences


def _tree(name: str, title: str, *hears: str) -> Tree:
    return Tree(name, title, 1, hears, {}, {}, "", {}, Place("x"))


FEW = (
    _tree("ac-fails", "AC charging fails", "home charging does not start, rapid is fine", "fails on the wall box"),
    _tree("dc-fails", "DC charging fails", "rapid charging does not start, home charging is fine"),
    _tree("stuck", "Plug is stuck", "cannot remove the plug", "cable is jammed"),
    _tree("trips", "Trips the supply", "the breaker trips", "blows the fuse"),
)


def ids(found: tuple[Heard, ...]) -> list[str]:
    return [one.tree for one in found]


def test_the_sets_are_large_and_apart() -> None:
    held, tuned, developed = sentences(HELD_OUT), sentences(TO_TUNE_ON), sentences(DEVELOPMENT)
    assert len(held) >= 130
    assert len(tuned) >= 60
    assert {complaint for complaint, _ in held} == set(COMPLAINTS) == {complaint for complaint, _ in tuned}
    for complaint in COMPLAINTS:
        assert sum(one == complaint for one, _ in held) >= 8
    assert {complaint for complaint, _ in developed} == {*COMPLAINTS, "heat-or-smell"}
    assert len(developed) >= 150
    plain = [{re.sub(r"\W+", " ", text.lower()).strip() for _, text in some} for some in (held, tuned, developed)]
    assert not plain[0] & (plain[1] | plain[2])


@pytest.mark.skipif(bool(missing()), reason=f"not all fifteen complaints ship yet; missing: {', '.join(missing())}")
def test_held_out_sentences_find_their_complaint() -> None:
    """Sentences on which nothing was tuned: right first in 90 %, among the first three in 98 % is what is wanted.

    Reached: 136 of 143 first (95.1 %), 141 among three (98.6 %).
    """
    first, three, many = _found(HELD_OUT)
    assert first >= 0.90 * many, f"{first} of {many} first"
    assert three >= 0.98 * many, f"{three} of {many} among three"


@pytest.mark.skipif(bool(missing()), reason=f"not all fifteen complaints ship yet; missing: {', '.join(missing())}")
def test_sentences_of_the_development_set_find_their_complaint() -> None:
    """Tuned on, so this is no measure of what a new owner's words find; it keeps what was reached."""
    first, three, many = _found(DEVELOPMENT)
    assert first >= 0.95 * many, f"{first} of {many} first"
    assert three >= 0.98 * many, f"{three} of {many} among three"


def test_a_phrase_is_heard_by_its_complaint_without_itself() -> None:
    """Every tenth phrase of each `hears:`, taken out and asked: the other phrases hear it."""
    first = three = many = 0
    for place, tree in enumerate(complaints()):
        for taken in range(place % 10, len(tree.hears), 10):
            rest = replace(tree, hears=tree.hears[:taken] + tree.hears[taken + 1 :])
            found = ids(rank(tree.hears[taken], [rest if one is tree else one for one in complaints()]))
            many += 1
            first += found[:1] == [tree.id]
            three += tree.id in found[:3]
    assert many >= 50
    assert first >= 0.85 * many, f"{first} of {many} first"
    assert three >= 0.94 * many, f"{three} of {many} among three"


def _found(name: str) -> tuple[int, int, int]:
    """Return how many sentences find their complaint first, among the first three, and how many there are."""
    found = [(complaint, ids(rank(text, complaints()))) for complaint, text in sentences(name)]
    first = sum(ranked[:1] == [complaint] for complaint, ranked in found)
    return first, sum(complaint in ranked[:3] for complaint, ranked in found), len(found)


def test_what_is_fine_counts_as_the_opposite() -> None:
    assert ids(rank("rapid is fine, it is only at home", FEW))[0] == "ac-fails"
    assert ids(rank("home is fine, it is only on the rapid", FEW))[0] == "dc-fails"
    assert ids(rank("Only the wallbox works, no rapid charging", FEW))[0] == "dc-fails"


def test_british_and_us_words_mean_the_same() -> None:
    assert ids(rank("the GFCI pops", FEW))[0] == "trips"
    assert ids(rank("the RCD knocks off", FEW))[0] == "trips"
    assert ids(rank("cord won't come out", FEW))[0] == "stuck"


def test_the_words_that_were_heard_are_told_as_typed() -> None:
    (best, *_) = rank("It Fails on the WALL BOX", FEW)
    assert best.tree == "ac-fails"
    assert "wall box" in best.words


@pytest.mark.parametrize("text", ["", "   ", "?!", "12", "hello", "☃", "\x1b[2J", "a" * 5000])
def test_what_means_nothing_is_heard_by_none(text: str) -> None:
    assert rank(text, FEW) == ()


_WORDS = sorted(
    {word for words in IDEAS.values() for word in words.split() if word.isalpha()} - {*BREAKS, *NOT, *FINE}
)
_JOINING = re.compile(
    "^(level|type|wall|home|small|little|ordinary|normal|starter|auxiliary|aux|cut|drop|give|come|get|take|pull|let|fall|"
    "lock|straight|right|earth|ground|fuse|consumer|off|on|jump|slow|go|plug|no|all|any|at|per|high|low)"
)
"""Words that may make an expression with the next one: their order matters."""
_SINGLE = [word for word in _WORDS if not _JOINING.match(word)]


@given(st.lists(st.sampled_from(_SINGLE), min_size=1, max_size=8), st.data())
@settings(deadline=None, max_examples=150)
def test_word_order_never_changes_the_ranking(words: list[str], data: st.DataObject) -> None:
    other = data.draw(st.permutations(words))
    assert ids(rank(" ".join(words), complaints())) == ids(rank(" ".join(other), complaints()))


@given(st.sampled_from(sentences(TO_TUNE_ON)), st.integers(0, 2**120))
@settings(deadline=None, max_examples=150)
def test_case_and_signs_never_change_the_ranking(sentence: tuple[str, str], upper: int) -> None:
    text = sentence[1]
    other = "".join(letter.upper() if upper >> place & 1 else letter for place, letter in enumerate(text))
    other = other.replace("'", "’")
    plain, changed = rank(text, complaints()), rank(f"  {other}  ", complaints())
    assert [(one.tree, one.likeness) for one in plain] == [(one.tree, one.likeness) for one in changed]


def _stand_alone(clauses: list[str]) -> bool:
    """Return whether no clause is the rest of the one before it: `only` and `alike` speak of that, so do short ones."""
    return all(len(one.split()) > 2 and not {"only", "alike"} & set(one.split()) for one in clauses)


_SPLIT = [text.split(", ") for _, text in sentences(TO_TUNE_ON)]
_CLAUSES = [clauses for clauses in _SPLIT if len(clauses) > 1 and _stand_alone(clauses)]


def test_many_sentences_have_clauses_that_stand_alone() -> None:
    assert len(_CLAUSES) > 50


@pytest.mark.parametrize("clauses", _CLAUSES, ids=", ".join)
def test_the_order_of_clauses_never_changes_the_ranking(clauses: list[str]) -> None:
    assert ids(rank(", ".join(clauses), complaints())) == ids(rank(", ".join(reversed(clauses)), complaints()))


def test_one_slip_in_a_long_word_rarely_changes_what_is_heard() -> None:
    """Every long word, one letter left out or two swapped in its middle: the first complaint changes in under 8 %."""
    tried = changed = 0
    for _, text in sentences(TO_TUNE_ON):
        first = ids(rank(text, complaints()))[:1]
        for word in re.findall(r"[a-z]{7,}", text):
            middle = len(word) // 2
            for slip in (word[:middle] + word[middle + 1 :],
                         word[:middle] + word[middle + 1] + word[middle] + word[middle + 2 :]):  # fmt: skip
                tried += 1
                changed += ids(rank(text.replace(word, slip, 1), complaints()))[:1] != first
    assert tried > 100
    assert changed <= 0.08 * tried, f"{changed} of {tried}"
