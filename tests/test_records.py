"""The quick dataclass does what that of the standard library does; no class of the project can tell them apart.

Differential, against `dataclasses.dataclass` with the same options (the Python library reference, "dataclasses").
"""

from __future__ import annotations

import copy
import dataclasses
import inspect
import pickle
import sys
from typing import Any, get_type_hints

import pytest
from hypothesis import given
from hypothesis import strategies as st

from diagtree.records import dataclass

KINDS = ("bare", "default", "factory", "unseen", "fixed", "made")


def body(kinds: list[str]) -> dict[str, Any]:
    """Return the body of a class with one field a kind, those without default first."""
    order = sorted(kinds, key=lambda kind: kind != "bare")
    names = [f"field{number}" for number in range(len(order))]
    made: dict[str, Any] = {"__annotations__": dict.fromkeys(names, int), "__module__": __name__, "__doc__": "Some."}
    for name, kind in zip(names, order, strict=True):
        if kind == "default":
            made[name] = 7
        elif kind == "factory":
            made[name] = dataclasses.field(default_factory=list)
        elif kind == "unseen":
            made[name] = dataclasses.field(default=8, repr=False, compare=False)
        elif kind == "fixed":
            made[name] = dataclasses.field(default=9, init=False)
        elif kind == "made":
            made[name] = dataclasses.field(default_factory=tuple, init=False)
    return made


def both(kinds: list[str], **more: Any) -> tuple[type[Any], type[Any]]:
    """Return a class of these fields by the quick one, and by the standard library."""
    ways: list[Any] = [dataclass, dataclasses.dataclass]
    quick, plain = (way(frozen=True, slots=True)(type("Thing", (), body(kinds) | more)) for way in ways)
    return quick, plain


def tried(deed: Any) -> Any:
    try:
        return deed()
    except Exception as error:
        return type(error)


VALUES = st.lists(st.one_of(st.integers(0, 3), st.sampled_from(["a", "b"])), max_size=5)


@given(st.lists(st.sampled_from(KINDS), max_size=6), VALUES, VALUES)
def test_it_makes_shows_and_compares_alike(kinds: list[str], one: list[Any], other: list[Any]) -> None:
    quick, plain = both(kinds)
    assert str(inspect.signature(quick)) == str(inspect.signature(plain))
    assert quick.__match_args__ == plain.__match_args__
    assert quick.__slots__ == plain.__slots__
    first, second = (tried(lambda values=values: quick(*values)) for values in (one, other))
    like_first, like_second = (tried(lambda values=values: plain(*values)) for values in (one, other))
    if isinstance(like_first, type) or isinstance(like_second, type):  # too many values, or too few
        assert [first == like_first, second == like_second] == [
            isinstance(like_first, type), isinstance(like_second, type)
        ]
        return
    assert repr(first) == repr(like_first)
    assert (first == second) == (like_first == like_second)
    assert (first != second) == (like_first != like_second)
    assert first != like_first
    assert tried(lambda: hash(first)) == tried(lambda: hash(like_first))
    assert dataclasses.astuple(first) == dataclasses.astuple(like_first)
    assert copy.deepcopy(first) == first
    for name in (*(field.name for field in dataclasses.fields(plain)), "other"):
        assert tried(lambda name=name: setattr(first, name, 1)) is dataclasses.FrozenInstanceError
        assert tried(lambda name=name: delattr(first, name)) is dataclasses.FrozenInstanceError
        assert tried(lambda name=name: dataclasses.asdict(dataclasses.replace(first, **{name: 1}))) == tried(
            lambda name=name: dataclasses.asdict(dataclasses.replace(like_first, **{name: 1}))
        )


@dataclass(frozen=True, slots=True)
class Known:
    """One that can be pickled: its module holds it."""

    name: str
    numbers: tuple[int, ...] = ()
    other: Any = None  # a name of this module


def test_it_can_be_pickled_and_matched() -> None:
    one = Known("a", (1, 2))
    for protocol in range(2, pickle.HIGHEST_PROTOCOL + 1):
        assert pickle.loads(pickle.dumps(one, protocol)) == one
    match one:
        case Known(name, numbers, None):
            assert (name, numbers) == ("a", (1, 2))
    assert Known.__init__.__qualname__ == "Known.__init__"
    assert Known.__init__.__module__ == __name__
    assert get_type_hints(Known) == {"name": str, "numbers": tuple[int, ...], "other": Any}


def test_what_a_class_says_itself_stands() -> None:
    quick, plain = both(["bare"], __repr__=lambda self: "me", __post_init__=lambda self: sys.intern("x"))
    assert repr(quick(1)) == repr(plain(1)) == "me"


def test_a_class_that_says_when_it_is_equal_has_a_hash_of_its_fields() -> None:
    quick, plain = both(["bare"], __eq__=lambda self, other: True, __hash__=None)  # as `class` itself sets it
    assert hash(quick(1)) == hash(plain(1))
    assert quick(1) == quick(2)


@pytest.mark.parametrize("more", [
    {"field0": dataclasses.field(default=1, kw_only=True)},
    {"__annotations__": {"_": "dataclasses.KW_ONLY", "field0": int}},
    {"__annotations__": {"field0": "dataclasses.InitVar[int]"}, "__post_init__": lambda self, field0: None},
])  # fmt: skip
def test_fields_by_keyword_only_and_arguments_that_are_no_field(more: dict[str, Any]) -> None:
    quick, plain = both(["bare"], **more)
    assert str(inspect.signature(quick)) == str(inspect.signature(plain))
    assert len(dataclasses.fields(quick)) == len(dataclasses.fields(plain))
    taken, like_taken = (isinstance(tried(lambda kind=kind: kind(1)), kind) for kind in (quick, plain))
    assert taken == like_taken


def test_post_init_may_refuse() -> None:
    def refuse(self: Any) -> None:
        raise ValueError(self.field0)

    for kind in both(["bare"], __post_init__=refuse):
        with pytest.raises(ValueError, match="5"):
            kind(5)


def test_other_options_are_left_to_the_standard_library() -> None:
    @dataclass
    class Loose:
        size: int = 1

    loose = Loose()
    loose.size = 2
    assert loose == Loose(2)


@pytest.mark.parametrize("way", [dataclass, dataclasses.dataclass])
def test_a_child_may_have_either_parent(way: Any) -> None:
    parent: Any = way(frozen=True, slots=True)(type("Parent", (), body(["bare"])))
    more = {"__annotations__": {"name": str}, "__module__": __name__, "name": ""}
    child: Any = dataclass(frozen=True, slots=True)(type("Child", (parent,), more))
    assert parent.__dataclass_params__.frozen
    assert repr(child(1, "a")) == "Child(field0=1, name='a')"
    assert child(1, "a") == child(1, "a") != child(2, "a")
    with pytest.raises(dataclasses.FrozenInstanceError):
        child(1).field0 = 2
