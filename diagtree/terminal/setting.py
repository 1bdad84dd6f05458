"""What was said before the command, and the ways out: results, talk, documents, knowledge and the case store."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, TextIO

from diagtree.terminal.text import fits, hanging, visible, wrapped

if TYPE_CHECKING:
    from diagtree.cases.store import CaseStore
    from diagtree.knowledge.library import Library
    from diagtree.terminal.dialogue import Dialogue


@dataclass(slots=True)
class Setting:
    """One run of the program: where its knowledge and cases are, how it may show things, and where it writes.

    trees : knowledge folder, None for the one that ships. store : case store, None for the user's own.
    plain : append-only lines, typed numbers, no escape codes. said : of these, what was typed before the command and a
    later command needs again, by option: a variable of the environment stays by itself.
    """

    trees: str | None = None
    store: str | None = None
    plain: bool = False
    said: tuple[str, ...] = ()
    out: TextIO = field(default_factory=lambda: sys.stdout)
    err: TextIO = field(default_factory=lambda: sys.stderr)

    @property
    def is_terminal(self) -> bool:
        """Tell whether a person sits at both ends: questions can be asked."""
        return sys.stdin.isatty() and self.out.isatty()

    @property
    def has_screen(self) -> bool:
        """Tell whether that terminal can do more than lines, and may."""
        kind = os.environ.get("TERM", "dumb" if os.name == "posix" else "").lower()
        return self.is_terminal and not self.plain and kind not in ("dumb", "unknown")

    @property
    def columns(self) -> int | None:
        """Return the width to lay results out for, None where they do not go to a screen."""
        if not self.out.isatty() or self.plain:
            return None
        import shutil

        return min(max(shutil.get_terminal_size((80, 24)).columns, 40), 120)

    def command(self, words: str, *needs: str) -> str:
        """Return the line that runs a command. needs : the options that it needs again (default: the store)."""
        if not self.said:
            return f"diagtree {words}"
        from shlex import quote

        given = {"store": self.store, "trees": self.trees}
        wanted = [name for name in needs or ("store",) if name in self.said]
        before = [f"--{name} {quote(given[name] or '')}" for name in wanted]
        return " ".join(("diagtree", *before, words))

    def dialogue(self, *, talk: bool = False) -> Dialogue:
        """Return the driver that asks whoever is there. talk : ask on standard error, the output is a document."""
        if self.has_screen and not talk:
            from diagtree.terminal.drivers import person

            return person.driver()
        from diagtree.terminal.drivers import plain

        return plain.driver(self.err if talk else self.out)

    def library(self) -> Library:
        """Return the knowledge. What is wrong with it is in its `findings`; `require` refuses what cannot be used."""
        from pathlib import Path

        from diagtree.knowledge.files import load

        return load(Path(self.trees).expanduser() if self.trees else None)

    def cases(self, *, read_only: bool = False, existing: bool = False) -> CaseStore:
        """Return the case store, to be used in a `with` statement. Raises StoreError, saying what to do.

        read_only : for commands that only look; it is enough where the store cannot be written, or the disk is full.
        existing : for what asks for a case; with either, no store is made where there is none: it is empty to read.
        """
        from diagtree.cases.store import empty_store, open_store, store_is_missing

        if (read_only or existing) and store_is_missing(self.store):
            return empty_store(self.store)
        store = open_store(self.store, read_only=read_only)
        if store.warning:
            self.talk(f"diagtree: {store.warning}")
        return store

    def say(self, text: str = "") -> None:
        """Print a result on standard output: people's brackets as typed, no escape codes, not cut."""
        print(fits(visible(text), self.out.encoding or "utf-8"), file=self.out)

    def say_wrapped(self, lines: Iterable[str]) -> None:
        """Print lines of a result; on a screen those that are too long go on under where their words begin."""
        from textwrap import wrap

        for line in lines:
            deep = " " * hanging(line, self.columns or 80)
            fitted = wrap(line, self.columns, subsequent_indent=deep, break_on_hyphens=False) if self.columns else []
            for part in fitted or [line]:
                self.say(part)

    @contextmanager
    def meanwhile(self, lines: Iterable[str]) -> Iterator[None]:
        """Show lines on a screen for as long as the block runs, then take them away; elsewhere show nothing."""
        from shutil import get_terminal_size

        columns, rows = get_terminal_size((80, 24))
        shown = [fits(visible(line), self.out.encoding or "utf-8")[: columns - 1] for line in lines][: rows - 2]
        if not (shown and self.has_screen):
            yield
            return
        print("\n".join(shown), file=self.out, flush=True)
        try:
            yield
        finally:
            print(f"\x1b[{len(shown)}F\x1b[J", end="", file=self.out, flush=True)

    def talk(self, text: str) -> None:
        """Print what is not a result (progress, warnings) on standard error."""
        shown = fits(visible(text), self.err.encoding or "utf-8")
        if self.err.isatty() and not self.plain:
            from shutil import get_terminal_size

            shown = "\n".join(wrapped(line, get_terminal_size((80, 24)).columns) for line in shown.splitlines())
        print(shown, file=self.err)

    def document(self, value: Any) -> None:
        """Print one JSON document on standard output, in ASCII so that every stream carries it."""
        print(json.dumps(value, indent=2, allow_nan=False), file=self.out)
