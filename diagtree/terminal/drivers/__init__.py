"""Where the answers come from, one source a file: a person at a screen, plain lines, an answers file.

A driver is handed prompts and hands back answers, both data; it never touches session or store. It answers from a
prompt's `form` alone, so that a new kind of prompt needs no new driver.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import field
from typing import Protocol

from diagtree.knowledge.words import Access, Test
from diagtree.records import dataclass
from diagtree.walk.answers import Answer
from diagtree.walk.prompts import Prompt


@dataclass(frozen=True, slots=True)
class Scene:
    """What may be looked up while a question stands.

    why : what the question is for, as lines. advice : what to do next by the sums, as lines, first at once and then
    better. Both are worked out only when asked. tests : what may be recorded or done out of turn. answered : test to
    its outcome so far. access : every access of this car; open_now : those that are open. doubt : of a test's readings
    as typed, the one to look at again and what to ask; None where there is none. standing : power and accesses as they
    count now; cautions are shown in short only while it is the same, and never where it is None. since : minutes
    since the last act on the car, None where that cannot be told.
    """

    why: Callable[[], Sequence[str]]
    advice: Callable[[], Iterable[Sequence[str]]] = tuple
    tests: Mapping[str, Test] = field(default_factory=dict)
    answered: Mapping[str, str] = field(default_factory=dict)
    access: Mapping[str, Access] = field(default_factory=dict)
    open_now: tuple[str, ...] = ()
    doubt: Callable[[str, Mapping[str, str]], tuple[str, str] | None] = lambda test, typed: None  # noqa: ARG005
    standing: object = None
    since: Callable[[], float | None] = lambda: None


class Driver(Protocol):
    """One source of answers. advised : whether a person reads the prompts, who may want what the sums advise."""

    advised: bool

    def answer(self, prompt: Prompt, scene: Scene) -> Answer:
        """Return the answer to `prompt`. Raises Interrupted where the person goes instead."""

    def refused(self, message: str) -> None:
        """Be told that the last answer could not be taken and what was expected; the same prompt comes again."""

    def tell(self, *lines: str) -> None:
        """Show what was reached."""
