"""Text made fit to be shown: nothing that a person typed can steer the terminal."""

from __future__ import annotations

import unicodedata

_ASCII = str.maketrans(
    {
        "Ω": "ohm", "µ": "u", "°": "deg ", "±": "+/-", "≥": ">=", "≤": "<=", "×": "x", "·": "*", "–": "-", "—": "-",
        "→": "->", "≈": "~", "√": "sqrt", "²": "2", "³": "3", "…": "...", "’": "'", "‘": "'", "“": '"', "”": '"',
        "✔": "ok", "\u00a0": " ", "\u202f": " ",
    }
)  # fmt: skip


_KEPT = "\ue000"  # stands for a blank that may not be broken at; a sign for private use


def visible(text: str) -> str:
    """Return `text` with control characters replaced by `?`, tabs by blanks; line ends stay.

    An escape sequence in a note would otherwise recolour or clear the screen; so would the direction marks that turn
    what is read around.
    """
    return "".join(_shown(letter) for letter in text.replace("\r\n", "\n").replace("\t", "    "))


def _shown(letter: str) -> str:
    if letter == "\n" or letter.isprintable() or letter in "\u00a0\u202f\u200d":
        return letter
    category = unicodedata.category(letter)
    return " " if category.startswith("Z") else "?"


def ascii_only(text: str) -> str:
    """Return `text` in plain ASCII: the signs of the trade spelt out, all else unknown as `?`."""
    spelt = unicodedata.normalize("NFKD", text.translate(_ASCII))
    return "".join(letter for letter in spelt if not unicodedata.combining(letter)).encode("ascii", "replace").decode()


def wrapped(text: str, columns: int) -> str:
    """Return `text` broken at blanks to lines of `columns`, further lines further in; what stands in backticks, a
    command that may be copied, stays in one line where it fits.
    """
    import re
    from textwrap import wrap

    def keep(found: re.Match[str]) -> str:
        return found[0].replace(" ", _KEPT) if len(found[0]) < columns - 2 else found[0]

    kept = re.sub(r"`[^`]*`", keep, text)
    return "\n".join(wrap(kept, columns, subsequent_indent="  ", break_on_hyphens=False)).replace(_KEPT, " ")


def fits(text: str, encoding: str) -> str:
    """Return `text` as a stream of `encoding` can carry it; where it cannot carry all of it, in plain ASCII."""
    try:
        text.encode(encoding)
    except (UnicodeEncodeError, LookupError):
        return ascii_only(text)
    return text


def hanging(line: str, columns: int) -> int:
    """Return how far in a line goes on: behind its number or dash, under the last column of a table, else two more."""
    from re import finditer, match

    marked = match(r" *(\d+\.|-) ", line)
    if marked:
        return marked.end()
    cells = [gap.end() for gap in finditer(r"(?<=\S) {2,}", line) if gap.end() <= columns // 2]
    return max(cells, default=len(line) - len(line.lstrip()) + 2)
