"""Units of a test's arithmetic, checked when it is read: what converts is converted, what cannot meet is a finding."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from diagtree.errors import WrongUse
from diagtree.knowledge.fields import Findings
from diagtree.knowledge.limits import Expression, ExpressionError, UnitMismatch, with_units
from diagtree.knowledge.place import Place
from diagtree.knowledge.words import Outcome, Read
from diagtree.knowledge.yaml_text import Mapping as Block
from diagtree.knowledge.yaml_text import Node, Scalar
from diagtree.physics.units import Unit, unit
from diagtree.records import dataclass

UNIT_MISMATCH = "unit-mismatch"
BELOW = "below "

Units = dict[str, Unit | None]


@dataclass(frozen=True, slots=True)
class Sums:
    """The arithmetic of one test, in the order in which it is computed."""

    expected: Expression | None
    judge: Expression | None
    outcomes: tuple[Outcome, ...]


def in_one_unit(
    sums: Sums, reads: tuple[Read, ...], what: str, written: Mapping[str, Node | None], at: Place, findings: Findings
) -> Sums:
    """Return the arithmetic of test `what` with its conversions built in; limits come out in the judged number's unit.

    written : the nodes of `expected`, `judge` and `outcomes`, for the places of findings; `at` where there is none.

    A fact of the vehicle without a stated unit and a written number fit anything. Names that lead nowhere and
    units that do not exist are told elsewhere, and are open here. Units that cannot meet are a finding
    (`unit-mismatch`) at the column inside the expression; that expression stays as it was written.
    """
    units: Units = {read.name: _known(read.unit) for read in reads}

    def settled(expr: Expression | None, where: str, node: Node | None, wanted: Unit | None = None) -> _Settled:
        try:
            return _Settled(None, None) if expr is None else _Settled(*with_units(expr, units, wanted))
        except UnitMismatch as error:
            findings.error(UNIT_MISMATCH, _place(node, error.column, at), f"{where} of {what}: {error}")
        except ExpressionError:
            pass  # a name that is no reading: `unknown-name` tells it
        return _Settled(expr, None)

    expected = settled(sums.expected, "`expected`", written.get("expected"))
    if sums.expected is not None:
        units["expected"] = expected.unit
    judge = settled(sums.judge, "`judge`", written.get("judge"))
    limits = written.get("outcomes")
    outcomes = []
    for outcome in sums.outcomes:
        entry = limits.entries.get(outcome.id) if isinstance(limits, Block) else None
        where = f"the limit of `{outcome.id}`"
        below = settled(outcome.below, where, entry.value if entry else None, judge.unit)
        outcomes.append(replace(outcome, below=below.expr))
    return Sums(expected.expr, judge.expr, tuple(outcomes))


@dataclass(frozen=True, slots=True)
class _Settled:
    """An expression with its conversions, and its unit; None where that is open."""

    expr: Expression | None
    unit: Unit | None


def _known(text: str) -> Unit | None:
    try:
        return unit(text)
    except WrongUse:
        return None


def _place(node: Node | None, column: int, at: Place) -> Place:
    """Return the place of a column of the arithmetic in `node`, behind a quotation mark and `below `."""
    if not isinstance(node, Scalar):
        return at
    shift = (0 if node.plain else 1) + (len(BELOW) if node.text.startswith(BELOW) else 0)
    return Place(node.at.file, node.at.line, node.at.column + shift + column)
