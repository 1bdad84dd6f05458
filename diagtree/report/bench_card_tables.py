"""Tables of the bench card that follow from standards and a few facts of the car: pilot, proximity, voltage, power."""

from __future__ import annotations

from collections.abc import Mapping
from math import inf

from diagtree.errors import DiagtreeError
from diagtree.physics.data import (
    BONDING_CURRENT,
    BONDING_RESISTANCE,
    CLASS_B_AC,
    CLASS_B_DC,
    KNOWN,
    PILOT_BANDS,
    PILOT_WINDOWS,
    Band,
)
from diagtree.physics.proximity_circuit import CODING, LATCHED, OPEN_ABOVE, PRESSED, SHORTED_BELOW, coded_current
from diagtree.physics.quantity import Facts, quantity
from diagtree.physics.ranges import amount, plain
from diagtree.report.bench_card_values import ASK, CardTable

CANNOT = "cannot be computed: see the profile"
NOMINAL_PLUGS = (1500.0, 680.0, 220.0, 100.0)
"""Nominal resistors of type 2 plugs, IEC 61851-1 Table B.3. [ohm]"""
MEANINGS = {"A": "nothing plugged in", "B": "plugged in", "C": "charging", "D": "with ventilation", "E": "station or "
            "cable fault", "F": "station not available"}  # fmt: skip
CIRCUIT = ("pull_down", "pull_up", "supply")
CABLES = ((5.0, 2.5), (5.0, 6.0), (25.0, 6.0), (25.0, 10.0))
"""Lengths [m] and cross-sections [mm2] for which a drop is shown: a charging cable's and a house feed's."""


def fact(facts: Facts, path: str) -> float | None:
    """Return a number of the profile by its dotted name; None where it is missing, `unknown` or no number."""
    here: Facts | float | str | None = facts
    for key in path.split("."):
        here = here.get(key) if isinstance(here, Mapping) else None
    return float(here) if isinstance(here, (int, float)) and not isinstance(here, bool) else None


def known(name: str, *inputs: float | str | None, digits: int = 3) -> str:
    """Return a quantity of the car with its unit, or that the maker must be asked, where an input is None."""
    if None in inputs:
        return ASK
    one = quantity(name)
    try:
        found = one.compute(*inputs)
    except DiagtreeError:
        return CANNOT
    return amount(float(f"{found:.{digits}g}"), one.unit)


def pilot_table(facts: Facts) -> CardTable:
    """Return the states of the control pilot, and the duty cycle that offers the car's own current."""
    rows = []
    for state, window in PILOT_WINDOWS.items():
        healthy = _band(PILOT_BANDS[state]) if state in PILOT_BANDS else "-"
        name = f"{state} {MEANINGS[state]}"
        rows.append((name, known("pilot-voltage", state), healthy, _band(window)))
    current = fact(facts, "charger.current")
    duty = known("pilot-duty", current)
    note = f"Running pilot: 1 kHz, low level -12.6 to -11.4 V; duty for the car's {_amps(current)}: {duty}"
    if current is not None and duty not in (ASK, CANNOT):
        mean = known("pilot-average", quantity("pilot-duty").compute(current), "C")
        note += f"; a multimeter on DC volts then averages {mean} in state C, +/-0.3 V"
    source = "SAE J1772 by open firmware J1772.h; IEC 61851-1 Table A.3 by a controller's manual"
    title, heads = "Control pilot against earth, station end", ("state", "expected", "healthy", "still recognised")
    return CardTable("pilot", title, heads, tuple(rows), source, (f"{note}.",))


def proximity_table(facts: Facts) -> CardTable:
    """Return what plugs measure, what they allow, and what the car's pin reads."""
    circuit = {name: fact(facts, f"inlet.proximity.{name}") for name in CIRCUIT}
    one_phase = fact(facts, "charger.phases") == 1.0
    kind = _word(facts, "inlet", "type")
    rows = [("nothing plugged in", f"above {amount(OPEN_ABOVE, 'ohm')}", "-", _pin(inf, circuit))]
    if kind.startswith("type-1"):
        rows += [
            ("type 1, latched", f"{amount(LATCHED, 'ohm')} +/-20 %", "-", _pin(LATCHED, circuit)),
            ("type 1, button pressed", f"{amount(PRESSED, 'ohm')} +/-20 %", "-", _pin(PRESSED, circuit)),
        ]
    else:
        for ohms in NOMINAL_PLUGS:
            low, high = next((low, high) for low, high, _ in CODING if low <= ohms <= high)
            allows = amount(coded_current(ohms, 1 if one_phase else 3), "A")
            also = " or a DC plug" if ohms == max(NOMINAL_PLUGS) and "combined" in kind else ""
            name = f"plug of {amount(ohms, 'ohm')}"
            rows.append((name, f"{plain(low)} to {amount(high, 'ohm')}", f"{allows}{also}", _pin(ohms, circuit)))
    missing = [name for name, value in circuit.items() if value is None]
    notes = [f"inlet.proximity.{name}: {ASK}." for name in missing]
    if not kind.startswith("type-1"):
        notes.append(f"Between two bands the lower current holds; below {amount(SHORTED_BELOW, 'ohm')} no cable.")
    source = "IEC 61851-1 Table B.3 by an open station stack's guide; pin: the profile's divider"
    heads = ("plug, unplugged from the car", "accepted", "allows", "car's pin")
    return CardTable("proximity", "Proximity against earth", heads, tuple(rows), source, tuple(notes))


