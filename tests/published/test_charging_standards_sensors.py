"""Temperature sensors and derating: check values V106 to V150, and the printed sensor tables row by row."""

from __future__ import annotations

import pytest

from diagtree.physics import thermistor

from .charging_rows import CL, L, Row, number
from .sensor_tables import B57330, GT104, NCP, PT100

PLATINUM = "IEC 60751 constants by gaimc.com and a fieldbus maker's analogue manual"
PRINTED_PT1000 = f"{PLATINUM}; stm32world.com, focusensing.com, a charge controller's manual (printed values)"
CLASSES = "focusensing.com, Pt1000 table with tolerance classes of IEC 60751"
KERNEL = "Linux kernel, drivers/hwmon/ntc_thermistor.c, which names the maker's data sheet"
LEAFLET = "maker's leaflet of 104GT-2 as copied in repository gt-2-thermistor-experiment"

PT1000 = {"kind": "platinum", "r0": 1000.0}
FITTED = {"kind": "ntc", "table": {str(at): B57330[at] for at in (0.0, 25.0, 85.0)}}


def pt1000(celsius):
    return number("platinum", celsius, PT1000)


def pt1000_at(ohms):
    return number("platinum-temperature", ohms, PT1000)


def classes(celsius):
    return tuple(number("platinum-tolerance", celsius, one) for one in "AB")


def from_table(table, celsius):
    return number("ntc", celsius, {"kind": "ntc", "table": {str(at): ohms for at, ohms in table.items()}})


def fitted_at(ohms):
    return number("ntc-temperature", ohms, FITTED)


def lead_error(nominal):
    return number("sensor-lead-error", 25.0, 1.0, {"kind": "platinum", "r0": nominal})


def relative_coefficients():
    """a, b, c over the expected ones: 1 within the relative tolerance."""
    got = [number("steinhart-hart", name, FITTED) for name in "abc"]
    return tuple(one / other for one, other in zip(got, (8.745225e-04, 2.537487e-04, 1.822336e-07), strict=True))


def beta_temperature():
    beta = number("ntc-beta", 25.0, 10000.0, 85.0, 1451.0)
    return number("ntc-temperature", 4158.0, {"kind": "ntc", "r25": 10000.0, "beta": beta})


ROWS = [
    *(
        Row(id, lambda celsius=celsius: pt1000(celsius), ohms, 0.05, PRINTED_PT1000, CL)
        for id, celsius, ohms in (
            ("V106", -40.0, 842.707), ("V107", -20.0, 921.599), ("V108", 0.0, 1000.000), ("V109", 25.0, 1097.347),
            ("V110", 50.0, 1193.971), ("V111", 90.0, 1347.069), ("V112", 100.0, 1385.055), ("V113", 150.0, 1573.251),
        )
    ),
    *(
        Row(id, lambda ohms=ohms: pt1000_at(ohms), celsius, 0.02, PLATINUM, CL)
        for id, ohms, celsius in (
            ("V114", 800.0, -50.771), ("V115", 842.7, -40.002), ("V116", 921.6, -20.000), ("V117", 1097.3, 24.988),
            ("V118", 1200.0, 51.566), ("V119", 1347.0, 89.982), ("V120", 1573.3, 150.013),
        )
    ),
    Row("V121", lambda: number("platinum-linear-temperature", 1347.07), 90.15, 0.01, "open vehicle project", CL),
    Row("V122", lambda: classes(0.0), (0.15, 0.30), 0.005, CLASSES, L),
    Row("V123", lambda: classes(100.0), (0.35, 0.80), 0.005, CLASSES, L),
    Row("V124", lambda: classes(150.0), (0.45, 1.05), 0.005, CLASSES, L),
    Row("V125", lambda: (lead_error(1000.0), lead_error(100.0)), (0.258, 2.579), 0.01, PLATINUM, CL),
    *(
        Row(id, lambda table=table, celsius=celsius: from_table(table, celsius), ohms, 0, source, L)
        for id, table, celsius, ohms, source in (
            ("V126", B57330, -20.0, 68104.0, KERNEL), ("V127", B57330, 0.0, 27326.0, KERNEL),
            ("V128", B57330, 25.0, 10000.0, KERNEL), ("V129", B57330, 50.0, 4158.0, KERNEL),
            ("V130", B57330, 85.0, 1451.0, KERNEL), ("V131", B57330, 100.0, 973.0, KERNEL),
            ("V132", NCP, 0.0, 357012.0, KERNEL), ("V133", NCP, 25.0, 100000.0, KERNEL),
            ("V134", NCP, 50.0, 33195.0, KERNEL), ("V135", NCP, 85.0, 8873.0, KERNEL),
            ("V136", NCP, 100.0, 5384.0, KERNEL), ("V137", GT104, 0.0, 353.7e3, LEAFLET),
            ("V138", GT104, 50.0, 33.49e3, LEAFLET), ("V139", GT104, 100.0, 5.556e3, LEAFLET),
            ("V140", GT104, 150.0, 1.36e3, LEAFLET),
        )
    ),
    Row("V141", lambda: number("ntc-beta", 25.0, 10000.0, 85.0, 1451.0), 3435.4, 0.5, KERNEL, CL),
    Row("V142", lambda: number("ntc-beta", 25.0, 100000.0, 85.0, 8873.0), 4310.7, 0.5, KERNEL, CL),
    Row("V143", beta_temperature, 49.58, 0.02, f"{KERNEL}; true 50 degC", CL),
    Row("V144", relative_coefficients, (1.0, 1.0, 1.0), 1e-5, KERNEL, CL),
    Row("V145", lambda: fitted_at(68104.0), -19.961, 0.02, f"{KERNEL}; true -20 degC", CL),
    Row("V146", lambda: fitted_at(4158.0), 50.015, 0.02, f"{KERNEL}; true 50 degC", CL),
    Row("V147", lambda: fitted_at(973.0), 100.017, 0.02, f"{KERNEL}; true 100 degC", CL),
    Row("V148", lambda: number("divider-voltage", from_table(B57330, 85.0)), 0.634, 0.002, KERNEL, CL),
    Row("V149", lambda: number("derating-current", 47.5, 25.0, 32.0, 70.0, 10.0), 21.0, 0.05,
        "documentation of the EVerest stack's temperature-derating module", CL),
    Row("V150", lambda: number("derating-percent", 75.0, 60.0, 90.0, 50.0), 25.0, 0.1,
        "documentation of a vehicle charge controller", CL),
]  # fmt: skip


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.id)
def test_row(row):
    """The value is the published one."""
    assert row.holds(), (row.got(), row.expected, row.source)


