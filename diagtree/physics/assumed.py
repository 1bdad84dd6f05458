"""What the simulated car takes for granted where neither a standard nor the vehicle profile says it.

Every value is an estimate of ours for a sound car. They make simulated readings; no limit in knowledge rests on them.
"""

from __future__ import annotations

from diagtree.physics.data import Known, Mark

READOUT_LOWEST = Known(-40.0, "degC", "one-byte temperature of SAE J1979: A - 40", Mark.MEMORY)
READOUT_HIGHEST = Known(215.0, "degC", "one-byte temperature of SAE J1979: A - 40", Mark.MEMORY)

_OURS = "estimate for the simulated car"
CONTACT = Known(0.3e-3, "ohm", _OURS, Mark.INFERENCE)
INLET_RISE = Known(10.0, "K", f"{_OURS}: sound inlet at full current, settled", Mark.INFERENCE)
CONTACT_THERMAL = Known(4.0, "K/W", f"{_OURS}: contact to air, sensor beside it", Mark.INFERENCE)
CONTACT_TIME = Known(600.0, "s", _OURS, Mark.INFERENCE)
LEAD_LENGTH = Known(1.2, "m", f"{_OURS}: inlet to charger", Mark.INFERENCE)
LEAD_AREA = Known(6.0, "mm2", _OURS, Mark.INFERENCE)
CABLE_LENGTH = Known(5.0, "m", f"{_OURS}: the owner's cable", Mark.INFERENCE)
CABLE_AREA = Known(6.0, "mm2", _OURS, Mark.INFERENCE)
CABLE_SIGNAL_AREA = Known(0.5, "mm2", f"{_OURS}: pilot wire", Mark.INFERENCE)
PLUG = Known(220.0, "ohm", "IEC 61851-1 Annex B: a cable for 32 A", Mark.LOOKED_UP)
SUPPLY_LOOP = Known(0.3, "ohm", f"{_OURS}: line and neutral of a sound house", Mark.INFERENCE)
EARTH = Known(0.8, "ohm", f"{_OURS}: earth loop of a sound house", Mark.INFERENCE)
INSULATION = Known(50e6, "ohm", f"{_OURS}: a sound AC lead", Mark.INFERENCE)
POLE = Known(5e6, "ohm", f"{_OURS}: one pole of a sound high-voltage system to chassis", Mark.INFERENCE)
CAPACITIVE = Known(10e-9, "F", f"{_OURS}: filter of the charger to earth", Mark.INFERENCE)
CHARGER_RISE = Known(30.0, "K", f"{_OURS}: charger at full current, settled, coolant moving", Mark.INFERENCE)
CHARGER_STILL = Known(150.0, "K", f"{_OURS}: the same, coolant still", Mark.INFERENCE)
CHARGER_TIME = Known(900.0, "s", _OURS, Mark.INFERENCE)
FUSE = Known(2e-3, "ohm", _OURS, Mark.INFERENCE)
INTERLOCK_CONNECTOR = Known(0.1, "ohm", _OURS, Mark.INFERENCE)
INTERLOCK_CONNECTORS = Known(5.0, "", f"{_OURS}: connectors in the loop", Mark.INFERENCE)
CELL_SPREAD = Known(0.008, "V", f"{_OURS}: a healthy pack at rest", Mark.INFERENCE)
PARKED_DRAW = Known(0.02, "A", f"{_OURS}: a car asleep", Mark.INFERENCE)
LOW_VOLTAGE_CHARGE = Known(90.0, "percent", f"{_OURS}: a sound 12 V battery", Mark.INFERENCE)
CONVERTER = Known(14.2, "V", f"{_OURS}: between 13 and 15 V, common practice", Mark.INFERENCE)
LOCK_RESISTORS = (1000.0, 11000.0)
"""Feedback of a lock, unlocked and locked: documentation of a vehicle charge controller. [ohm]"""
LOCK_MOTOR = Known(10.0, "ohm", _OURS, Mark.INFERENCE)
RESIDUAL_DEVICE = Known(22e-3, "A", f"{_OURS}: trip current of a sound device of 30 mA", Mark.INFERENCE)
RESIDUAL_TIME = Known(25e-3, "s", f"{_OURS}: its trip time at 30 mA", Mark.INFERENCE)
LINK_CAPACITANCE = Known(1e-3, "F", _OURS, Mark.INFERENCE)
LINK_ACTIVE = Known(500.0, "ohm", f"{_OURS}: quick discharge", Mark.INFERENCE)
LINK_PASSIVE = Known(50e3, "ohm", f"{_OURS}: resistor that stays", Mark.INFERENCE)
LEAST_OFFER = Known(6.0, "A", "IEC 61851-1: a charge point offers 6 A or more", Mark.LOOKED_UP)
RESIDUAL_TRIP = Known(30e-3, "A", "IEC 61008-1: residual-current device of 30 mA", Mark.LOOKED_UP)
SUPPLY = Known(230.0, "V", "IEC 60038", Mark.LOOKED_UP)

ASSUMED = {
    name.replace("_", " ").lower(): found for name, found in sorted(globals().items()) if isinstance(found, Known)
}
"""Every one of them by its name, as the page of observables lists it."""
