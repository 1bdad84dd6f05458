"""`calc defect`: which single defect of the pilot or of the proximity circuit explains what was read.

diagtree calc defect pilot --station-end C=6.82 C-=-11.9 --vehicle-end C=5.3
diagtree calc defect proximity --inlet type-1 --pin empty=4.45 latched=2.76 --plug latched=480
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from diagtree.errors import OutOfRange, ReadingError, WrongUse
from diagtree.physics.nearest import did_you_mean
from diagtree.terminal.commands import FINE

if TYPE_CHECKING:
    from diagtree.physics.defects.defect import Loop
    from diagtree.physics.defects.spot import Spot
    from diagtree.physics.meter import Accuracy
    from diagtree.physics.quantity import Input
    from diagtree.physics.reading import Reading
    from diagtree.terminal.setting import Setting

PLACES = {"pilot": ("station-end", "vehicle-end"), "proximity": ("pin", "plug")}
"""Circuit to the places where it is read, as typed."""
OPTIONS = {"pilot": ("meter",), "proximity": ("meter", "inlet", "cable")}
USUAL_METER = {"V": (0.5, 2.0), "ohm": (0.9, 3.0)}
"""Accuracy taken where no meter is named: a usual handheld multimeter. [% of the reading, counts]"""
INLETS = {"type-1": True, "ccs1": True, "type-2": False, "ccs2": False}
"""Inlet to whether its plug has a latch button. The car's own resistor to earth is 2.7 or 4.7 kohm."""
HOW = "type `calc defect pilot --station-end C=6.8 C-=-11.9 --vehicle-end C=5.3` (C- is the negative half, C@27 the \
average at 27 % duty) or `calc defect proximity --inlet type-1 --pin empty=4.45 latched=2.76 --plug latched=480`"


def run(setting: Setting, words: Sequence[str], as_json: bool) -> int:
    """Show which single defect explains the readings in `words` (`pilot --vehicle-end C=8.1 ...`).

    Raises WrongUse, OutOfRange or ReadingError, naming the input, its range and what to type.
    """
    from diagtree.physics.defects.finding import find
    from diagtree.terminal.views import defects as view

    typed = [word for word in words[:1] if word != "defect"] + list(words[1:])
    if not typed or typed[0] not in PLACES:
        hint = did_you_mean(typed[0], PLACES) if typed else ""
        raise WrongUse(f"name the circuit: pilot or proximity{hint}; {HOW}")
    circuit = typed[0]
    groups = _groups(circuit, typed[1:])
    meter = _meter(setting, _one(groups, "meter"))
    readings = _readings(circuit, groups)
    loop = _loop(circuit, groups)
    _check_button(loop, readings)
    found = find(loop, {spot: _level(spot, one, meter) for spot, one in readings.items()})
    if as_json:
        setting.document(view.document(found, readings))
    else:
        from diagtree.terminal.calc_list import say_lines

        say_lines(setting, view.lines(found, readings, meter))
    return FINE


def _readings(circuit: str, groups: dict[str, list[str]]) -> dict[Spot, Reading]:
    """Return all readings that were typed, in the order of the places."""
    found: dict[Spot, Reading] = {}
    for place in PLACES[circuit]:
        for word in groups.get(place, []):
            state, mark, text = word.partition("=")
            if not mark or not text:
                raise WrongUse(f"`--{place} {word}`: type the state, `=` and the reading, like `C=6.8`; {HOW}")
            spot = _spot(circuit, place, state)
            if spot in found:
                raise WrongUse(f"`--{place} {state}` is given twice; give each reading once")
            found[spot] = _reading(spot, place, state, text)
    if not found:
        raise WrongUse(f"no reading was given; {HOW}")
    return found


def _check_button(loop: Loop, readings: Iterable[Spot]) -> None:
    """Raise WrongUse where the button was pressed of a plug that has none."""
    from diagtree.physics.defects.proximity_loop import ProximityLoop

    if isinstance(loop, ProximityLoop) and loop.button is None and any(one.state == "unlatched" for one in readings):
        raise WrongUse("a type 2 plug has no latch button: read it `latched` (plugged in) or `empty`")


def _groups(circuit: str, words: Sequence[str]) -> dict[str, list[str]]:
    """Return what was typed after each `--option`."""
    known = (*PLACES[circuit], *OPTIONS[circuit])
    found: dict[str, list[str]] = {}
    current: list[str] | None = None
    for word in words:
        if word.startswith("--"):
            name, mark, rest = word.removeprefix("--").partition("=")
            if name not in known:
                takes = ", ".join(f"--{one}" for one in known)
                raise WrongUse(
                    f"`calc defect {circuit}` has no `--{name}`{did_you_mean(name, known)}; it takes {takes}"
                )
            current = found.setdefault(name, [])
            current += [rest] if mark else []
        elif current is None:
            raise WrongUse(f"`{word}` stands alone; {HOW}")
        else:
            current.append(word)
    return found


def _one(groups: dict[str, list[str]], name: str) -> str | None:
    """Return the one word of an option, or None where it was not given."""
    if name not in groups:
        return None
    if len(groups[name]) != 1:
        raise WrongUse(f"`--{name}` takes one value; it has {len(groups[name])}: {' '.join(groups[name]) or 'none'}")
    return groups[name][0]


