"""Bars and courses of numbers: blocks where the stream carries them, ASCII elsewhere, words in plain mode.

Nothing is said by colour; every picture has its number beside it.
"""

from __future__ import annotations

from collections.abc import Sequence

from diagtree.records import dataclass

_BLOCKS = "▁▂▃▄▅▆▇█"
_ASCII = "_.-=+*%#"
_NAME, _BAR = 11, 20  # columns
_MOST_POINTS = 24


@dataclass(frozen=True, slots=True)
class Pictures:
    """How pictures are drawn. unicode : the stream carries block elements. drawn : False where words must do."""

    unicode: bool = True
    drawn: bool = True

    @classmethod
    def of(cls, encoding: str | None, *, drawn: bool) -> Pictures:
        """Return the pictures that a stream of this encoding can carry."""
        try:
            _BLOCKS.encode(encoding or "ascii")
        except (UnicodeEncodeError, LookupError):
            return cls(False, drawn)
        return cls(True, drawn)

    def bar(self, share: float) -> str:
        """Return a bar for a share from 0 to 1; "" where words must do."""
        if not self.drawn:
            return ""
        full = round(min(max(share, 0.0), 1.0) * _BAR)
        return ("█" if self.unicode else "#") * full + ("░" if self.unicode else ".") * (_BAR - full)

    def bar_line(self, name: str, share: float | None, words: str) -> str:
        """Return a line with a name, a bar, the per cent and words."""
        if share is None:
            return f"{name:{_NAME}} {words}"
        drawn = self.bar(share)
        return f"{name:{_NAME}} {drawn + ' ' if drawn else ''}{100 * share:3.0f} %  {words}".rstrip()

    def course(self, values: Sequence[float | None], low: float = 0.0, high: float = 1.0) -> str:
        """Return values from `low` to `high` as a row of columns, the latest last; in plain mode as numbers.

        A value that is not there (None) leaves a blank.
        """
        shown = _thinned(values)
        if not self.drawn:
            return ", ".join("-" if value is None else _number(value) for value in shown)
        letters = _BLOCKS if self.unicode else _ASCII
        return "".join(" " if value is None else letters[_height(value, low, high)] for value in shown)


def _number(value: float) -> str:
    if abs(value) >= 100:
        return f"{value:.0f}"
    return "0" if abs(value) < 0.0005 else f"{value:.3g}"


def _height(value: float, low: float, high: float) -> int:
    share = (value - low) / (high - low) if high > low else 0.0
    return min(int(min(max(share, 0.0), 1.0) * len(_BLOCKS)), len(_BLOCKS) - 1)


def _thinned(values: Sequence[float | None]) -> list[float | None]:
    """Return at most `_MOST_POINTS` of the values, the last among them, evenly spaced."""
    count = len(values)
    if count <= _MOST_POINTS:
        return list(values)
    return [values[round(place * (count - 1) / (_MOST_POINTS - 1))] for place in range(_MOST_POINTS)]
