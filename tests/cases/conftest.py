"""Folders and stores for these tests."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from diagtree.cases.store import CaseStore, open_store


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "cases.db"


@pytest.fixture
def store(path: Path) -> Iterator[CaseStore]:
    with open_store(path) as opened:
        yield opened


@pytest.fixture
def public_folder() -> Iterator[Path]:
    """A folder that an unprivileged user can reach (pytest's own are for their owner only)."""
    folder = Path(tempfile.mkdtemp())
    os.chmod(folder, 0o755)
    yield folder
    shutil.rmtree(folder)
