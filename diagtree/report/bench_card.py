"""The bench card of a car: every limit that can be computed for it, from -20 to 40 degC, as plain values.

What the profile says is `unknown` is shown as such, with whom to ask; nothing is guessed.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import inf

from diagtree.errors import DiagtreeError
from diagtree.knowledge.limits import LimitError, MissingName, UnknownFact
from diagtree.knowledge.limits_compute import UNKNOWN
from diagtree.knowledge.test_bands import JUDGED, Bounds, judged_band, reading_band, tests_of_sensor, units_of
from diagtree.knowledge.words import Catalogue, Test, Vehicle
from diagtree.physics.facts import SENSOR_KINDS
from diagtree.physics.quantities.sensor_resistance import sensor_resistance
from diagtree.physics.quantity import Facts
from diagtree.physics.ranges import amount, plain
from diagtree.physics.sensor_words import sensor_words
from diagtree.physics.standing import Limit, limit_words
from diagtree.physics.standings.sensor_tolerance import platinum_band
from diagtree.physics.temperature_sensor import ptc_band
from diagtree.report.bench_card_tables import (
    CANNOT,
    low_voltage_table,
    pilot_table,
    power_table,
    proximity_table,
    safety_table,
)
from diagtree.report.bench_card_values import ASK, Card, CardTable
from diagtree.report.quantities_page import CAUTIONS

TEMPERATURES = tuple(float(degrees) for degrees in range(-20, 50, 10))
"""Where sensors are told. [degC]"""

CAUTION = (
    "A limit on this card replaces neither the maker's procedure nor a waiting time nor a measurement; "
    "it never says that a car is safe."
)

Path = tuple[str, ...]

_SIDE_BY_SIDE = 2  # sensors in one table: more would not fit 80 columns


def bench_card(vehicle: Vehicle, catalogue: Catalogue) -> Card:
    """Return the card of a car. catalogue : as merged for this car, for the limits that its tests set."""
    facts = vehicle.facts
    tables = (
        *_sensor_tables(facts, catalogue),
        pilot_table(facts),
        proximity_table(facts),
        safety_table(facts),
        power_table(facts),
        *_tests_table(facts, catalogue),
        low_voltage_table(),
    )
    cautions = (CAUTIONS["high-voltage"], CAUTIONS["live"], CAUTION)
    return Card(vehicle.id, vehicle.name, cautions, tables)


def sensor_limits(catalogue: Catalogue, place: str, temperature: float) -> tuple[Limit, ...]:
    """Return the bands of resistance in which a sensor of the car must be at a temperature [degC], test by test. [ohm]

    place : in the profile, such as `inlet.ac_sensor`. Empty where no test of the catalogue measures it.
    """
    facts = catalogue.vehicle.facts if catalogue.vehicle else {}
    found = []
    for test, reading, degrees in tests_of_sensor(catalogue.tests.values(), ("vehicle", *place.split("."))):
        try:
            band = reading_band(test, reading, {degrees: temperature, "vehicle": facts})
        except LimitError:
            continue
        if band is not None:
            found.append(Limit(*band, f"test {test.id}, {test.healthy}", test.source, moves=True))
    return tuple(found)


def sensors(facts: Facts, path: Path = ()) -> Iterator[tuple[Path, Facts | None]]:
    """Yield every temperature sensor of a profile with its place; None where the maker's values are unknown."""
    for name, part in facts.items():
        here = (*path, name)
        if isinstance(part, Mapping):
            if part.get("kind") in SENSOR_KINDS:
                yield here, part
            else:
                yield from sensors(part, here)
        elif part == UNKNOWN and "sensor" in name:
            yield here, None


