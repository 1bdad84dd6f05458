"""Keys pressed before a question stood on the screen are dropped: a bounced Enter must not answer what nobody read."""

from __future__ import annotations

import sys
from typing import TextIO


def drop_typeahead(stream: TextIO) -> None:
    """Forget what was typed so far at the terminal behind `stream`. Lines of a pipe or file stay."""
    if not stream.isatty():
        return
    if sys.platform == "win32":
        import msvcrt

        while msvcrt.kbhit():
            msvcrt.getwch()
    else:
        import termios

        termios.tcflush(stream.fileno(), termios.TCIFLUSH)
