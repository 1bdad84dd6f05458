"""Range checks: the inputs that a quantity declares are the inputs that its formula accepts.

One declaration (`quantity.Input`) serves the check, the message, the bench calculator and the generated page.
Where `high` is written as infinity, infinity is a legal value ("no leakage", "open circuit"); where it is
left out, any finite number is.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from functools import wraps
from typing import ParamSpec, TypeVar

from diagtree.errors import OutOfRange, WrongUse
from diagtree.physics.quantity import Input

P = ParamSpec("P")
Result = TypeVar("Result")

LARGEST = math.nextafter(math.inf, 0.0)
"""The largest finite number: the bound of an input that declares none."""

KINDS = {"word": "a word known here", "text": "a word", "facts": "a part of a vehicle profile"}
"""Inputs that are no numbers: their `unit` and what they must be."""

PREFIXED = frozenset(("ohm", "F", "A", "W", "Wh", "J", "s"))
"""Units whose very large and very small numbers are shown with an SI prefix."""

ABSOLUTE_ZERO = -273.15
"""Absolute zero. [degC]"""


def plain(number: float) -> str:
    """Return a number as a person writes it: `0.1`, `1e+06` and `infinity`, without a tail of zeros."""
    if math.isinf(number):
        return "infinity" if number > 0 else "minus infinity"
    return f"{number:.10g}"


def amount(number: float, unit: str) -> str:
    """Return a number with its unit, with an SI prefix where a plain number would be hard to read: `10 Mohm`."""
    if math.isfinite(number) and unit in PREFIXED and number and not 1e-2 <= abs(number) < 1e5:
        # Only messages and pages come here; a walk that goes well never loads the units.
        from diagtree.physics.units import engineering
        from diagtree.physics.units import unit as named

        return engineering(number, named(unit), 10)
    return f"{plain(number)} {unit}".rstrip()


def range_words(wanted: Input) -> str:
    """Return what to type for an input, with its unit: `-60 to 300 degC`, `one of B, C, D`."""
    if wanted.unit == "word":
        return f"one of {', '.join(wanted.words)}"
    if wanted.unit == "text":
        return "it as the tester shows it"
    if wanted.unit == "facts":
        return "the name of a part of the vehicle profile, such as vehicle.inlet.ac_sensor"
    low, high, unit = wanted.low, wanted.high, wanted.unit
    if low is None:
        if high is not None and not math.isinf(high):
            return f"at most {amount(high, unit)}"
        return f"any number {unit and 'of ' + unit}".rstrip() + (" (or infinity)" if high is not None else "")
    if high is None or math.isinf(high):
        return f"{amount(low, unit)} or more" + (" (or infinity)" if high is not None else "")
    upper = amount(high, unit)
    same = upper == f"{plain(high)} {unit}".rstrip() and amount(low, unit) == f"{plain(low)} {unit}".rstrip()
    return f"{plain(low) if same else amount(low, unit)} to {upper}"


def refuse(wanted: Input, given: object) -> OutOfRange:
    """Return the error for a value that an input does not take: name, value, range and what to type."""
    ask = f"type {range_words(wanted)}"
    if given == "unknown":
        return OutOfRange(f"`{wanted.name}` ({wanted.meaning}) is unknown on this car: find the maker's value")
    if wanted.unit in KINDS or not isinstance(given, (int, float)):
        kind = KINDS.get(wanted.unit, "a number")
        return OutOfRange(f"`{wanted.name}` = {given!r} is not {kind} ({wanted.meaning}): {ask}")
    if math.isnan(given):
        return OutOfRange(f"`{wanted.name}` = nan is not a number ({wanted.meaning}): {ask}")
    why = " (below absolute zero)" if wanted.unit == "degC" and given < ABSOLUTE_ZERO else ""
    return OutOfRange(f"`{wanted.name}` = {amount(given, wanted.unit)} is out of range{why} ({wanted.meaning}): {ask}")


def check(wanted: Input, given: object) -> None:
    """Pass a value that the input takes. Raises OutOfRange, naming the input and its range, for any other."""
    if not accepts(wanted)(given):
        raise refuse(wanted, given)


def accepts(wanted: Input) -> Callable[[object], bool]:
    """Return the test of an input: whether it takes a value."""
    if wanted.unit == "word":
        words = wanted.words
        return lambda given: given in words
    if wanted.unit in KINDS:
        if wanted.unit == "text":
            return lambda given: isinstance(given, str)
        # A plain dictionary is told by its type at once; the check against the abstract class is slow.
        return lambda given: type(given) is dict or isinstance(given, Mapping)
    low = -LARGEST if wanted.low is None else wanted.low
    high = LARGEST if wanted.high is None else wanted.high
    # NaN compares false with everything, so it fails here too.
    return lambda given: (type(given) is float or isinstance(given, (int, float))) and low <= given <= high


def checked(*inputs: Input) -> Callable[[Callable[P, Result]], Callable[P, Result]]:
    """Return a decorator: the function refuses what its inputs do not take, before its formula runs.

    Inputs are given in the order of the function's parameters. Raises OutOfRange for a value out of range
    and WrongUse for an input that is missing, unknown or given twice.
    """
    by_name = {wanted.name: wanted for wanted in inputs}
    tests = tuple(accepts(wanted) for wanted in inputs)
    needed = tuple(wanted.name for wanted in inputs if wanted.default is None)
    count = len(inputs)

    def decorate(function: Callable[P, Result]) -> Callable[P, Result]:
        def look_closer(args: tuple[object, ...], named: Mapping[str, object]) -> None:
            """Raise for what is wrong with a call; pass one that is complete and in range."""
            if named or len(args) != count:
                _check_names(function.__name__, by_name, needed, len(args), named)
            for wanted, given in zip(inputs, args, strict=False):
                check(wanted, given)
            for name, given in named.items():
                check(by_name[name], given)

        if count == 2:
            # Two inputs are what a walk's limits have nearly always: no loop, the tests are called by name.
            first, second = tests

            @wraps(function)
            def pair(*args: P.args, **kwargs: P.kwargs) -> Result:
                if kwargs or len(args) != 2 or not first(args[0]) or not second(args[1]):
                    look_closer(args, kwargs)
                return function(*args, **kwargs)

            return pair

        @wraps(function)
        def guarded(*args: P.args, **kwargs: P.kwargs) -> Result:
            if kwargs or len(args) != count:
                look_closer(args, kwargs)
            else:
                for fine, given in zip(tests, args, strict=False):
                    if not fine(given):
                        look_closer(args, kwargs)
            return function(*args, **kwargs)

        return guarded

    return decorate


def _check_names(
    called: str, by_name: Mapping[str, Input], needed: tuple[str, ...], count: int, named: Mapping[str, object]
) -> None:
    """Raise WrongUse unless the inputs given, `count` in order and the rest by name, make a complete call."""
    names = tuple(by_name)
    takes = f"`{called}` takes {', '.join(names)}"
    if count > len(names):
        raise WrongUse(f"{takes}: {count} values are too many")
    given = set(names[:count])
    for name in named:
        if name not in by_name:
            raise WrongUse(f"{takes}: it has no input `{name}`")
        if name in given:
            raise WrongUse(f"{takes}: `{name}` is given twice")
    for name in needed:
        if name not in given and name not in named:
            wanted = by_name[name]
            raise WrongUse(f"{takes}: `{name}` ({wanted.meaning}) is missing; type {range_words(wanted)}")
