"""A tree's boxes on sheets of paper: cut where they do not fit, placed tidily from left to right.

All lengths are millimetres. A sheet is A3, landscape; its letters are large enough to be read on A4 as well.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import field

from diagtree.records import dataclass
from diagtree.report.tree_nodes import STEP, STUB, Box

WIDTH, HEIGHT, MARGIN, HEAD = 420.0, 297.0, 10.0, 13.0
BOX, GAP = 66.0, 42.0
"""Width of a box, and the room between two columns, in which the outcomes stand."""
LINE, PADDING, BETWEEN = 3.6, 1.1, 1.7
"""Height of a line of text, room above and below the text in a box, and between two boxes."""
COLUMNS = int((WIDTH - 2 * MARGIN + GAP) // (BOX + GAP))
ROOM = HEIGHT - 2 * MARGIN - HEAD


@dataclass(slots=True)
class Placed:
    """A box on a sheet: its left upper corner and its height."""

    box: Box
    left: float
    top: float
    height: float
    children: list[Placed] = field(default_factory=list)

    @property
    def middle(self) -> float:
        """The height at which lines come and go."""
        return self.top + self.height / 2

    def all(self) -> Iterator[Placed]:
        """Give this box and all that hang on it here."""
        yield self
        for child in self.children:
            yield from child.all()


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet's number, from 1, and the parts of the tree on it, from the top down."""

    number: int
    parts: tuple[Placed, ...]


def sheets(first: Box) -> tuple[Sheet, ...]:
    """Return the whole tree on as many sheets as it takes."""
    parts = [_placed(part) for part in _parts(first)]
    found: list[Sheet] = []
    here: list[Placed] = []
    top = MARGIN + HEAD
    for part, height in parts:
        if here and top + height > HEIGHT - MARGIN:
            found.append(Sheet(len(found) + 1, tuple(here)))
            here, top = [], MARGIN + HEAD
        _move(part, top)
        here.append(part)
        top += height + 3 * BETWEEN
    found.append(Sheet(len(found) + 1, tuple(here)))
    return tuple(found)


def drawn(found: Sequence[Sheet]) -> Mapping[str, tuple[int, int]]:
    """Return each step's number, in the order in which sheets are read, and the sheet on which it is drawn."""
    steps = [
        (one.box.step, sheet.number)
        for sheet in found for part in sheet.parts for one in part.all()
        if one.box.kind == STEP and one.box.step
    ]  # fmt: skip
    return {step: (number, sheet) for number, (step, sheet) in enumerate(steps, 1)}


def _parts(first: Box) -> Iterator[Box]:
    """Give the parts of a tree, each small enough for a sheet; what is cut off begins a part of its own."""
    waiting = [first]
    while waiting:
        part = waiting.pop(0)
        cut = list(_cut_deep(part, 1))
        while _height(part) > ROOM and (branch := _largest(part)) is not None:
            cut.append(_cut(*branch))
        order = {box.step: number for number, box in enumerate(part.all()) if box.kind == STUB}
        waiting[:0] = sorted(cut, key=lambda box: order.get(box.step, 0))
        yield part


def _cut_deep(box: Box, column: int) -> Iterator[Box]:
    for number, child in enumerate(box.children):
        if child.kind == STEP and column + 1 >= COLUMNS:  # its own children need one more column
            yield _cut(box, number)
        else:
            yield from _cut_deep(child, column + 1)


def _cut(parent: Box, number: int) -> Box:
    """Put a stub where a branch was; return the branch."""
    branch = parent.children[number]
    parent.children[number] = Box(STUB, [], branch.said, branch.step)
    branch.said = []
    return branch


def _largest(part: Box) -> tuple[Box, int] | None:
    """Return the branch whose removal leaves enough room at least loss, else the tallest one that fits a sheet."""
    found = [
        (_height(child), box, number)
        for box in part.all() for number, child in enumerate(box.children) if child.kind == STEP and child.children
    ]  # fmt: skip
    fit = [one for one in found if one[0] <= ROOM] or found
    needed = _height(part) - ROOM
    enough = [one for one in fit if one[0] - _own(Box(STUB, ["", ""])) >= needed]
    if not fit:
        return None
    chosen = min(enough, key=lambda one: one[0]) if enough else max(fit, key=lambda one: one[0])
    return chosen[1], chosen[2]


def _own(box: Box) -> float:
    lines = 1 if box.kind == STUB else len(box.lines) + (box.kind == STEP)
    return max(lines, len(box.said)) * LINE + 2 * PADDING


def _height(box: Box) -> float:
    below = sum(_height(child) for child in box.children) + BETWEEN * max(0, len(box.children) - 1)
    return max(_own(box), below)


def _placed(box: Box, left: float = MARGIN, top: float = 0.0) -> tuple[Placed, float]:
    whole, own = _height(box), _own(box)
    below = sum(_height(child) for child in box.children) + BETWEEN * max(0, len(box.children) - 1)
    at = top + (whole - below) / 2
    children = []
    for child in box.children:
        there, height = _placed(child, left + BOX + GAP, at)
        children.append(there)
        at += height + BETWEEN
    middle = (children[0].middle + children[-1].middle) / 2 if children else top + own / 2
    middle = min(max(middle, top + own / 2), top + whole - own / 2)
    return Placed(box, left, middle - own / 2, own, children), whole


def _move(part: Placed, down: float) -> None:
    for one in part.all():
        one.top += down
