"""A pytest plugin: knowledge files are collected as tests, one a file. It does nothing unless the ini file says so.

    [pytest]
    diagtree_trees = trees

`diagtree_trees` names knowledge folders, from the ini file's folder. A file's test fails where `diagtree check` finds
an error or a warning in it, and shows the findings.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from diagtree.terminal.check_targets import Looked

INI = "diagtree_trees"
_LOOKED: pytest.StashKey[dict[Path, Looked]] = pytest.StashKey()


class Mistakes(Exception):
    """A knowledge file has findings; the message shows them."""


def pytest_addoption(parser: pytest.Parser) -> None:
    """Make the ini option known."""
    parser.addini(INI, "knowledge folders of diagtree: each file in them becomes a test", type="paths", default=[])


def pytest_configure(config: pytest.Config) -> None:
    """Let a run without paths of its own come to the folders, also where `testpaths` names others."""
    here = config.invocation_params.dir
    source = getattr(config, "args_source", None)
    for folder in config.getini(INI):
        if not folder.is_dir():
            raise pytest.UsageError(f"{INI}: there is no folder {folder}; name it from the ini file's folder")
        if source is config.ArgsSource.TESTPATHS or (
            source is config.ArgsSource.INVOCATION_DIR and not folder.is_relative_to(here)
        ):
            config.args.append(str(folder))


def pytest_collect_file(file_path: Path, parent: pytest.Collector) -> pytest.Collector | None:
    """Collect a file of the folders named in the ini file."""
    for folder in parent.config.getini(INI):
        if file_path.suffix == ".yaml" and file_path.is_relative_to(folder):
            name = file_path.relative_to(folder).as_posix()
            if not file_path.name.startswith(".") and _is_knowledge(name):
                return KnowledgeFile.from_parent(parent, path=file_path, folder=folder)
    return None


def _is_knowledge(name: str) -> bool:
    return "/" not in name or name.startswith("catalogue/") or (name.startswith("vehicles/") and name.count("/") == 1)


class KnowledgeFile(pytest.File):
    """One knowledge file."""

    def __init__(self, *, folder: Path, **rest: object) -> None:
        super().__init__(**rest)  # type: ignore[arg-type]  # pytest's own
        self.folder = folder

    def collect(self) -> Iterator[pytest.Item]:
        """Yield its one test."""
        yield Check.from_parent(self, name="check", folder=self.folder)


class Check(pytest.Item):
    """The test that a knowledge file has neither errors nor warnings."""

    def __init__(self, *, folder: Path, **rest: object) -> None:
        super().__init__(**rest)  # type: ignore[arg-type]  # pytest's own
        self.folder = folder

    def runtest(self) -> None:
        """Raise Mistakes where something is wrong with the file."""
        from diagtree.knowledge.place import Level
        from diagtree.report.findings import Checked
        from diagtree.report.findings.text import render

        looked = self._looked()
        found = tuple(one for one in looked.findings if Path(one.place.file).absolute() == self.path)
        if any(one.level is not Level.REMARK for one in found):
            raise Mistakes(render(Checked(found, looked.texts)))

    def _looked(self) -> Looked:
        """Return what was found in the folder; it is looked at once a run."""
        from diagtree.terminal.check_targets import Target, Wish, look

        known = self.config.stash.setdefault(_LOOKED, {})
        if self.folder not in known:
            known[self.folder] = look(Target(self.folder), Wish(), cached=True)
        return known[self.folder]

    def repr_failure(self, excinfo: pytest.ExceptionInfo[BaseException], style: object = None) -> str:  # noqa: ARG002
        """Show the findings, or why the folder could not be read, without a traceback."""
        from diagtree.errors import DiagtreeError

        if isinstance(excinfo.value, Mistakes | DiagtreeError):
            return str(excinfo.value)
        return str(super().repr_failure(excinfo))

    def reportinfo(self) -> tuple[Path, int, str]:
        """Return how the test is named in reports."""
        return self.path, 0, f"check {self.path.name}"
