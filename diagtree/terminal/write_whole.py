"""Write a file whole or not at all."""

from __future__ import annotations

from pathlib import Path

from diagtree.errors import WrongUse


def demand_free(path: Path, *, overwrite: bool) -> None:
    """Raise WrongUse where `path` may not be written: said before any work or question, not after it."""
    if path.exists() and not overwrite:
        raise WrongUse(f"{path} is there already; name another file, or say --overwrite to replace it")
    if not path.parent.is_dir():
        raise WrongUse(f"{path} cannot be written: there is no folder {path.parent}")


def write_whole(path: Path, text: str, *, overwrite: bool) -> None:
    """Write a text file whole or not at all: a reader never sees half of it.

    Raises WrongUse where it is there already and may not be replaced, or cannot be written.
    """
    import os

    demand_free(path, overwrite=overwrite)
    if not path.name:
        raise WrongUse(f"`{path}` is no name of a file; type one, such as record.md")
    part = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        with part.open("x", encoding="utf-8", errors="replace", newline="\n") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        part.replace(path)
    except (OSError, ValueError) as error:
        part.unlink(missing_ok=True)
        reason = getattr(error, "strerror", None) or error
        raise WrongUse(f"{path} cannot be written: {reason}") from error
