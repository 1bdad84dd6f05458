"""Where physics and the figures of the first tree's causes differ, and why."""

from __future__ import annotations

from collections.abc import Mapping

from tests.car.differences import MARLIN, PETREL, SURE, Explained, both

SUBSTITUTE = "some cars charge on at less current with a substitute value; the simulated one refuses"
MODULES = "the fault simulated takes no current; the figures hold modules that fail alone, and chargers without control"
SEVERED = "the break that is simulated is one for good; the figures hold breaks that close when nothing pulls"
NOT_YET = "after five minutes the simulated car is still cool; the figures hold cars that come warm or derate early"
HIGH_ONLY = "reading too high stops the simulated car at 90 degC only; the figures hold leaps and shorts"

EXPLAINED: Mapping[tuple[str, str], Explained] = {
    ("charger-fault", "ac-volts-readout"): both(MODULES, SURE["fits"]),
    ("charger-fault", "ac-power-readout"): both(MODULES, SURE["none"]),
    ("charger-fault", "charger-battery-volts"): both("some are shorted and have blown their fuse", SURE["equal"]),
    ("charger-fault", "charger-fuse"): both("some are shorted and have blown their fuse", SURE["intact"]),
    ("charger-fault", "charger-temperature-readout"): both(
        "some fail by heat inside; the simulated one takes no current and stays cold", SURE["cool"]
    ),
    ("charger-fuse-open", "charger-battery-volts"): both(
        "some chargers repeat the battery's own figure; the simulated one measures", SURE["apart"]
    ),
    ("charger-connector-wet", "ac-power-readout"): both(
        "corrosion below a kilo-ohm is simulated as harmless; under load some of it is not",
        {"none": 66.3, "full": 33.7},
    ),
    ("charger-connector-wet", "charger-battery-volts"): both(
        "a silent charger has no figure at all; the simulated car shows the voltage that is there", SURE["equal"]
    ),
    ("charger-cooling-fault", "ac-power-readout"): both(NOT_YET, SURE["full"]),
    ("charger-cooling-fault", "charger-temperature-readout"): both(
        "some pumps run again once the car was off; the simulated one stands still", SURE["hot"]
    ),
    ("inlet-contact-hot", "ac-volts-readout"): both(
        "30 milliohm take one volt; what reads low is a contact that burns away under load", SURE["fits"]
    ),
    ("inlet-contact-hot", "ac-power-readout"): both(NOT_YET, SURE["full"]),
    ("inlet-contact-hot", "inlet-conductor-resistance"): Explained(
        "at 16 A the same heat takes four times the resistance: on this car it is never hidden",
        {MARLIN: SURE["one-higher"]},
    ),
    ("inlet-sensor-open", "ac-power-readout"): both(SUBSTITUTE, {"none": 97.0, "full": 3.0}),
    ("inlet-sensor-open", "inlet-temperature-readout"): Explained(
        "some cars show no value (typed OL, the last outcome); simulated is the end of the scale",
        {PETREL: {"low": 93.0, "agrees": 7.0}},
    ),
    ("inlet-sensor-open", "inlet-sensor-resistance"): both(
        "the break that comes and goes is all or nothing; some only have too much resistance",
        {"normal": 4.0, "open": 96.0},
    ),
    ("inlet-sensor-wrong", "ac-volts-readout"): both(HIGH_ONLY, SURE["fits"]),
    ("inlet-sensor-wrong", "ac-power-readout"): both(HIGH_ONLY, SURE["full"]),
    ("inlet-sensor-wrong", "inlet-temperature-readout"): both(
        "drift to the other side is not simulated, and the band of 8 degrees hides less drift in the figures",
        {"agrees": 32.7, "high": 67.3},
    ),
    ("inlet-sensor-wrong", "inlet-temperature-rise"): both(
        "the drift that is simulated is the same at every temperature; some grows with it", SURE["normal"]
    ),
    ("inlet-sensor-wrong", "inlet-sensor-resistance"): Explained(
        "shorts and drift to the other side are not simulated; platinum hides 8 degrees in its 3 per cent",
        {PETREL: {"low": 90.0, "normal": 10.0}, MARLIN: {"normal": 34.0, "high": 66.0}},
    ),
    ("inlet-connector-corroded", "ac-volts-readout"): Explained(
        "300 ohm in the pilot's loop stop every simulated charge; some stations go on",
        {PETREL: {"absent": 77.0, "fits": 23.0}, MARLIN: {"absent": 79.5, "fits": 20.5}},
    ),
    ("inlet-connector-corroded", "ac-power-readout"): Explained(
        "300 ohm in the pilot's loop stop every simulated charge; some cars take less current instead",
        {PETREL: {"none": 77.0, "full": 23.0}, MARLIN: {"none": 79.5, "full": 20.5}},
    ),
    ("inlet-connector-corroded", "inlet-temperature-readout"): Explained(
        "resistance in series is simulated, water between the pins is not: an NTC reads low, platinum high",
        {PETREL: {"low": 51.5, "agrees": 48.5}, MARLIN: {"agrees": 0.6, "high": 99.4}},
    ),
    ("inlet-connector-corroded", "inlet-temperature-rise"): both(
        "the connector's resistance moves while it warms; the simulated one stays", SURE["normal"]
    ),
    ("inlet-connector-corroded", "inlet-sensor-resistance"): both(
        "corrosion on the sensor's own half of the connector; the simulated one is on the car's", SURE["normal"]
    ),
    ("inlet-conductor-open", "ac-volts-readout"): both(SEVERED, SURE["absent"]),
    ("inlet-conductor-open", "ac-power-readout"): Explained(
        "some three-phase cars refuse to charge on two phases; and breaks close when nothing pulls",
        {PETREL: SURE["none"], MARLIN: {"part": 100.0}},
    ),
    ("inlet-conductor-open", "inlet-conductor-resistance"): both(SEVERED, SURE["open"]),
    ("inlet-insulation-low", "ac-volts-readout"): both(
        "some chargers read the mains before they test the insulation", {"absent": 73.8, "fits": 26.2}
    ),
    ("inlet-insulation-low", "inlet-insulation"): both("some dry out before they are measured", SURE["low"]),
    ("supply-earth-fault", "point-volts"): both(
        "a broken neutral comes with it in some houses and shifts the voltage; the simulated earth carries none",
        SURE["fits"],
    ),
    ("charge-cable-fault", "inlet-temperature-rise"): both(
        "a burnt plug heats the inlet too; the simulated cable is parted", SURE["normal"]
    ),
    ("charge-cable-fault", "cable-coding"): both(
        "the simulated cable is parted; others have a bad coding", SURE["coded"]
    ),
    ("charge-cable-fault", "cable-continuity"): both(
        "the simulated cable is parted; in others the coding, the insulation or only a bend is bad", SURE["parted"]
    ),
}
