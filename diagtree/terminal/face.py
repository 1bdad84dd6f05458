"""What a dialogue needs of the place where it happens: showing blocks and asking for a line."""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum
from typing import Protocol

from diagtree.records import dataclass


class Look(StrEnum):
    """What a block is, never a colour: each place shows it its own way, and always in words too."""

    HEADING = "heading"
    TOLD = "told"
    CAUTION = "caution"
    ABOUT = "about"
    HOW = "how"
    ASK = "ask"
    OPTION = "option"
    DANGER = "danger"  # an option that is typed as its word
    KEYS = "keys"
    SAID = "said"  # an answer to a key word
    REFUSED = "refused"


@dataclass(frozen=True, slots=True)
class Block:
    """Some text with what stands before its first line; further lines are indented to match."""

    look: Look
    text: str
    first: str = ""


class Face(Protocol):
    """A screen with a keyboard, or a stream of lines."""

    @property
    def narrow(self) -> bool:
        """Tell whether it is too narrow for the long key line."""

    def show(self, blocks: Iterable[Block]) -> None:
        """Show blocks, one below the other."""

    def ask(self, label: str) -> str:
        """Return the next line that the person types after the label stands there, without its blanks.

        Raises Interrupted on Ctrl-C and at the end of input.
        """
