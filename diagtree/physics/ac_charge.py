"""AC charging of a car with faults: whether the mains comes on, and what current, power and heat follow.

At the workshop the charge point, cable and supply are sound; `home` means the owner's, with their faults.
"""

from __future__ import annotations

import math

from diagtree.physics import heating
from diagtree.physics.assumed import (
    CAPACITIVE,
    CHARGER_RISE,
    CHARGER_STILL,
    CHARGER_TIME,
    CONTACT,
    CONTACT_THERMAL,
    CONTACT_TIME,
    INLET_RISE,
    INSULATION,
    LEAST_OFFER,
    RESIDUAL_TRIP,
    SUPPLY,
    SUPPLY_LOOP,
)
from diagtree.physics.data import CONTACT_STOP, DC_DETECTOR
from diagtree.physics.inlet_sensor import readout, wiring
from diagtree.physics.part import fault
from diagtree.physics.pilot_circuit import parallel
from diagtree.physics.proximity_circuit import coded_current
from diagtree.physics.quantities.capacitive_leakage import capacitive_leakage
from diagtree.physics.quantities.insulation_minimum import insulation_minimum
from diagtree.physics.setup import Setup
from diagtree.physics.signal_lines import asks_for_charge, plug_recognised, plug_resistance, type_1

PHASES = ("l1", "l2", "l3")
SENSOR = "inlet.ac_sensor"
HALF = "half current"
_MINUTES = (5, 10, 20, 30, 60)
CHARGING = {f"charging {minutes} minutes": (float(minutes), 1.0) for minutes in _MINUTES} | {
    f"charging {minutes} minutes, {HALF}": (float(minutes), 0.5) for minutes in _MINUTES
}
"""Details of names that say how long the car has charged, and at what share of its full current. [min, -]"""
SIGNALS = ("pilot", "proximity", "inlet.connector", "interlock", "lock")
"""Parts whose faults stop every kind of charge."""
CHARGER = ("charger", "charger.connector", "charger.fuse")
CAR = (*SIGNALS, *CHARGER, "inlet.ac_sensor", "inlet.ac_lead", "DC+", "DC-", "battery")
"""Parts of the car whose faults stop or limit an AC charge."""
OUTSIDE = ("plug", "cable", "supply", "charge_point", "earth")
"""Parts of the owner's whose faults do."""
SILENT_FROM = 1000.0
"""A signal wire with so much in series no longer wakes the charger; our assumption. [ohm]"""


def phases(setup: Setup) -> tuple[str, ...]:
    """Return the phases the on-board charger uses. Raises OutOfRange where the profile does not say how many."""
    return PHASES[: int(setup.number("charger.phases", low=1.0, high=3.0))]


def full_current(setup: Setup) -> float:
    """Return the current per phase the car takes when it may. [A] Raises OutOfRange where the profile lacks it."""
    return setup.number("charger.current", low=1.0, high=80.0, unit="A")


def supply_level(setup: Setup, phase: str, *, home: bool) -> float:
    """Return the voltage of a phase to neutral without load. [V]"""
    if home and setup.has("supply", f"{phase}-lost"):
        return 0.0
    return setup.value("supply", "level", SUPPLY.value) if home else SUPPLY.value


def supply_voltage(setup: Setup, phase: str, *, home: bool, idle: bool = False) -> float:
    """Return the voltage of a phase to neutral at the charge point; under the charge unless `idle`. [V]"""
    if idle or not home:
        return supply_level(setup, phase, home=home)
    return _loaded(setup, phase, currents(setup, home=home)[phase], home=home)


def _loaded(setup: Setup, phase: str, current: float, *, home: bool) -> float:
    level = supply_level(setup, phase, home=home)
    return max(0.0, level - current * loop(setup)) if home else level


def loop(setup: Setup) -> float:
    """Return the resistance of line and neutral of the owner's supply. [ohm]"""
    drop = setup.value("supply", "weak", 0.0)
    return drop / full_current(setup) if drop else setup.value("supply", "loop", SUPPLY_LOOP.value)


def mains_on(setup: Setup, *, home: bool) -> bool:
    """Return whether the charge point gives its mains to the car."""
    if home:
        return _car_agrees(setup) and _point_agrees(setup) and not trips(setup)
    return _car_agrees(setup.without("plug")) and not trips(setup)


