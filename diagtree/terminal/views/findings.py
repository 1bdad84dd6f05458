"""Findings on a screen: the text format with colours, which say nothing that the words do not say."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator

from diagtree.report.findings.text import Line, Span
from diagtree.terminal.setting import Setting
from diagtree.terminal.text import fits, visible

# Select Graphic Rendition (ECMA-48, 8.3.117): 1 bold, 2 faint, 31 red, 32 green, 33 yellow, 36 cyan.
_CODES = {
    "place": "1", "error": "1;31", "warning": "1;33", "remark": "1;36", "rule": "2", "margin": "2", "mark": "1;32"
}  # fmt: skip


def coloured(setting: Setting) -> bool:
    """Whether colours are wanted: a screen, and NO_COLOR not set (no-color.org)."""
    kind = os.environ.get("TERM", "dumb" if os.name == "posix" else "").lower()
    return setting.columns is not None and kind not in ("dumb", "unknown") and not os.environ.get("NO_COLOR")


def painted(lines: Iterable[Line], encoding: str) -> Iterator[str]:
    """Yield the lines with their colours; what people wrote is made harmless first."""
    for line in lines:
        yield "".join(_span(span, encoding) for span in line)


def _span(span: Span, encoding: str) -> str:
    text = fits(visible(span.text), encoding)
    code = _CODES.get(span.look)
    return f"\x1b[{code}m{text}\x1b[0m" if code and text else text
