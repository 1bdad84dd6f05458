"""Names that tie knowledge to physics: `of:` of a reading and `fault:` of a cause.

They serve simulated cars only. Knowledge with a wrong one can still be walked, so it is a warning.
"""

from __future__ import annotations

from diagtree.errors import WrongUse
from diagtree.knowledge.fields import Findings
from diagtree.knowledge.place import Place
from diagtree.physics.units import unit


def check_observable(of: str, unit_text: str, reading: str, at: Place, findings: Findings) -> None:
    """Tell where `of` is no observable, or none that is measured in the reading's unit; `at` is its place."""
    # Only where knowledge uses them: physics' lists cost start-up.
    from diagtree.physics.observable import observable

    try:
        measured = unit(observable(of).unit)
    except WrongUse as error:
        findings.warning("unknown-observable", at, f"reading `{reading}`: {error}")
        return
    try:
        read_in = unit(unit_text)
    except WrongUse:
        return  # `bad-unit` tells it
    kelvin_for_celsius = measured.dimension == read_in.dimension and measured.offset != read_in.offset
    if measured.dimension.without_percent() != read_in.dimension.without_percent() or kelvin_for_celsius:
        findings.warning(
            "observable-in-other-unit",
            at,
            f"reading `{reading}` is in {read_in}, but `{of}` is measured in {measured}: name what is read, "
            "or read it in its own unit",
        )


def check_fault(part: str, written: str | float, key_at: Place, at: Place, findings: Findings) -> None:
    """Tell where `part` is no part (at its key), or cannot have the fault `written` (at that)."""
    from diagtree.physics.part import UnknownFault, UnknownPart, fault

    try:
        fault(part, written)
    except UnknownPart as error:
        findings.warning("unknown-part", key_at, f"`fault`: {error}")
    except UnknownFault as error:
        findings.warning("unknown-fault", at, f"`fault`: {error}")
