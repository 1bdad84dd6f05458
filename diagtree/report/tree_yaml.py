"""A tree as the text of its file, to be read back as the same tree."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence

from diagtree.knowledge.words import Conclude, HandOver, Target, Tree

_WIDTH = 120
_PLAIN = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9 ()/+.;-]*[A-Za-z0-9().])?")


def tree_text(tree: Tree, *, above: Iterable[str] = (), beside: Mapping[str, str] | None = None) -> str:
    """Return `tree` as YAML.

    above : lines of comment at the head of the file. beside : step to a comment beside its name.
    """
    return "\n".join((*_lines(tree, above, beside or {}), ""))


def _lines(tree: Tree, above: Iterable[str], beside: Mapping[str, str]) -> Iterator[str]:
    for line in above:
        yield f"# {line}".rstrip()
    yield "diagtree: 1"
    yield f"tree: {_text(tree.id)}"
    yield f"title: {_text(tree.title)}"
    yield f"revision: {tree.revision}"
    if tree.hears:
        yield from _list("hears", [_text(words) for words in tree.hears])
    yield "causes:"
    for cause, share in tree.causes.items():
        yield f"  {_text(cause)}: {share:.12g}"
    yield f"start: {_text(tree.start)}"
    yield "steps:"
    for step in tree.steps.values():
        comment = f"  # {beside[step.id]}" if step.id in beside else ""
        yield f"  {_text(step.id)}:{comment}"
        if step.test != step.id:
            yield f"    test: {_text(step.test)}"
        yield "    then:"
        for outcome, target in step.then.items():
            yield f"      {_text(outcome)}: {_target(target)}"


def _list(key: str, items: Sequence[str]) -> Iterator[str]:
    """Give a list in one line, or one item a line where that would be too long to read."""
    line = f"{key}: [{', '.join(items)}]"
    if len(line) <= _WIDTH:
        yield line
        return
    yield f"{key}:"
    yield from (f"  - {item}" for item in items)


def _target(target: Target) -> str:
    if isinstance(target, str):
        return _text(target)
    if isinstance(target, Conclude):
        return f"{{conclude: {_text(target.cause)}}}"
    if isinstance(target, HandOver):
        return f"{{hand-over: {_text(target.tree)}}}"
    return f"{{refer: {_text(target.to)}}}"


def _text(text: str) -> str:
    """Return `text` plain where YAML can misread nothing in it, else in quotes."""
    if _PLAIN.fullmatch(text):
        return text
    escaped = "".join(_escape(character) for character in text)
    return f'"{escaped}"'


def _escape(character: str) -> str:
    if character in '"\\':
        return f"\\{character}"
    if character == "\n":
        return "\\n"
    if ord(character) < 0x20 or 0x7F <= ord(character) < 0xA0 or ord(character) in (0x2028, 0x2029, 0xFEFF):
        return f"\\u{ord(character):04x}"
    return character
