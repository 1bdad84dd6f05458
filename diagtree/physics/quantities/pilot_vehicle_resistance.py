"""Resistance that the car puts behind its diode, from the positive level of the pilot."""

from __future__ import annotations

from diagtree.physics import pilot_circuit as pilot
from diagtree.physics import pilot_inputs as inputs
from diagtree.physics.pilot_readings import vehicle_resistance
from diagtree.physics.quantity import Input, Quantity, Worked
from diagtree.physics.ranges import checked

INPUTS = (inputs.POSITIVE_LEVEL, *inputs.STATION_PARTS)


@checked(*INPUTS)
def pilot_vehicle_resistance(
    voltage: float,
    generator: float = pilot.GENERATOR,
    source_resistance: float = pilot.SOURCE_RESISTANCE,
    diode_drop: float = pilot.DIODE_DROP,
) -> float:
    """Return the resistance behind the car's diode; infinity where nothing is connected. [ohm]

    voltage : positive level at the station, from the diode's drop to the generator's level. [V]
    generator, source_resistance, diode_drop : the station and the diode. [V, ohm, V]

    Series resistance of contacts is part of the result. About 2740 ohm is state B, 882 ohm C, 246 ohm D.
    Raises OutOfRange outside the range.
    Source: the circuit of IEC 61851-1 Annex A, solved for the vehicle's resistance.
    """
    parts = (generator, source_resistance, diode_drop)
    return vehicle_resistance(voltage, pilot.PilotCircuit(0.0, pilot.NONE, "normal", *parts))


@checked(Input("value", "ohm", "resistance behind the diode", 0.0, pilot.NONE), *INPUTS[1:])
def level_of_resistance(
    value: float,
    generator: float = pilot.GENERATOR,
    source_resistance: float = pilot.SOURCE_RESISTANCE,
    diode_drop: float = pilot.DIODE_DROP,
) -> float:
    """Return the positive level that a resistance `value` [ohm] behind the diode gives at the station. [V]"""
    parts = (generator, source_resistance, diode_drop)
    return pilot.PilotCircuit(0.0, pilot.NONE, "normal", *parts).node_voltage(generator, value)


QUANTITY = Quantity(
    id="pilot-vehicle-resistance",
    meaning="resistance behind the car's diode, from the pilot's positive level",
    unit="ohm",
    inputs=INPUTS,
    compute=pilot_vehicle_resistance,
    inverses={"voltage": level_of_resistance},
    formula="Rv = Rs k / (1 - k), k = (V - Vd) / (Vs - Vd)",
    source="the circuit of IEC 61851-1 Annex A; diode drop 0.7 V from memory",
    worked=(
        Worked({"voltage": 8.979}, 2740.0, 5.0, "computed"),
        Worked({"voltage": 5.9948}, 881.7, 0.5, "computed; 882 ohm printed in the ESP32-EVSE calibration page"),
        Worked({"voltage": 2.9293}, 245.8, 0.5, "computed; 246 ohm printed there"),
        Worked({"voltage": 9.986}, 4610.0, 15.0, "computed; largest state-B resistance a station must accept"),
    ),
    hazard="live",
)
