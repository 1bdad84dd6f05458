"""What all tests share: the same text is parsed once a worker, but where the parsing itself is measured."""

from __future__ import annotations

from functools import lru_cache

import pytest

from diagtree.knowledge import library, tree_files, yaml_text

_READERS = (library, tree_files)
_parsed_once = lru_cache(maxsize=256)(yaml_text.compose)  # nodes are never changed; the shipped folder has 62 files


def pytest_runtest_setup(item: pytest.Item) -> None:
    """Let readers remember what a text of a file says: hundreds of tests read the shipped folder, one by one."""
    measured = "bench" in item.path.parts
    for reader in _READERS:
        reader.compose = yaml_text.compose if measured else _parsed_once  # type: ignore[attr-defined]