def _spot(circuit: str, place: str, state: str) -> Spot:
    from diagtree.physics.defects.spot import OTHER_WORDS, PLUG_STATES, PROXIMITY, Spot

    if circuit == "pilot":
        return _pilot_spot(place, state)
    word = OTHER_WORDS.get(state.lower(), state.lower())
    allowed = PLUG_STATES if place == "pin" else PLUG_STATES[1:]
    if word not in allowed:
        raise WrongUse(f"`--{place} {state}`: `{state}` is no state of the plug; type one of {', '.join(allowed)}")
    return Spot(PROXIMITY, "V", "vehicle", word) if place == "pin" else Spot(PROXIMITY, "ohm", "plug", word)


def _pilot_spot(place: str, typed: str) -> Spot:
    from diagtree.physics.defects.spot import PILOT, PILOT_STATES, Spot
    from diagtree.physics.pilot_inputs import DUTY

    end = place.removesuffix("-end")
    allowed = PILOT_STATES if end == "station" else PILOT_STATES[1:]
    state, mark, share = typed.partition("@")
    half = "negative" if state.endswith("-") else "positive"
    letter = state.rstrip("+-").upper()
    if letter not in allowed or len(state) > 2 or (mark and len(state) > 1):
        why = " (nothing is plugged in: the car's pin tells nothing)" if letter == "A" and end == "vehicle" else ""
        raise WrongUse(
            f"`--{place} {typed}`: `{state}` is no state to read{why}; type one of {', '.join(allowed)}, with `-` for "
            "the negative half or `@27` for the average at 27 % duty"
        )
    if not mark:
        return Spot(PILOT, "V", end, letter, half)
    return Spot(PILOT, "V", end, letter, duty=_parsed(DUTY, share, f"--{place} {typed}").value)


def _reading(spot: Spot, place: str, state: str, text: str) -> Reading:
    from diagtree.physics.pilot_inputs import VOLTAGE as PILOT_VOLTAGE
    from diagtree.physics.quantities.proximity_resistance import VOLTAGE as PIN_VOLTAGE
    from diagtree.physics.quantities.proximity_voltage import PLUG

    wanted = PLUG if spot.unit == "ohm" else (PILOT_VOLTAGE if spot.circuit == "pilot" else PIN_VOLTAGE)
    return _parsed(wanted, text, f"--{place} {state}")


def _parsed(wanted: Input, text: str, name: str) -> Reading:
    """Return a typed number, inside the range of its input. Raises WrongUse or OutOfRange naming both."""
    from diagtree.physics.pilot_inputs import renamed
    from diagtree.physics.ranges import check, range_words
    from diagtree.physics.reading import parse_reading

    try:
        found = parse_reading(text, wanted.unit)
    except ReadingError as error:
        raise WrongUse(f"`{name}` ({wanted.meaning}): {error}; it takes {range_words(wanted)}") from error
    check(renamed(wanted, name), found.value)
    return found


def _level(spot: Spot, reading: Reading, meter: dict[str, Accuracy]) -> tuple[float, float]:
    """Return a reading as the circuit gives it, and its standard uncertainty."""
    from diagtree.physics.defects.readings import as_level
    from diagtree.physics.meter import reading_uncertainty

    return as_level(spot, reading.value, reading_uncertainty(reading, meter[spot.unit]))


def _meter(setting: Setting, typed: str | None) -> dict[str, Accuracy]:
    """Return the accuracy by unit: of a meter of the house, as typed (`0.5%+2`), or a usual one's."""
    from diagtree.physics.meter import Accuracy, accuracy_for
    from diagtree.physics.reading import parse_reading
    from diagtree.physics.units import unit

    if typed is None:
        return {name: Accuracy(*usual) for name, usual in USUAL_METER.items()}
    percent, mark, counts = typed.replace("%", "").partition("+")
    if mark:
        try:
            one = Accuracy(parse_reading(percent, "").value, parse_reading(counts, "").value)
        except (ReadingError, OutOfRange) as error:
            raise WrongUse(f"`--meter {typed}`: {error}; type per cent and counts, like `0.5%+2`") from error
        return dict.fromkeys(USUAL_METER, one)
    workshop = setting.library().workshop
    meters = workshop.meters if workshop else {}
    if typed not in meters:
        known = ", ".join(meters) or "none in this workshop"
        raise WrongUse(f"`--meter {typed}` is no meter of the house ({known}); or type its accuracy, like `0.5%+2`")
    units = {name: Accuracy(one.percent, one.counts) for name, one in meters[typed].items()}
    return {name: accuracy_for(units, unit(name)) or Accuracy(*usual) for name, usual in USUAL_METER.items()}


def _loop(circuit: str, groups: dict[str, list[str]]) -> Loop:
    """Return the healthy circuit that the readings are of."""
    from diagtree.physics.defects.pilot_loop import PilotLoop
    from diagtree.physics.defects.proximity_loop import ProximityLoop, coded_loop
    from diagtree.physics.quantities.proximity_voltage import PLUG

    if circuit == "pilot":
        return PilotLoop()
    inlet = (_one(groups, "inlet") or "").lower()
    if inlet not in INLETS:
        raise WrongUse(
            f"say which inlet it is: `--inlet` takes one of {', '.join(INLETS)}{did_you_mean(inlet, INLETS)}"
        )
    cable = _one(groups, "cable")
    if INLETS[inlet]:
        if cable is not None:
            raise WrongUse("`--cable` is for type 2 plugs: a type 1 plug has the same resistors whatever its cable")
        return ProximityLoop()
    if cable is None:
        raise WrongUse("say what the plug's resistor should be: `--cable` takes 100, 220, 680 or 1500 ohm")
    return coded_loop(_parsed(PLUG, cable, "--cable").value)
