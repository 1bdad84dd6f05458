"""Acts from a file: one a line, or a YAML list (`acts:`); typed as a person would type them, blank lines left out."""

from __future__ import annotations

import sys
from io import StringIO
from pathlib import Path
from typing import TextIO

from diagtree.errors import WrongUse
from diagtree.terminal.drivers.plain import PlainFace


def read_acts(name: str) -> tuple[str, ...]:
    """Return the acts of a file (`-`: standard input). Raises WrongUse where it cannot be read."""
    said = "standard input" if name == "-" else name
    try:
        data = sys.stdin.buffer.read() if name == "-" else Path(name).read_bytes()
        text = data.decode("utf-8")
    except OSError as error:
        raise WrongUse(f"answers file `{name}` cannot be read: {(error.strerror or str(error)).lower()}") from error
    except UnicodeDecodeError as error:
        raise WrongUse(f"answers file `{said}` is not UTF-8 text; save it as UTF-8") from error
    return acts_of(text, said)


def acts_of(text: str, name: str) -> tuple[str, ...]:
    """Return the acts that a text holds. `#` begins a comment. Raises WrongUse, naming the line, for other YAML."""
    lines = [line.split(" #")[0].strip() for line in text.splitlines()]
    acts = [line for line in lines if line and not line.startswith("#")]
    if acts and (acts[0].startswith(("acts:", "- ", "[")) or acts[0] == "---"):
        return _yaml(text, name)
    return tuple(acts)


def _yaml(text: str, name: str) -> tuple[str, ...]:
    from diagtree.errors import KnowledgeError
    from diagtree.knowledge.yaml_text import Mapping, Scalar, Sequence, compose

    root, wrong = compose(text, name)
    if isinstance(root, Mapping) and list(root.entries) == ["acts"]:
        root = root.entries["acts"].value
    if wrong or not isinstance(root, Sequence) or not all(isinstance(one, Scalar) for one in root.items):
        raise KnowledgeError(
            f"answers file `{name}`: expected acts, one a line, or a list of texts under `acts:`", wrong
        )
    return tuple(one.text for one in root.items if isinstance(one, Scalar))


class FileFace(PlainFace):
    """Plain lines, typed by a file. Raises WrongUse where it ends before the round does."""

    def __init__(self, out: TextIO, acts: tuple[str, ...], name: str) -> None:
        super().__init__(out, StringIO("".join(f"{act}\n" for act in acts)))
        self._left = len(acts)
        self._said = name

    @property
    def left(self) -> int:
        """How many acts were not needed."""
        return self._left

    def ask(self, label: str) -> str:
        """Return the next act."""
        if self._left == 0:
            raise WrongUse(
                f"the acts in `{self._said}` end before the round does (next: {label}); it is kept, "
                "`diagtree quiz` with the same options goes on"
            )
        self._left -= 1
        return super().ask(label)
