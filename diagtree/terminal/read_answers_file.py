"""An answers file, or standard input, to what it says."""

from __future__ import annotations

import sys
from pathlib import Path

from diagtree.errors import WrongUse
from diagtree.terminal.answers_text import AnswersFile, read_answers


def read_answers_file(name: str) -> AnswersFile:
    """Return what the file called `name` says (`-`: standard input). Raises WrongUse or KnowledgeError."""
    try:
        data = sys.stdin.buffer.read() if name == "-" else Path(name).read_bytes()
        return read_answers(data.decode("utf-8"), "standard input" if name == "-" else name)
    except (OSError, ValueError) as error:
        if isinstance(error, UnicodeDecodeError):
            line = error.object[: error.start].count(b"\n") + 1
            raise WrongUse(f"{name}:{line}: not UTF-8 text; save the file as UTF-8") from error
        reason = getattr(error, "strerror", None) or str(error)
        raise WrongUse(f"answers file `{name}` cannot be read: {reason.lower()}") from error
