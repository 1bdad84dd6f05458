"""The pytest plugin, run in a pytest of its own; and the hook file for pre-commit."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
import yaml

from diagtree.check.example import BASE

INI = "[pytest]\ntestpaths = tests\ndiagtree_trees = knowledge\naddopts = -p no:cacheprovider\n"


def made(folder: Path, **more: str) -> Path:
    """Write a project with one test and a knowledge folder; return the project."""
    for name, text in {**BASE, **more}.items():
        path = folder / "knowledge" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
    (folder / "tests").mkdir()
    (folder / "tests" / "test_own.py").write_text("def test_own():\n    assert True\n", "utf-8")
    (folder / "pytest.ini").write_text(INI, "utf-8")
    return folder


def run(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    """Run pytest as a user does, with the plugin named in case it is not installed as an entry point."""
    ours = ["-p", "diagtree.terminal.pytest_plugin"]
    installed = ["-p", "no:diagtree"]  # else it would be registered twice
    return subprocess.run(
        [sys.executable, "-m", "pytest", *installed, *ours, *arguments],
        cwd=folder, capture_output=True, text=True, check=False,
    )  # fmt: skip


@pytest.fixture(autouse=True)
def _own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))


def test_each_file_is_a_test_beside_the_projects_own(tmp_path: Path) -> None:
    done = run(made(tmp_path / "project"), "-v")
    assert done.returncode == 0, done.stdout + done.stderr
    for name in ("tree.yaml", "catalogue/catalogue.yaml", "workshop.yaml"):
        assert f"knowledge/{name}::check PASSED" in done.stdout
    assert "4 passed" in done.stdout


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    project = made(tmp_path / "project")
    (project / "pytest.ini").write_text(INI.replace("knowledge", "knowlege"), "utf-8")
    done = run(project)
    assert done.returncode == pytest.ExitCode.USAGE_ERROR
    assert "knowlege" in done.stderr
    assert "Traceback" not in done.stderr


def test_a_mistake_fails_its_file_and_shows_itself(tmp_path: Path) -> None:
    second = BASE["tree.yaml"].replace("tree: tree", "tree: second").replace("sensor-open}", "sensr-open}")
    more = {"second.yaml": second}
    done = run(made(tmp_path / "project", **more), "-v")
    assert done.returncode == 1
    assert "knowledge/second.yaml::check FAILED" in done.stdout
    assert "knowledge/tree.yaml::check PASSED" in done.stdout
    assert "did you mean `sensor-open`?" in done.stdout
    assert "^^^" in done.stdout
    assert "Traceback" not in done.stdout


def test_one_file_can_be_run_alone(tmp_path: Path) -> None:
    done = run(made(tmp_path / "project"), "knowledge/tree.yaml", "-v")
    assert done.returncode == 0
    assert "1 passed" in done.stdout


def test_without_the_option_nothing_is_collected(tmp_path: Path) -> None:
    project = made(tmp_path / "project")
    (project / "pytest.ini").write_text("[pytest]\naddopts = -p no:cacheprovider\n", "utf-8")
    done = run(project, "-v")
    assert "1 passed" in done.stdout
    assert ".yaml" not in done.stdout


def test_a_file_that_is_no_text_fails_without_a_traceback(tmp_path: Path) -> None:
    project = made(tmp_path / "project")
    (project / "knowledge" / "tree.yaml").write_bytes(b"tree: \xff\n")
    done = run(project)
    assert done.returncode == 1
    assert "save the file as UTF-8" in done.stdout
    assert "Traceback" not in done.stdout


def test_the_hook_runs_a_command_that_there_is() -> None:
    (hook,) = yaml.safe_load((Path(__file__).parents[2] / ".pre-commit-hooks.yaml").read_text("utf-8"))
    assert {"id", "name", "entry", "language"} <= hook.keys()
    done = subprocess.run(
        [sys.executable, "-m", *hook["entry"].split(), *hook["args"]],
        cwd=Path(__file__).parents[2], capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode in (0, 1), done.stderr
    assert "files" in done.stderr
