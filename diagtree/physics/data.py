"""Published limits that are numbers without a formula: bands, tables and time-outs, each with source and mark."""

from __future__ import annotations

from enum import Enum

from diagtree.records import dataclass


class Mark(Enum):
    """How a value was got."""

    LOOKED_UP = "looked up"  # read in a public source, which is named
    COMPUTED = "computed"  # from values whose own mark is given
    MEMORY = "from memory"  # confirmed by no source that was read: check before it gates a safety decision
    INFERENCE = "inference"  # our assumption; no publication claims it


@dataclass(frozen=True, slots=True)
class Band:
    """A closed range of values, lowest to highest, in the unit of its table."""

    lowest: float
    highest: float

    def holds(self, value: float) -> bool:
        """Return whether a value lies in the band, its ends included."""
        return self.lowest <= value <= self.highest


@dataclass(frozen=True, slots=True)
class Known:
    """One published value: number, unit, source and mark."""

    value: float
    unit: str
    source: str
    mark: Mark = Mark.LOOKED_UP


@dataclass(frozen=True, slots=True)
class TimeOut:
    """How long one stage of a DC session may last.

    stage : id of the stage; protocol : din, iso-2, iso-20 or any; side : vehicle, station or both.
    """

    stage: str
    protocol: str
    side: str
    seconds: float
    source: str
    mark: Mark = Mark.LOOKED_UP


PILOT_BANDS = {
    "A": Band(11.40, 12.60),
    "B": Band(8.36, 9.56),
    "C": Band(5.48, 6.49),
    "D": Band(2.62, 3.25),
    "F": Band(-12.60, -11.40),
}
"""Healthy level at the station, by state: SAE J1772 by the open firmware header J1772.h. [V]"""

PILOT_WINDOWS = {
    "A": Band(11.0, 13.0),
    "B": Band(8.0, 10.0),
    "C": Band(5.0, 7.0),
    "D": Band(2.0, 4.0),
    "E": Band(-1.0, 1.0),
    "F": Band(-13.0, -11.0),
}
"""Levels that station and vehicle still recognise: manuals of a charge controller and of a station module. [V]"""

PILOT_FREQUENCY = Band(980.0, 1020.0)
"""Frequency of the pilot, IEC 61851-1:2017 test list by the guide of the EVerest station stack. [Hz]"""
PILOT_FREQUENCY_EXPECTED = Band(995.0, 1005.0)
"""The narrower tolerance that an open vehicle-side firmware quotes IEC 61851 for. [Hz]"""

COPPER = Known(0.0175, "ohm mm2/m", "resistivity of copper at about 20 degC", Mark.MEMORY)

SUPPLY_TOLERANCE = Known(10.0, "percent", "IEC 60038: 230 V +/-10 %, by eco-grid.eu")
DEEPEST_SUPPLY = Known(15.0, "percent", "EN 50160: lowest 10-minute mean, by a forum post at electrical-contractor.net")

CONTACT_RISE = Known(50.0, "K", "IEC 62196-1, temperature-rise clause", Mark.MEMORY)
CONTACT_STOP = Known(90.0, "degC", "manuals of two vehicle charge controllers")

CLASS_B_DC = Known(60.0, "V", "ISO 6469-4 by a reprint; US rule of 2017")
CLASS_B_AC = Known(30.0, "V", "ISO 6469-4 by a reprint; US rule of 2017")
BONDING_RESISTANCE = Known(0.1, "ohm", "UN Regulation 100, 5.1.2.2, by an Indian draft standard of 2019")
BONDING_CURRENT = Known(0.2, "A", "UN Regulation 100, 5.1.2.2, by an Indian draft standard of 2019")
CONTACT_ENERGY = Known(0.2, "J", "ISO 6469-4, Y capacitors, by a reprint")
CABLE_CHECK_INSULATION = Known(100e3, "ohm", "IEC 61851-23:2023, by the EVerest station stack")
PRE_CHARGE_MATCH = Known(20.0, "V", "documentation of pyPLC and of a vehicle charge controller")
UNLOCK_VOLTAGE = Known(60.0, "V", "documentation of a vehicle charge controller")
UNLOCK_CURRENT = Known(1.0, "A", "documentation of a vehicle charge controller")
DC_DETECTOR = Known(6e-3, "A", "IEC 62955, by iocharger.com and a residual-current monitor's manual")
TOUCH_VOLTAGE = Known(50.0, "V", "BS 7671 Table 41.5, by a thread at engx.theiet.org")

