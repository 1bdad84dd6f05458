"""Who has a case open: a word of warning before the work, not after it.

Nothing depends on it; `CaseChangedElsewhere` is what keeps two windows from mixing. The operating system drops the
claim when the process ends, however it ends.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path

from diagtree.cases.case_number import CaseId


class Claims:
    """The cases that this process has open, as locks on single bytes of a file beside the store."""

    def __init__(self, store: Path) -> None:
        self._path = store.with_name(store.name + "-open")
        self._file: int | None = None

    def take(self, case_id: CaseId) -> bool:
        """Claim the case; False if another process has it open. Where locks do not work: True."""
        try:
            if self._file is None:
                self._file = os.open(self._path, os.O_RDWR | os.O_CREAT, 0o600)
        except OSError:
            return True
        return _lock(self._file, _byte(case_id))

    def close(self) -> None:
        """Give every case free."""
        if self._file is not None:
            os.close(self._file)
            self._file = None


def _byte(case_id: CaseId) -> int:
    year, number = case_id.split("-")
    return int(year) * 100_000 + int(number)  # may lie beyond the end of the file: nothing is written there


if sys.platform == "win32":
    import msvcrt

    def _lock(file: int, byte: int) -> bool:
        os.lseek(file, byte, os.SEEK_SET)
        try:
            msvcrt.locking(file, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True
else:
    import errno
    import fcntl

    def _lock(file: int, byte: int) -> bool:
        try:
            fcntl.lockf(file, fcntl.LOCK_EX | fcntl.LOCK_NB, 1, byte)
        except OSError as error:
            return error.errno not in (errno.EACCES, errno.EAGAIN)
        return True
