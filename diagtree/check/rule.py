"""What a rule is: a mistake with a name, why it hurts, and how it is found. One rule a file under `rules/`."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from functools import cache
from inspect import cleandoc
from typing import TYPE_CHECKING, TypeAlias

from diagtree.discover import collect
from diagtree.knowledge.place import Level, Place
from diagtree.records import dataclass

if TYPE_CHECKING:
    from diagtree.check.subject import Subject


@dataclass(frozen=True, slots=True)
class Found:
    """One mistake that a rule found: its place, what is wrong with what to do, and answers that walk into it.

    witness : an answers file's text (`check/witness.py`), for rules about graph, meaning and safety.
    """

    at: Place
    message: str
    witness: str | None = None


FOLDER, CATALOGUE, VEHICLES = "", "catalogue/", "vehicles/"
"""What a rule can need whole: how the files' names begin."""

Finder: TypeAlias = "Callable[[Subject], Iterable[Found]]"


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule.

    id : kebab-case, named after the mistake; the module bears the same name with underscores.
    family : reading, links, graph, meaning, safety, words or worth.
    finds, why : one sentence each: what it reports, and what the mistake would cost in the workshop.
    find : what looks for it; None where the reader tells it while it reads (`knowledge/`), with this id as its rule.
    whole : FOLDER, CATALOGUE or VEHICLES where it tells that something is missing or unused; while a file of these
    could not be read whole, nobody can tell, and it does not look. None: it looks at what is there.
    follows : whether it follows the branches of trees; it passes over a tree that could not be read whole.
    text : the module's docstring, with two examples, `Fires:` and `Silent:` (see `examples`).
    """

    id: str
    family: str
    level: Level
    finds: str
    why: str
    find: Finder | None
    text: str
    whole: str | None = None
    follows: bool = False

    def can_tell(self, unread: Iterable[str]) -> bool:
        """Return whether what it needs could be read. unread : the files that could not, named from the folder."""
        return self.whole is None or not any(name.startswith(self.whole) for name in unread)


@dataclass(frozen=True, slots=True)
class Examples:
    """Two small knowledge folders (file name to text) on which a rule fires and is silent."""

    fires: Mapping[str, str]
    silent: Mapping[str, str]


_HEAD = re.compile(r"^(Fires|Silent):[ \t]*$", re.MULTILINE)
_FILE = re.compile(r"^--- (\S+)[ \t]*$", re.MULTILINE)


def examples(rule: Rule) -> Examples:
    """Return the two examples of a rule's docstring.

    After `Fires:` and `Silent:` stands an indented text of one or more files, each headed `--- NAME`. A file that is
    not named is that of `example.BASE`; one that is named stands instead of it. Raises ValueError where one lacks.
    """
    parts = _HEAD.split(cleandoc(rule.text))
    told = dict(zip(parts[1::2], parts[2::2], strict=True))
    if set(told) != {"Fires", "Silent"}:
        raise ValueError(f"the docstring of rule `{rule.id}` must have one `Fires:` and one `Silent:`")
    return Examples(_files(told["Fires"]), _files(told["Silent"]))


def _files(text: str) -> dict[str, str]:
    parts = _FILE.split(cleandoc(text))
    return {name: body.strip("\n") + "\n" for name, body in zip(parts[1::2], parts[2::2], strict=True)}


@cache
def rules() -> tuple[Rule, ...]:
    """Return every rule, by name."""
    from diagtree.check import rules as package

    return tuple(sorted(collect(package, "RULE", Rule), key=lambda rule: rule.id))