def _sensor_tables(facts: Facts, catalogue: Catalogue) -> Iterator[CardTable]:
    found = tuple(sensors(facts))
    told = [(path, sensor) for path, sensor in found if sensor is not None]
    notes = [f"{'.'.join(path)}: {ASK}, or compare on the car." for path, sensor in found if sensor is None]
    if not found:
        notes = [f"Temperature sensors: {ASK}."]
    for place in range(0, max(len(told), 1), _SIDE_BY_SIDE):
        title = "Temperature sensors" + (f" ({1 + place // _SIDE_BY_SIDE})" if place else "")
        yield _sensor_table(title, told[place : place + _SIDE_BY_SIDE], catalogue, [] if place else notes)


def _sensor_table(title: str, told: list[tuple[Path, Facts]], catalogue: Catalogue, notes: list[str]) -> CardTable:
    heads = ["degC"]
    for path, _ in told:
        heads += [f"{path[-1].replace('_', ' ')}, ohm", "normal, ohm"]
    rows, sources = [], dict[str, None]()
    for degrees in TEMPERATURES if told else ():
        row = [plain(degrees)]
        for path, sensor in told:
            limit = _sensor_band(catalogue, path, sensor, degrees)
            row += [_ohms(degrees, sensor), "-" if limit is None else limit_words(limit, "", 4)]
            if limit is not None:
                sources[f"{limit.name.split(',')[0]}: {limit.source}"] = None
        rows.append(tuple(row))
    notes = [*notes, *(f"{'.'.join(path)}: {sensor_words(sensor)}." for path, sensor in told)]
    return CardTable("sensors", title, tuple(heads), tuple(rows), "; ".join((*sources, "the profile")), tuple(notes))


def _sensor_band(catalogue: Catalogue, path: Path, sensor: Facts, degrees: float) -> Limit | None:
    """Return the band of the catalogue's test, else that of the standard, else none."""
    of_tests = sensor_limits(catalogue, ".".join(path), degrees)
    if of_tests:
        return of_tests[0]
    ohms = sensor.get("r0")
    try:
        if sensor.get("kind") == "platinum" and isinstance(ohms, float):
            return platinum_band(degrees, ohms)
        if sensor.get("kind") == "ptc":
            return Limit(*ptc_band(sensor), "PTC switch, cool", "the profile")
    except DiagtreeError:
        return None
    return None


def _ohms(degrees: float, sensor: Facts) -> str:
    try:
        return plain(float(f"{sensor_resistance(degrees, sensor):.4g}"))
    except DiagtreeError:
        return CANNOT


def _tests_table(facts: Facts, catalogue: Catalogue) -> Iterator[CardTable]:
    rows = [row for test in catalogue.tests.values() if (row := _test_row(test, facts)) is not None]
    if rows:
        source = "each test its own"
        yield CardTable("tests", "Tests of the catalogue", ("test", "normal where"), tuple(rows), source)


def _test_row(test: Test, facts: Facts) -> tuple[str, str] | None:
    """Return what a test with numbers must read on this car; None for the tests that another table tells."""
    if test.judge is None or not test.reads or (test.expected is not None and len(test.reads) > 1):
        return None
    values = {"vehicle": facts}
    unit = test.reads[0].unit
    try:
        band = reading_band(test, test.reads[0].name, values) if len(test.reads) == 1 else None
        what = test.reads[0].name.replace("_", " ") if band is not None else test.judge.text.replace("_", " ")
        if band is None:
            band = judged_band(test, values)
            of_judged = units_of(test)[JUDGED]
            unit = "" if of_judged is None else of_judged.name
    except UnknownFact as error:
        return test.id, f"{error.path.removeprefix('vehicle.')}: {ASK}"
    except MissingName:
        return None  # its limits need a second reading
    except LimitError:
        return test.id, CANNOT
    return test.id, f"{what} {_bounds(band, unit)}"


def _bounds(band: Bounds, unit: str) -> str:
    low, high = band
    if low == -inf:
        return f"below {amount(float(f'{high:.4g}'), unit)}" if high < inf else "any"
    if high == inf:
        return f"at least {amount(float(f'{low:.4g}'), unit)}"
    return limit_words(Limit(low, high, "", ""), unit, 4)
