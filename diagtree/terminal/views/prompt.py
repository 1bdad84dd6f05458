"""A prompt as blocks: what the last answer meant, where we are, cautions, what to do, the question, its answers.

The question and its numbered answers stand last, next to the line where the answer is typed: on a small screen the
rest may scroll away, they may not. Steps to carry out have dashes; only answers have numbers.
"""

from __future__ import annotations

from collections.abc import Container, Iterator, Sequence
from itertools import count

from diagtree.terminal.face import Block, Look
from diagtree.walk.cautions import in_short
from diagtree.walk.prompts import Choice, Kind, Option, Prompt


def whole(prompt: Prompt, read_just_now: Container[str] = ()) -> Iterator[Block]:
    """Give the whole prompt. read_just_now : cautions of the step before; those not of live voltage share a line."""
    for line in prompt.told:
        yield Block(Look.TOLD, line, "= ")
    yield Block(Look.HEADING, heading(prompt))
    known = [short for line in prompt.cautions if line in read_just_now and (short := in_short(line)) is not None]
    for line in prompt.cautions:
        if line not in read_just_now or in_short(line) is None:
            yield Block(Look.CAUTION, line, "CAUTION: ")
    if known:
        yield Block(Look.CAUTION, f"as before: {'; '.join(known)}", "CAUTION: ")
    for line in prompt.about:
        yield Block(Look.ABOUT, line, "  ")
    for line in prompt.how:
        yield Block(Look.HOW, line, "  - ")
    yield from question(prompt)


def question(prompt: Prompt) -> Iterator[Block]:
    """Give the question and its answers alone, to be shown again after a detour."""
    yield Block(Look.ASK, prompt.ask)
    if isinstance(prompt.form, Choice):
        yield from options(prompt.form.options)


def options(choices: Sequence[Option]) -> Iterator[Block]:
    """Give the answers with what to type for each: a number, or for a danger its word, which has no number."""
    for typed, option in typed_as(choices):
        if not option.danger:
            yield Block(Look.OPTION, option.text, f"{typed:>3}  ")
        else:
            text = option.text if option.text != option.id else "(type the word in full)"
            yield Block(Look.DANGER, text, f"  {typed}: ")


def typed_as(choices: Sequence[Option]) -> list[tuple[str, Option]]:
    """Return what is typed for each option: those that are no danger are numbered from 1."""
    numbers = count(1)
    return [(option.id if option.danger else str(next(numbers)), option) for option in choices]


def heading(prompt: Prompt) -> str:
    """Return where we are, with how many steps remain where a tree is being walked."""
    title = in_words(prompt.key) if prompt.kind in (Kind.OUTCOME, Kind.READING) else prompt.heading
    if prompt.progress is None:
        return title
    least, most = prompt.progress
    if most == 0:
        return f"{title} (last step)"
    count = f"{least}" if least == most else f"{least} to {most}"
    return f"{title} ({count} {'step' if count == '1' else 'steps'} to go)"


def in_words(test: str) -> str:
    """Return a test's id as a title: `ac-power-readout` is `AC power readout`. The question itself stands below."""
    words = " ".join(word.upper() if word in _INITIALS else word for word in test.split("-"))
    return words[:1].upper() + words[1:]


_INITIALS = frozenset({"ac", "dc", "rcd"})
