"""Commands, one a file: `diagtree price` runs `COMMAND` of `price.py`. A new command is a new file here, nothing else.

What a file of this folder keeps to:

- The first line of its docstring is the summary that `--help` lists. It is read as text, no command is imported for it.
- It ends with `COMMAND = ...`, a `click.Command` (`_` in the file's name is `-` in the command's).
- `@click.pass_obj` hands it a `terminal.setting.Setting`: what was said before the command, and the ways out
  (`say` for results on standard output, `talk` for everything else on standard error, `document` for `--json`).
- `terminal.options` holds the options that several commands share (`--json`, `--rate`, `--referral`, `--comeback`,
  `--vehicle`); use those rather than new spellings.
- Its callback returns the exit status: None or FINE, or FINDINGS. For wrong use or unreadable input it raises a
  `DiagtreeError`: one line on standard error and status 2. It never prints a traceback and never calls `sys.exit`.
- Heavy imports (rich, questionary, networkx, numpy, sqlite3, yaml) stand inside functions.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from importlib import import_module
from pkgutil import iter_modules
from typing import TYPE_CHECKING

from diagtree.errors import WrongUse

if TYPE_CHECKING:
    import click

FINE = 0
FINDINGS = 1  # findings, or a proof that failed
WRONG_USE = 2  # wrong use, or input that cannot be read
BUG = 70  # a mistake in diagtree itself
INTERRUPTED = 130  # Ctrl-C or end of input; the case is saved


@lru_cache(maxsize=1)
def modules() -> Mapping[str, str]:
    """Return every command's name and the name of its module, in the order of the names."""
    names = sorted(info.name for info in iter_modules(__path__))
    return {name.replace("_", "-"): f"{__name__}.{name}" for name in names}


def summary(name: str) -> str:
    """Return the one-line summary of command `name`, without importing it where its source is at hand."""
    path = f"{__path__[0]}/{name.replace('-', '_')}.py"
    try:
        with open(path, encoding="utf-8") as source:
            first = source.readline()
    except OSError:  # a frozen or zipped package
        first = import_module(modules()[name]).__doc__ or ""
    return first.strip().removeprefix('"""').removesuffix('"""').partition("\n")[0].rstrip(".")


def load(name: str) -> click.Command:
    """Return command `name`. Raises WrongUse where its file does not keep to the rules above."""
    import click

    module = import_module(modules()[name])
    command = getattr(module, "COMMAND", None)
    if not isinstance(command, click.Command):
        raise WrongUse(f"{module.__name__} must define COMMAND, a click.Command; it has {command!r}")
    return command