def safety_table(facts: Facts) -> CardTable:
    """Return the limits of voltage, waiting and insulation."""
    own, wait, bus = (fact(facts, path) for path in ("safety.dead_below", "safety.wait", "battery.nominal"))
    dead = min(own, CLASS_B_DC.value) if own is not None else CLASS_B_DC.value
    least = "insulation-minimum"
    rows = (
        ("absence of voltage, DC", f"below {amount(dead, 'V')}, whole uncertainty included"),
        ("absence of voltage, AC", f"below {amount(min(dead, CLASS_B_AC.value), 'V')}, likewise"),
        ("wait after disconnecting", ASK if wait is None else f"{plain(wait)} min, then measure"),
        (f"insulation, DC bus by itself{_at(bus)}", f"at least {known(least, bus)}" if bus is not None else ASK),
        ("insulation, DC and AC connected", f"at least {known(least, bus, 'connected')}" if bus is not None else ASK),
        ("insulation, AC inlet, unplugged", f"at least {known(least, 0.0, 'ac-inlet')}"),
        ("insulation, DC station's cable check", f"at least {known(least, 0.0, 'cable-check')}"),
        ("bonding of a conductive part", f"below {amount(BONDING_RESISTANCE.value, 'ohm')} at "
         f"{amount(BONDING_CURRENT.value, 'A')} or more"),
    )  # fmt: skip
    source = "UN Regulation 100, 5.1.2 and 5.1.3; ISO 6469-3, -4; IEC 61851-23:2023; the profile"
    return CardTable("high-voltage", "High voltage", ("what", "limit"), rows, source)


def power_table(facts: Facts) -> CardTable:
    """Return the power that the car takes at lowest, nominal and highest supply, and what cables cost."""
    phases, current = fact(facts, "charger.phases"), fact(facts, "charger.current")
    rows = []
    for name, volts in (
        ("lowest", _supply("supply-lowest")),
        ("nominal", 230.0),
        ("highest", _supply("supply-highest")),
    ):
        whole = known("ac-power", volts, current, phases, digits=4)
        rows.append((f"{name}, {amount(volts, 'V')}", _kilo(known("ac-power", volts, current, digits=4)), _kilo(whole)))
    notes = []
    if phases == 3.0:
        notes.append(f"One phase lost: {_kilo(known('phase-loss-power', 230.0, current, 1.0, 3.0))} at 230 V.")
    notes.append(f"Charger derates above: {_limit(fact(facts, 'charger.derates_above'), 'degC')}.")
    if current is not None:
        drops = (f"{plain(m)} m {plain(mm2)} mm2 {known('cable-drop', m, mm2, current)}" for m, mm2 in CABLES)
        notes.append(f"Drop in copper, there and back, at {amount(current, 'A')}: {', '.join(drops)}.")
    source = "IEC 60038; balanced load; resistivity of copper from memory"
    heads = ("supply", f"one phase, {_amps(current)}", f"whole car, {_phases(phases)}")
    return CardTable("power", "AC power", heads, tuple(rows), source, tuple(notes))


def low_voltage_table() -> CardTable:
    """Return the 12 V battery at rest, and the supply while the converter runs."""
    levels = (100.0, 80.0, 50.0, 20.0)
    inverse = quantity("rest-charge").inverses["voltage"]
    low, high = (KNOWN[f"12 V supply while the DC-DC converter runs, {end}"].value for end in ("lowest", "highest"))
    heads = (*(f"{plain(level)} %" for level in levels), "converter runs")
    row = (*(amount(float(f"{inverse(level):.3g}"), "V") for level in levels), f"{plain(low)} to {amount(high, 'V')}")
    source = "one AGM table, not a maker's; converter from memory"
    return CardTable("low-voltage", "12 V battery after hours at rest", heads, (row,), source)


def _band(band: Band) -> str:
    return f"{band.lowest:.4g} to {band.highest:.4g} V"


def _pin(plug: float, circuit: Mapping[str, float | None]) -> str:
    found = known("proximity-voltage", plug, *(circuit[name] for name in CIRCUIT))
    return "unknown" if found == ASK else found


def _supply(name: str) -> float:
    return quantity(name).compute()


def _kilo(power: str) -> str:
    number, _, unit = power.partition(" ")
    return f"{float(number) / 1000:.3g} kW" if unit == "W" else power


def _amps(current: float | None) -> str:
    return f"current ({ASK})" if current is None else amount(current, "A")


def _phases(phases: float | None) -> str:
    return f"phases: {ASK}" if phases is None else f"{plain(phases)} phase{'' if phases == 1.0 else 's'}"


def _limit(value: float | None, unit: str) -> str:
    return ASK if value is None else amount(value, unit)


def _at(bus: float | None) -> str:
    return "" if bus is None else f", {amount(bus, 'V')}"


def _word(facts: Facts, *path: str) -> str:
    here: Facts | float | str | None = facts
    for key in path:
        here = here.get(key) if isinstance(here, Mapping) else None
    return here if isinstance(here, str) else ""