@pytest.mark.parametrize(("celsius", "ohms"), PT100.items(), ids=str)
def test_printed_platinum_table(celsius, ohms):
    """Every row of the printed Pt100 table (looked up: sensorsci.com, IEC 751) to its last digit."""
    assert number("platinum", celsius, {"r0": 100.0}) == pytest.approx(ohms, abs=0.0051)


@pytest.mark.parametrize(
    ("table", "name"), [(B57330, "B57330V2103"), (NCP, "NCP..WF104"), (GT104, "104GT-2")], ids=lambda one: str(one)[:12]
)
def test_printed_thermistor_tables(table, name):
    """Every row of each printed table is met exactly, both ways, by a profile that carries the table (looked up)."""
    facts = {"kind": "ntc", "table": {str(at): ohms for at, ohms in table.items()}}
    for celsius, ohms in table.items():
        assert number("ntc", celsius, facts) == pytest.approx(ohms, rel=1e-12), (name, celsius)
        assert number("ntc-temperature", ohms, facts) == pytest.approx(celsius, abs=1e-9), (name, celsius)


@pytest.mark.parametrize(
    ("table", "rows", "low", "high", "worst"),
    [
        (B57330, (0.0, 25.0, 85.0), -20.0, 120.0, 0.04),
        (NCP, (0.0, 25.0, 85.0), -20.0, 120.0, 0.18),
        (GT104, (0.0, 50.0, 100.0), -50.0, 150.0, 0.05),
    ],
    ids=["B57330V2103", "NCP..WF104", "104GT-2"],
)
def test_three_rows_reproduce_the_whole_table(table, rows, low, high, worst):
    """Steinhart-Hart through three rows stays within the printed worst error of the whole table (computed)."""
    facts = {"kind": "ntc", "table": {str(at): table[at] for at in rows}}
    errors = [abs(number("ntc-temperature", ohms, facts) - at) for at, ohms in table.items() if low <= at <= high]
    assert max(errors) == pytest.approx(worst, abs=0.0051)


def test_least_squares_over_a_whole_table_is_better_than_three_rows():
    """Fitted to all rows from -20 to 120 degC the worst error is smaller than through three of them."""
    rows = [(at, ohms) for at, ohms in NCP.items() if -20.0 <= at <= 120.0]
    coefficients = thermistor.steinhart_hart(rows)
    worst = max(
        abs(thermistor.temperature_by_steinhart_hart(ohms, coefficients) - thermistor.KELVIN - at) for at, ohms in rows
    )
    assert worst < 0.18


@pytest.mark.parametrize(
    ("table", "r25", "beta", "errors"),
    [
        (B57330, 10000.0, 3435.4, (2.44, 1.08, -0.42, 0.57, 1.62)),
        (NCP, 100000.0, 4310.7, (1.90, 0.88, -0.38, 0.51, 1.49)),
    ],
    ids=["B57330V2103", "NCP..WF104"],
)
def test_error_of_the_beta_form(table, r25, beta, errors):
    """The beta form is off by the printed amounts at -20, 0, 50, 100 and 120 degC (computed)."""
    facts = {"kind": "ntc", "r25": r25, "beta": beta}
    got = [number("ntc-temperature", table[at], facts) - at for at in (-20.0, 0.0, 50.0, 100.0, 120.0)]
    assert got == pytest.approx(list(errors), abs=0.01)


@pytest.mark.parametrize(("celsius", "error"), [(25.0, 0.28), (90.0, 0.15), (-40.0, -0.86), (150.0, -1.1)])
def test_error_of_the_straight_line_shortcut(celsius, error):
    """The shortcut of an open vehicle project is off by these amounts (computed)."""
    shortcut = number("platinum-linear-temperature", pt1000(celsius))
    assert shortcut - celsius == pytest.approx(error, abs=0.051)