def _car_agrees(setup: Setup) -> bool:
    signals = wiring(setup, "charger.connector") < SILENT_FROM and not setup.has("charger.connector", "leakage")
    return (
        signals
        and asks_for_charge(setup)
        and plug_recognised(setup)
        and not setup.has("interlock", "open")
        and setup.value("interlock", "series", 0.0) < SILENT_FROM
        and not _lock_fails(setup)
        and sensor_allows(setup, setup.conditions.ambient)
        and not setup.has("battery", "contactor-open")
        and poles_insulated(setup)
        and lead_insulation(setup) >= insulation_minimum(SUPPLY.value, "ac")
        and setup.conditions.charge < 100.0
    )


def _lock_fails(setup: Setup) -> bool:
    found = setup.faults.get("lock")
    return found is not None and found.mode.word != "stuck-locked"


def _point_agrees(setup: Setup) -> bool:
    blocked = setup.has("charge_point", "dead", "no-pilot", "steady-pilot", "contactor-open", "held-back")
    parted = setup.has("cable", "earth-parted", "pilot-parted", "leakage") or setup.has("earth", "open", "resistance")
    return not blocked and not parted and offer(setup, home=True) >= LEAST_OFFER.value


def sensor_allows(setup: Setup, temperature: float) -> bool:
    """Return whether the car believes its AC inlet sensor and finds it cool enough, at `temperature` [degC].

    An implausible sensor and one above 90 degC both stop the charge. A sound sensor need not be described.
    """
    if SENSOR not in setup.faults and "inlet.connector" not in setup.faults:
        return temperature < CONTACT_STOP.value
    shown = readout(setup, SENSOR, temperature)
    ends = [readout(_only(setup, mode), SENSOR, temperature) for mode in ("open", "shorted")]
    return min(ends) < shown < min(CONTACT_STOP.value, max(ends))


def _only(setup: Setup, mode: str) -> Setup:
    return Setup(setup.facts, {SENSOR: fault(SENSOR, mode)}, setup.conditions)


def lead_insulation(setup: Setup) -> float:
    """Return the insulation of the AC wires behind the inlet to earth. [ohm]"""
    return setup.value("inlet.ac_lead", "leakage", INSULATION.value)


def pole_insulation(setup: Setup, pole: str, sound: float) -> float:
    """Return the insulation of a pole of the high-voltage system to chassis. [ohm]"""
    return setup.value(pole, "leakage", sound)


def poles_insulated(setup: Setup) -> bool:
    """Return whether the car finds its insulation good enough to charge (UN Regulation 100)."""
    weakest = min(pole_insulation(setup, pole, math.inf) for pole in ("DC+", "DC-"))
    if math.isinf(weakest):
        return True
    nominal = setup.number("battery.nominal", low=1.0, high=1500.0, unit="V")
    return weakest >= insulation_minimum(nominal, "dc")


def residual(setup: Setup) -> float:
    """Return the alternating residual current while the car is plugged in. [A]"""
    resistive = SUPPLY.value / parallel(lead_insulation(setup), setup.value("charger", "leakage", math.inf))
    return math.hypot(resistive, capacitive_leakage(CAPACITIVE.value, SUPPLY.value, 50.0))


def trips(setup: Setup) -> bool:
    """Return whether a residual-current device ends the charge: 30 mA alternating or 6 mA smooth."""
    return residual(setup) >= RESIDUAL_TRIP.value or setup.value("charger", "dc-leakage", 0.0) >= DC_DETECTOR.value


def offer(setup: Setup, *, home: bool) -> float:
    """Return the current per phase that pilot and cable allow. [A]"""
    offered = setup.conditions.offered
    if not home:
        return offered
    coded = offered if type_1(setup) else coded_current(plug_resistance(setup))
    return min(offered, setup.value("charge_point", "offers", offered), coded)


def voltage_at_charger(setup: Setup, phase: str, *, home: bool) -> float:
    """Return the voltage of a phase that the on-board charger reads. [V]"""
    if not mains_on(setup, home=home) or _broken(setup, phase, home=home):
        return 0.0
    return supply_voltage(setup, phase, home=home)


def _broken(setup: Setup, phase: str, *, home: bool) -> bool:
    lead = setup.has("inlet.ac_lead", f"{phase}-open", "n-open")
    cable = home and (setup.has("cable", "neutral-parted") or (phase == "l1" and setup.has("cable", "parted")))
    return lead or cable


