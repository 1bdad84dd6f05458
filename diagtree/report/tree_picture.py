"""The picture of a tree as SVG, one document a sheet: steps from left to right, outcomes on the lines between them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from html import escape

from diagtree.knowledge.words import Catalogue, Tree
from diagtree.report.tree_nodes import ADVICE, HAND_OVER, REFERRAL, REPAIR, STEP, STUB, grown
from diagtree.report.tree_sheets import (
    BOX,
    GAP,
    HEAD,
    HEIGHT,
    LINE,
    MARGIN,
    PADDING,
    WIDTH,
    Placed,
    Sheet,
    drawn,
    sheets,
)

LETTERS = 2.75  # mm, height of the letters (7.8 points; 5.5 points on A4)
FILL: Mapping[str, str] = {
    STEP: "#ffffff", REPAIR: "#dcebdc", ADVICE: "#fdf1cf", REFERRAL: "#ececec", HAND_OVER: "#e3e6f4",
}  # fmt: skip
"""Grounds of the boxes; what a box means is said by its first word too, for paper without colours."""
INK, BOLD = "#111111", 'font-weight="bold"'
TRUNK = 4.0  # mm, from a box to the upright that its branches leave


def pictures(tree: Tree, catalogue: Catalogue) -> tuple[str, ...]:
    """Return the picture of a tree, sheet by sheet. The tree must be sound (`check` finds no error)."""
    found = sheets(grown(tree, catalogue))
    places = drawn(found)
    return tuple(_Drawing(tree, sheet, len(found), places).text() for sheet in found)


def step_numbers(tree: Tree, catalogue: Catalogue) -> Mapping[str, int]:
    """Return the number that each step has in the picture."""
    return {step: number for step, (number, _) in drawn(sheets(grown(tree, catalogue))).items()}


class _Drawing:
    """Draws one sheet."""

    def __init__(self, tree: Tree, sheet: Sheet, count: int, places: Mapping[str, tuple[int, int]]) -> None:
        self.tree, self.sheet, self.count, self.places = tree, sheet, count, places

    def text(self) -> str:
        return "\n".join(self._lines()) + "\n"

    def _lines(self) -> Iterator[str]:
        title = escape(f"{self.tree.title} (revision {self.tree.revision})")
        page = escape(f"{self.tree.id}, sheet {self.sheet.number} of {self.count}")
        top, rule, right = MARGIN + 5, MARGIN + HEAD - 5, WIDTH - MARGIN
        yield (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDTH:g}mm" height="{HEIGHT:g}mm" '
            f'viewBox="0 0 {WIDTH:g} {HEIGHT:g}" font-family="Arial, Helvetica, sans-serif" '
            f'font-size="{LETTERS:g}" fill="{INK}">'
        )
        yield f"<title>{title}, {page}</title>"
        yield "<style>@page {size: A3 landscape; margin: 0}</style>"
        yield f'<rect width="{WIDTH:g}" height="{HEIGHT:g}" fill="#ffffff"/>'
        yield f'<text x="{MARGIN:g}" y="{top:g}" font-size="5" font-weight="bold">{title}</text>'
        yield f'<text x="{right:g}" y="{top:g}" font-size="4" text-anchor="end">{page}</text>'
        yield f'<path d="M{MARGIN:g} {rule:g}H{right:g}" stroke="{INK}" stroke-width="0.3"/>'
        for part in self.sheet.parts:
            yield from self._branches(part)
            for one in part.all():
                yield from self._stub(one) if one.box.kind == STUB else self._box(one)
        yield "</svg>"

    def _branches(self, one: Placed) -> Iterator[str]:
        if not one.children:
            return
        out, trunk = one.left + BOX, one.left + BOX + TRUNK
        ends = [one.middle, *(child.middle for child in one.children)]
        path = f"M{out:.1f} {one.middle:.1f}H{trunk:.1f}M{trunk:.1f} {min(ends):.1f}V{max(ends):.1f}"
        path += "".join(f"M{trunk:.1f} {child.middle:.1f}H{child.left:.1f}" for child in one.children)
        yield f'<path d="{path}" fill="none" stroke="#555555" stroke-width="0.3"/>'
        for child in one.children:
            yield from self._said(child, trunk + 1.5)
            yield from self._branches(child)

    @staticmethod
    def _said(child: Placed, left: float) -> Iterator[str]:
        lines = child.box.said
        high, wide = len(lines) * LINE, min(GAP - TRUNK - 4.5, _width(lines))
        top = child.middle - high / 2
        yield f'<rect x="{left:.1f}" y="{top:.1f}" width="{wide:.1f}" height="{high:.1f}" fill="#ffffff"/>'
        yield from _text(lines, left + 0.8, top, 'font-style="italic"')

    def _stub(self, one: Placed) -> Iterator[str]:
        number, sheet = self.places[one.box.step or ""]
        where = f", sheet {sheet}" if sheet != self.sheet.number else ""
        yield from _text([f"→ {number}{where}"], one.left + 1.0, one.middle - LINE / 2, BOLD)

    def _box(self, one: Placed) -> Iterator[str]:
        box, left = one.box, one.left + 1.5
        look = f'rx="{0 if box.kind == STEP else 2}" fill="{FILL[box.kind]}" stroke="{INK}"'
        look += f' stroke-width="{0.5 if box.kind == STEP else 0.25}"'
        if box.kind in (REFERRAL, HAND_OVER):
            look += ' stroke-dasharray="1.2 0.8"'
        name = f'id="step-{escape(box.step)}" ' if box.step else ""
        corner = f'x="{one.left:.1f}" y="{one.top:.1f}" width="{BOX:g}" height="{one.height:.1f}"'
        yield f"<rect {name}{corner} {look}/>"
        if box.kind != STEP or box.step is None:
            yield from _text(box.lines, left, one.top + (one.height - LINE * len(box.lines)) / 2)
            return
        top = one.top + PADDING
        needs, *question = box.lines
        yield from _text([f"{self.places[box.step][0]}  {box.step}"], left, top, BOLD)
        yield from _text(question, left, top + LINE)
        yield from _text([needs], left, top + LINE * (1 + len(question)), 'fill="#444444"')


def _width(lines: list[str]) -> float:
    return 1.6 + max((len(line) for line in lines), default=0) * LETTERS * 0.56


def _text(lines: list[str], left: float, top: float, style: str = "") -> Iterator[str]:
    look = f" {style}" if style else ""
    for number, line in enumerate(lines):
        base = top + number * LINE + LINE * 0.75
        yield f'<text x="{left:.1f}" y="{base:.2f}"{look}>{escape(line)}</text>'
