"""What `check` is asked to look at: folders, single files, a text on standard input; and what is found there."""

from __future__ import annotations

import gc
import os
import re
import sys
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from diagtree.errors import KnowledgeError, WrongUse
from diagtree.knowledge.files import read_texts, shipped_folder, shown
from diagtree.knowledge.place import Finding
from diagtree.terminal.check_cache import keep, kept, key_of

STANDARD_INPUT = "-"
_TREE = re.compile(r"^tree:[ \t]*['\"]?([\w.-]+)", re.MULTILINE)

_OTHER = re.compile(r"^(?:tests|access|procedures|vehicle|workshop):", re.MULTILINE)  # `causes:` a tree has too


@dataclass(frozen=True)
class Target:
    """A folder to look at. only : the files, named from the folder, whose findings are told; None for all.

    typed : files whose text did not come from the folder (standard input), by name.
    """

    folder: Path
    only: frozenset[str] | None = None
    typed: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Looked:
    """What was found, the texts by the names that findings use, and how many files were looked at."""

    findings: tuple[Finding, ...]
    texts: Mapping[str, str]
    files: int


def targets(paths: Iterable[str], trees: str | None, stdin_name: str | None) -> tuple[Target, ...]:
    """Return what the words of the command line name; none at all names the knowledge folder.

    Raises WrongUse for a path that is not there. Files of one folder become one target: it is read once.
    """
    base = Path(trees).expanduser() if trees else None
    found: dict[Path, Target] = {}
    for word in dict.fromkeys(paths):
        if word == STANDARD_INPUT:
            new = _standard_input(base or shipped_folder(), stdin_name)
        else:
            new = _target(Path(word).expanduser())
        where = Path(os.path.abspath(new.folder))
        found[where] = _both(found[where], new) if where in found else new
    return tuple(found.values()) or (Target(base or shipped_folder()),)


@dataclass(frozen=True)
class Wish:
    """What to look for beside the usual. worth : best strategies. walks : how many made-up walks, from which seed."""

    worth: bool = False
    walks: int = 0
    seed: int = 0

    def words(self) -> list[str]:
        """Return the wish as part of a key."""
        return [*(["worth"] if self.worth else []), *([f"walks {self.walks} {self.seed}"] if self.walks else [])]


def look(target: Target, wish: Wish, *, cached: bool) -> Looked:
    """Return what is wrong with a target. Raises WrongUse where it cannot be read or a file is not of its knowledge.

    cached : take what was found before for the same content.
    """
    try:
        texts = {**read_texts(target.folder), **dict(target.typed)}
    except KnowledgeError as error:  # a file that is no text at all is a finding too; nothing could be looked at
        return Looked(tuple(one for one in error.findings if isinstance(one, Finding)), {}, 0)
    folder = f"{shown(target.folder)}/".removeprefix("./")
    for name in sorted((target.only or frozenset()) - texts.keys()):
        raise WrongUse(f"`{folder}{name}` is no knowledge file: trees, `catalogue/` and `vehicles/` hold `*.yaml`")
    key = key_of(texts, folder, wish.words()) if cached else ""
    found = kept(key) if cached else None
    if found is None:
        with _without_collector():
            found = _checked(texts, folder, wish)
        if cached:
            keep(key, found)
    named = {folder + name: text for name, text in texts.items()}
    return Looked(_told(target, found, folder), named, len(texts) if target.only is None else len(target.only))


def _checked(texts: Mapping[str, str], folder: str, wish: Wish) -> tuple[Finding, ...]:
    from diagtree.check.run import check_library, usual_rules
    from diagtree.knowledge.library import read_library

    library = read_library(texts, folder)
    walked: tuple[Finding, ...] = ()
    if wish.walks:
        from diagtree.check.walks.run import play_walks

        walked = play_walks(library, wish.walks, wish.seed).findings
    return check_library(library, usual_rules(worth=wish.worth, walks=wish.walks > 0), walked)


@contextmanager
def _without_collector() -> Iterator[None]:
    """Keep Python's collector from going over the same growing knowledge again and again: a third of the time."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def _told(target: Target, found: tuple[Finding, ...], folder: str) -> tuple[Finding, ...]:
    if target.only is None:
        return found
    # Without a catalogue nothing can be said of any file.
    whole = ("catalogue-missing",)
    return tuple(one for one in found if one.place.file.removeprefix(folder) in target.only or one.rule in whole)


def _target(path: Path) -> Target:
    if path.is_dir():
        if not os.access(path, os.R_OK | os.X_OK):
            raise WrongUse(f"`{path}` cannot be read: you have no leave to look into this folder")
        whole = _folder_of(path)
        if whole is not None:
            raise WrongUse(f"`{path}` is a part of the knowledge folder `{whole}`; check that folder, or single files")
        return Target(path)
    if not path.exists():
        raise WrongUse(f"`{path}` does not exist: there is no folder and no file of this name")
    above = Path(os.path.abspath(path)).parents
    folder = next((one for one in above if (one / "catalogue").is_dir()), above[0])
    return Target(folder, frozenset({Path(os.path.abspath(path)).relative_to(folder).as_posix()}))


def _folder_of(part: Path) -> Path | None:
    """Return the knowledge folder of which a folder is the catalogue or the profiles; None where it is one itself."""
    above = Path(os.path.abspath(part)).parent
    is_part = part.name in ("catalogue", "vehicles") and (above / "catalogue").is_dir() and any(above.glob("*.yaml"))
    return Path(shown(above)) if is_part and not (part / "catalogue").is_dir() else None


def _both(one: Target, other: Target) -> Target:
    only = None if one.only is None or other.only is None else one.only | other.only
    return Target(one.folder, only, one.typed + other.typed)


def _standard_input(folder: Path, name: str | None) -> Target:
    stream = getattr(sys.stdin, "buffer", None)
    try:
        text = stream.read().decode("utf-8") if stream is not None else sys.stdin.read()
    except UnicodeDecodeError as error:
        raise WrongUse(f"standard input is not UTF-8 text (byte {error.start + 1}); send it as UTF-8") from error
    said = _TREE.search(text)
    if not name and not said and _OTHER.search(text):
        raise WrongUse("standard input holds no tree; say which file it stands for: `--stdin-name catalogue/NAME.yaml`")
    file = name or (said.group(1) if said else "standard-input")
    file = file if file.endswith(".yaml") else f"{file}.yaml"
    if file.startswith("/") or ".." in file.split("/"):
        raise WrongUse(f"`--stdin-name {name}`: name the file from the knowledge folder, like `my-tree.yaml`")
    return Target(folder, frozenset({file}), ((file, text),))
