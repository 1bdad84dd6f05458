"""The range in which a reading can lie at all in a workshop for charging electric cars, by its unit.

Wide on purpose: a limit beyond it is a slip of a unit or of a power of ten, not a matter of opinion. Resistances have
no upper end: an open circuit reads above any meter's range. Units that are not listed have no bounds but `UNBOUNDED`.
"""

from __future__ import annotations

from functools import lru_cache
from math import inf

from diagtree.errors import WrongUse
from diagtree.physics.units import Unit, unit
from diagtree.records import dataclass

UNBOUNDED = 1e12


@dataclass(frozen=True, slots=True)
class Physical:
    """Lowest and highest value of a reading in its own unit, and usual values, likeliest first."""

    low: float
    high: float
    usual: tuple[float, ...]
    temperature: bool = False

    @property
    def finite(self) -> tuple[float, float]:
        """The range without infinity, for trying values out."""
        return max(self.low, -UNBOUNDED), min(self.high, UNBOUNDED)


# unit: lowest, highest, usual values. Sources beside each.
_RANGES: dict[str, tuple[float, float, tuple[float, ...]]] = {
    "ohm": (0.0, inf, (1.0, 1000.0, 0.01, 1e6)),  # 0 by definition; an open circuit has no upper end
    "V": (-1500.0, 1500.0, (230.0, 400.0, 12.0, 1.0)),  # low voltage ends at 1500 V DC (Directive 2014/35/EU)
    "A": (-3000.0, 3000.0, (16.0, 1.0, 200.0)),  # the largest charging systems announced: 3000 A (common practice)
    "W": (-4.5e6, 4.5e6, (7000.0, 1000.0, 100.0)),  # 1500 V * 3000 A
    "Wh": (-1e6, 1e6, (10000.0, 1000.0)),  # a truck's battery has under 1 MWh (common practice)
    "J": (-3.6e9, 3.6e9, (1.0, 1000.0)),  # the same
    "Hz": (0.0, 1e9, (1000.0, 50.0)),
    "F": (0.0, 1e4, (1e-6, 1e-3)),
    "Ah": (-1e4, 1e4, (100.0, 10.0)),
    "s": (0.0, 1e9, (1.0, 60.0, 3600.0)),
    "percent": (-1000.0, 1000.0, (50.0, 5.0, 100.0)),
    "degC": (-60.0, 500.0, (20.0, 40.0, 0.0)),  # coldest winters to the end of workshop thermometers (common practice)
    "K": (-560.0, 560.0, (20.0, 5.0, 0.0)),  # a difference of two such temperatures
}


def physical_range(unit_text: str) -> Physical:
    """Return where a reading in `unit_text` can lie. An unknown unit has no bounds: the reader tells that mistake."""
    return _range(unit_text)


@lru_cache(maxsize=256)
def _range(unit_text: str) -> Physical:
    try:
        wanted = unit(unit_text)
    except WrongUse:
        return Physical(-UNBOUNDED, UNBOUNDED, (1.0, 10.0, 100.0))
    for name, (low, high, usual) in _RANGES.items():
        base = unit(name)
        if base.dimension == wanted.dimension and base.offset == wanted.offset:
            scaled = tuple(_scaled(value, base, wanted) for value in usual)
            temperature = name in ("degC", "K")
            return Physical(_scaled(low, base, wanted), _scaled(high, base, wanted), scaled, temperature)
    return Physical(-UNBOUNDED, UNBOUNDED, (1.0, 10.0, 100.0))


def _scaled(value: float, base: Unit, wanted: Unit) -> float:
    return value if base.factor == wanted.factor else value * float(base.factor / wanted.factor)
