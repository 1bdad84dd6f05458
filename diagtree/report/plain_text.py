"""People's text made harmless: one line, no control characters."""

from __future__ import annotations

JOINERS = "\u200c\u200d"  # they shape letters and signs, they steer nothing


def one_line(text: str) -> str:
    """Return `text` on one line: line ends become ` / `, runs of blanks one blank, control characters `?`.

    An escape sequence in a note would otherwise recolour a screen on which the record is shown; direction marks would
    turn what is read around.
    """
    lines = (" ".join(line.split()) for line in text.splitlines())
    joined = " / ".join(line for line in lines if line)
    return "".join(letter if letter.isprintable() or letter in JOINERS else "?" for letter in joined)
