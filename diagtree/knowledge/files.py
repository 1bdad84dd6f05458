"""The one place that opens knowledge files."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

from diagtree.errors import KnowledgeError, WrongUse
from diagtree.knowledge.place import Finding, Level, Place

if TYPE_CHECKING:
    from diagtree.knowledge.library import Library

_PACKAGED = Path(__file__).resolve().parent.parent / "_trees"
_CHECKOUT = Path(__file__).resolve().parent.parent.parent / "trees"


def shipped_folder() -> Path:
    """Return the folder of the knowledge that ships: the checkout's, else the wheel's. Raises WrongUse without one."""
    for folder in (_CHECKOUT, _PACKAGED):
        if (folder / "catalogue").is_dir():
            return folder
    raise WrongUse("the shipped trees are not installed; name a folder of trees with --trees DIR")


def read_texts(folder: Path) -> dict[str, str]:
    """Return relative file name to text for every `*.yaml` of a knowledge folder.

    Raises WrongUse where the folder cannot be read, KnowledgeError naming each file that is not UTF-8 text.
    """
    if not folder.is_dir():
        raise WrongUse(f"`{folder}` is no folder; name one that holds trees (`*.yaml`) and a `catalogue` folder")
    texts: dict[str, str] = {}
    wrong: list[Finding] = []
    for path in _files(folder):
        name = path.relative_to(folder).as_posix()
        try:
            texts[name] = path.read_bytes().decode("utf-8")
        except UnicodeDecodeError as error:
            data = path.read_bytes()[: error.start]
            line, column = data.count(b"\n") + 1, len(data) - (data.rfind(b"\n") + 1) + 1
            message = f"byte 0x{error.object[error.start]:02X} is not UTF-8 text; save the file as UTF-8"
            wrong.append(Finding("not-utf-8", Level.ERROR, Place(str(path), line, column), message))
        except OSError as error:
            wrong.append(Finding("unreadable-file", Level.ERROR, Place(str(path)), f"cannot be read: {error.strerror}"))
    if wrong:
        raise KnowledgeError(f"{len(wrong)} file(s) in `{folder}` cannot be read", tuple(wrong))
    if not texts:
        raise WrongUse(f"`{folder}` holds no `*.yaml`; name a folder with trees and a `catalogue` folder")
    return texts


def load(folder: Path | None = None) -> Library:
    """Return the knowledge in `folder`, or the knowledge that ships."""
    from diagtree.knowledge.library import read_library  # a check of what has not changed needs no reader

    found = shipped_folder() if folder is None else folder
    return read_library(read_texts(found), f"{shown(found)}/")


def _files(folder: Path) -> list[Path]:
    found = [*folder.glob("*.yaml"), *folder.glob("catalogue/**/*.yaml"), *folder.glob("vehicles/*.yaml")]
    return sorted(path for path in found if not path.name.startswith("."))


def shown(folder: Path) -> str:
    """Return how the files of a folder are named in messages: from here, where that is shorter."""
    relative = os.path.relpath(folder)
    return str(folder) if relative.startswith("..") else relative
