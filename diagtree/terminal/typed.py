"""What was typed, held against what was asked. Loaded with the first answer: nobody waits for it."""

from __future__ import annotations

from collections.abc import Sequence

from diagtree.errors import ReadingError
from diagtree.physics.nearest import did_you_mean
from diagtree.terminal.views.prompt import typed_as
from diagtree.walk.prompts import Field, Option

NONE = "none"  # typed where an optional value is left out


def chosen(line: str, options: Sequence[Option], many: bool) -> tuple[str, ...]:
    """Return the options that `line` means. Raises ValueError, saying what was expected."""
    ids = tuple(dict.fromkeys(_one(part.strip(), options) for part in (line.split(",") if many else [line])))
    if len(ids) > 1 and "nothing" in ids:
        raise ValueError("Type `nothing` alone, or what there is.")
    return ids


def _one(part: str, options: Sequence[Option]) -> str:
    typed = {word.casefold(): option for word, option in typed_as(options)}
    typed |= {option.id.casefold(): option for option in options}
    if "nothing" in typed:  # "Is there any of this?" "No."
        typed = {"no": typed["nothing"], NONE: typed["nothing"], **typed}
    word = part.casefold()
    found = typed.get(word) or typed.get(word.rstrip(".)"))
    if found is not None:
        return found.id
    numbers = sum(not option.danger for option in options)
    dangers = [option.id for option in options if option.danger]
    expected = [f"a number from 1 to {numbers}" if numbers > 1 else "1"] if numbers else []
    named = f"the word `{dangers[0]}`" if len(dangers) == 1 else f"one of the words {', '.join(dangers)}"
    expected.append(f"{named} in full" if dangers else "its word")
    hint = did_you_mean(part, [option.id for option in options])
    raise ValueError(f"`{part}` is none of the answers; type {' or '.join(expected)}{hint}")


def trouble(field: Field, text: str) -> str:
    """Return what is wrong with a value, or "": told at its own line rather than after the whole form."""
    if field.words:
        known = {word.casefold() for word in field.words}
        return "" if text.casefold() in known else f"`{text}`: type {' or '.join(field.words)}"
    if not field.number:
        return ""
    from diagtree.physics.reading import parse_reading
    from diagtree.walk.watched import asked_back, without_sure

    text, sure = without_sure(field, text)
    counted = f"`{text}` is no number from 0 upwards; type it like 45" + (f", or `{NONE}`" if field.optional else "")
    try:
        reading = parse_reading(text, field.unit, plain=field.plain)
    except ReadingError as error:
        return counted if field.counts and field.unit == "minute" else str(error)
    if field.counts and (reading.over_range or reading.value < 0):
        return counted
    return "" if sure else asked_back(field, text, reading.value)