def currents(setup: Setup, *, home: bool, share: float = 1.0) -> dict[str, float]:
    """Return the current of each phase while it charges; `share` of the full current set. [A]"""
    if not mains_on(setup, home=home) or setup.has("charger", "dead") or setup.has("charger.fuse", "open"):
        return dict.fromkeys(PHASES, 0.0)
    used = phases(setup)
    full = min(full_current(setup) * share, setup.value("charger", "limited", math.inf), offer(setup, home=home))
    most = setup.value("battery", "limited", math.inf) * 1000.0 / (SUPPLY.value * len(used))
    return {phase: min(full, most) if phase in used and _fed(setup, phase, home=home) else 0.0 for phase in PHASES}


def _fed(setup: Setup, phase: str, *, home: bool) -> bool:
    out = phase == "l1" and setup.has("charger", "module-out")
    return not out and not _broken(setup, phase, home=home) and supply_level(setup, phase, home=home) > 0.0


def power(setup: Setup, minutes: float, *, home: bool, share: float = 1.0) -> float:
    """Return the power at the plug after `minutes` of charging. [W]"""
    flowing = currents(setup, home=home, share=share)
    greatest = max(flowing.values())
    if greatest == 0.0 or not sensor_allows(setup, contact_temperature(setup, "ac", minutes, greatest)):
        return 0.0
    held = _held(setup, charger_heat(setup, minutes, greatest))
    return held * math.fsum(amperes * _loaded(setup, phase, amperes, home=home) for phase, amperes in flowing.items())


def contact_resistance(setup: Setup, side: str) -> float:
    """Return the resistance of the worst contact in the inlet, `side` ac or dc. [ohm]"""
    part = f"inlet.{side}_contact"
    heat = setup.value(part, "worn", 0.0)
    if heat:
        return CONTACT.value + heat / _most(setup, side) ** 2
    return setup.value(part, "resistance", CONTACT.value)


def contact_temperature(setup: Setup, side: str, minutes: float, current: float) -> float:
    """Return the temperature of the worst contact after `minutes` at `current` [A], `side` ac or dc. [degC]"""
    if current <= 0.0:
        return setup.conditions.ambient
    most = _most(setup, side)
    added = heating.loss(current, contact_resistance(setup, side) - CONTACT.value) * CONTACT_THERMAL.value
    rise = INLET_RISE.value * (current / most) ** 2 + added
    return heating.temperature(setup.conditions.ambient, rise, 60.0 * minutes, CONTACT_TIME.value)


def _most(setup: Setup, side: str) -> float:
    return full_current(setup) if side == "ac" else setup.number("dc.current", low=1.0, high=3000.0, unit="A")


def charger_heat(setup: Setup, minutes: float, current: float) -> float:
    """Return where the charger's temperature would be after `minutes` at `current` [A], without derating. [degC]"""
    rise = CHARGER_STILL.value if setup.has("charger.cooling", "stopped") else CHARGER_RISE.value
    rise = min(rise * 100.0 / setup.value("charger.cooling", "weak", 100.0), CHARGER_STILL.value)
    share = current / full_current(setup)
    return heating.temperature(setup.conditions.ambient, rise * share, 60.0 * minutes, CHARGER_TIME.value)


def derates_above(setup: Setup) -> float:
    """Return the temperature above which the charger takes less. [degC] Raises OutOfRange where it is not known."""
    return setup.number("charger.derates_above", low=0.0, high=200.0, unit="degC")


def _held(setup: Setup, heat: float) -> float:
    """Return the share of the power at which the charger stays at the temperature where it derates. [-]"""
    if "charger.cooling" not in setup.faults:
        return 1.0
    limit, ambient = derates_above(setup), setup.conditions.ambient
    return 1.0 if heat <= limit else max(0.0, (limit - ambient) / (heat - ambient))


def charger_temperature(setup: Setup, minutes: float, *, share: float = 1.0) -> float:
    """Return the charger's highest temperature within `minutes` of charging. [degC] It holds where it derates."""
    heat = charger_heat(setup, minutes, max(currents(setup, home=False, share=share).values()))
    return min(heat, derates_above(setup)) if "charger.cooling" in setup.faults else heat
