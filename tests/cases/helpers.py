"""What these tests share: small cases, real processes, and a user without rights."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from diagtree.cases.case_number import CaseId
from diagtree.cases.store import CaseStore

AT = "2026-03-02T08:15:00+00:00"
TEXTS = {"ac-fails-dc-works.yaml": "diagtree: 1\ntree: ac-fails-dc-works\n", "workshop.yaml": "rate: 96\n"}
META = {"title": "AC charging fails, DC charging works", "vehicle": "petrel-2"}

_CHILDREN = Path(__file__).parent / "children"
_ROOT = Path(__file__).parents[2]
_NOBODY = 65534


def begin(store: CaseStore, at: str = AT) -> CaseId:
    return store.begin("ac-fails-dc-works", TEXTS, META, at, "technician")


def event(number: int, **more: Any) -> dict[str, Any]:
    at = f"2026-03-02T09:{number // 60 % 60:02d}:{number % 60:02d}+00:00"
    return {"type": "answered", "at": at, "n": number} | more


def child(script: str, *arguments: object, **options: Any) -> subprocess.Popen[str]:
    """Start one of the scripts in `children` as a process of its own."""
    # -S: without site-packages a process starts in half the time; the store needs only the standard library.
    command = [sys.executable, "-S", str(_CHILDREN / script), *map(str, arguments)]
    environment = os.environ | {"PYTHONPATH": str(_ROOT)}
    return subprocess.Popen(command, env=environment, text=True, stdout=subprocess.PIPE, **options)


@contextmanager
def without_rights() -> Iterator[None]:
    """Be a user whom file permissions bind, also where the tests run as root."""
    if os.geteuid() != 0:
        yield
        return
    os.setresuid(_NOBODY, _NOBODY, 0)
    try:
        yield
    finally:
        os.setresuid(0, 0, 0)