KNOWN = {
    "resistivity of copper": COPPER,
    "supply voltage, tolerance either way": SUPPLY_TOLERANCE,
    "supply voltage, deepest 10-minute mean below nominal": DEEPEST_SUPPLY,
    "rise of contacts at rated current, at most": CONTACT_RISE,
    "temperature of a DC contact at which charging stops": CONTACT_STOP,
    "hazardous voltage begins above, DC": CLASS_B_DC,
    "hazardous voltage begins above, AC rms": CLASS_B_AC,
    "hazardous voltage class ends, DC": Known(1500.0, "V", "ISO 6469-3, UN Regulation 100, 2", Mark.MEMORY),
    "hazardous voltage class ends, AC rms": Known(1000.0, "V", "ISO 6469-3, UN Regulation 100, 2", Mark.MEMORY),
    "bonding of a conductive part to chassis, below": BONDING_RESISTANCE,
    "bonding, test current at least": BONDING_CURRENT,
    "energy of a single contact, below": CONTACT_ENERGY,
    "insulation in a DC station's cable check, at least": CABLE_CHECK_INSULATION,
    "insulation of a 230/400 V circuit at 500 V DC, at least": Known(1e6, "ohm", "IEC 60364-6 Table 6A", Mark.MEMORY),
    "pre-charge, voltages match within": PRE_CHARGE_MATCH,
    "unlocking, inlet voltage at most": UNLOCK_VOLTAGE,
    "unlocking, current at most": UNLOCK_CURRENT,
    "smooth residual current at which a station must stop": DC_DETECTOR,
    "touch current of a car that charges on AC, at most": Known(3.5e-3, "A", "IEC 61851-1, ISO 17409", Mark.MEMORY),
    "touch voltage for the earth loop": TOUCH_VOLTAGE,
    "12 V supply while the DC-DC converter runs, lowest": Known(13.0, "V", "common practice", Mark.MEMORY),
    "12 V supply while the DC-DC converter runs, highest": Known(15.0, "V", "common practice", Mark.MEMORY),
    "supply of a controller, lowest": Known(9.0, "V", "ISO 16750-2", Mark.MEMORY),
    "supply of a controller, highest": Known(16.0, "V", "ISO 16750-2", Mark.MEMORY),
    "voltage drop of one connection under load, at most": Known(0.1, "V", "common practice", Mark.MEMORY),
    "voltage drop of one wire under load, at most": Known(0.2, "V", "common practice", Mark.MEMORY),
    "voltage drop of a whole feed under load, at most": Known(0.5, "V", "common practice", Mark.MEMORY),
}
"""Every single limit by what it limits, as the page of quantities lists it."""

OVERVOLTAGE_TRIPS = ((500.0, 550.0), (750.0, 825.0), (850.0, 935.0), (1000.0, 1100.0))
"""Highest negotiated voltage and the station's trip level, IEC 61851-23:2023 Table 103, by the EVerest stack. [V]"""

REST_VOLTAGES = (
    (11.6, 10.0),
    (11.7, 20.0),
    (11.8, 30.0),
    (12.0, 40.0),
    (12.1, 50.0),
    (12.2, 60.0),
    (12.3, 70.0),
    (12.5, 80.0),
    (12.6, 90.0),
    (12.7, 100.0),
)
"""12 V AGM battery after hours of rest: voltage [V], charge [percent]. One source, not a maker."""

RCD_TRIP_TIMES = {
    ("general", 1.0): Band(0.0, 0.300),
    ("general", 5.0): Band(0.0, 0.040),
    ("selective", 1.0): Band(0.130, 0.500),
    ("selective", 5.0): Band(0.050, 0.150),
}
"""Trip time by type and multiple of the rated current, manual of an installation tester. [s]"""

LOCK_UNLOCKED_VOLTAGE, LOCK_LOCKED_VOLTAGE = Band(0.48, 0.68), Band(2.51, 3.21)
"""Feedback of a connector lock as a voltage, one vehicle charge controller's manual (2021), p. 173. [V]"""

_STACK = "time-outs of the open ISO 15118 stack EcoG-io/iso15118"
_MATCHING = "ISO 15118-3 constants of the EVerest station stack, slac.hpp"
_V2G = "ISO 15118-2 requirement numbers in the EVerest station stack, v2g.hpp"

TIME_OUTS = (
    TimeOut("matching-start", "any", "station", 50.0, f"{_MATCHING}: 20 to 50 s"),
    TimeOut("matching-response", "any", "both", 0.2, _MATCHING),
    TimeOut("matching-step", "any", "both", 0.4, _MATCHING),
    TimeOut("matching", "any", "both", 10.0, _MATCHING),
    TimeOut("matching-join", "any", "both", 12.0, _MATCHING),
    TimeOut("matching-retry", "any", "station", 4.0, _MATCHING),
    TimeOut("set-up", "any", "vehicle", 20.0, f"{_STACK}; {_V2G}"),
    TimeOut("set-up", "any", "station", 18.0, _V2G),
    TimeOut("message", "any", "vehicle", 2.0, _STACK),
    TimeOut("authorisation", "any", "vehicle", 60.0, _STACK),
    TimeOut("authorisation", "any", "station", 55.0, f"{_STACK}; EVerest station stack, d20/timeout.hpp"),
    TimeOut("sequence", "any", "station", 60.0, f"{_STACK}; {_V2G}"),
    TimeOut("state-change", "any", "vehicle", 0.25, _V2G),
    TimeOut("cable-check", "any", "vehicle", 40.0, _STACK),
    TimeOut("pre-charge", "din", "vehicle", 7.0, _STACK),
    TimeOut("pre-charge", "iso-2", "vehicle", 7.0, _STACK),
    TimeOut("pre-charge", "iso-20", "vehicle", 10.0, _STACK),
    TimeOut("power-delivery", "din", "vehicle", 2.0, _STACK),
    TimeOut("power-delivery", "iso-2", "vehicle", 5.0, _STACK),
    TimeOut("current-demand", "din", "vehicle", 0.25, _STACK),
    TimeOut("current-demand", "iso-2", "vehicle", 0.25, _STACK),
    TimeOut("current-demand", "iso-20", "vehicle", 0.5, _STACK),
    TimeOut("ready", "din", "vehicle", 150.0, _STACK),
    TimeOut("ac-contactor", "iso-2", "station", 3.0, _V2G),
)
"""Stages of a digital charging session. From open stacks that implement the standards, not from their paid texts."""
