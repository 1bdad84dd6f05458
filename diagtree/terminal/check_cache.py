"""What a check found, kept by the content it looked at: a folder that has not changed is not looked at again.

The key is a digest over the files' texts and names, over how they are named in messages, over what was asked for and
over this program's own sources. So nothing here is ever wrong, only missing: the folder may be deleted at any time, a
spoilt entry is passed over, and where nothing can be written everything works as before.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterable, Mapping
from hashlib import sha256
from pathlib import Path

import diagtree
from diagtree.knowledge.digest import digest_of
from diagtree.knowledge.place import Finding, Level, Place

MOST = 200  # entries that are kept; the oldest go first
_ROOMS = ("check", "knowledge", "physics", "reason", "walk", "car")  # what a finding can depend on


def cache_folder() -> Path:
    """Return where entries are kept: the user's cache folder."""
    from platformdirs import user_cache_path

    return user_cache_path("diagtree") / "check"


def key_of(texts: Mapping[str, str], folder: str, asked: Iterable[str]) -> str:
    """Return the key of a check. asked : what else decides about the findings, such as `worth`."""
    parts = (digest_of(texts), folder, *asked, sources())
    return sha256("\0".join(parts).encode("utf-8", "surrogatepass")).hexdigest()


def sources() -> str:
    """Return a digest of the program: its version, and name, size and time of each file that can decide a finding."""
    package = Path(diagtree.__file__).parent
    total = sha256(diagtree.__version__.encode())
    for room in _ROOMS:
        for base, folders, files in os.walk(package / room):
            folders[:] = sorted(name for name in folders if name != "__pycache__")
            for name in sorted(files):
                if name.endswith(".py"):
                    stat = os.stat(os.path.join(base, name))
                    total.update(f"{base}/{name} {stat.st_size} {stat.st_mtime_ns}\n".encode())
    return total.hexdigest()


def kept(key: str, folder: Path | None = None) -> tuple[Finding, ...] | None:
    """Return what was found under `key`; None where that is not known."""
    try:
        rows = json.loads(_file(key, folder).read_text("utf-8"))
        return tuple(_finding(row) for row in rows)
    except (OSError, ValueError, TypeError, RuntimeError):  # missing, spoilt, or no home folder at all
        return None


def keep(key: str, findings: Iterable[Finding], folder: Path | None = None) -> None:
    """Keep what was found. Several may write at once: an entry appears whole or not at all."""
    rows = [[one.rule, one.level.value, *one.place, one.message, one.witness] for one in findings]
    own: Path | None = None
    try:
        file = _file(key, folder)
        file.parent.mkdir(parents=True, exist_ok=True)
        own = file.with_suffix(f".{os.getpid()}")
        own.write_text(json.dumps(rows), "utf-8")
        os.replace(own, file)
        _prune(file.parent)
    except (OSError, RuntimeError):  # a full disk, a folder that may not be written: then nothing is kept
        if own is not None:
            _forget(own)


def _file(key: str, folder: Path | None) -> Path:
    return (folder or cache_folder()) / f"{key}.json"


def _finding(row: list[object]) -> Finding:
    rule, level, file, line, column, message, witness = row
    texts = (rule, file, message)
    if not (all(isinstance(text, str) for text in texts) and isinstance(line, int) and isinstance(column, int)):
        raise ValueError("a row that no check wrote")
    place = Place(str(file), line, column)
    return Finding(str(rule), Level(str(level)), place, str(message), None if witness is None else str(witness))


def _prune(folder: Path) -> None:
    entries = list(folder.iterdir())
    if len(entries) > MOST:
        dated = sorted((_changed(path), path) for path in entries)
        for _, path in dated[: len(entries) - MOST]:
            _forget(path)


def _changed(path: Path) -> float:
    try:
        return path.stat().st_mtime
    except OSError:  # somebody else took it away meanwhile
        return 0.0


def _forget(path: Path) -> None:
    try:
        path.unlink()
    except OSError:  # gone already, or not ours to take
        return
