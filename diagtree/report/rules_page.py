"""What the rules of `check` look for: one rule in full, the list, and the page `docs/rules.md`."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from diagtree.check.rule import Rule, examples

FAMILIES: Mapping[str, str] = {
    "reading": "what is written cannot be read, or not as its author means it",
    "links": "names that lead nowhere, and what nobody uses",
    "graph": "where answers lead",
    "meaning": "limits, shares and per cents, and what they rule out",
    "safety": "what can hurt somebody",
    "words": "what a tired person reads wrongly",
    "worth": "what costs more than it must; only with `--worth`",
    "walks": "what random walks through the real session come upon; only with `--walks`",
}
"""The families in the order in which they are told, each with what it is about."""

_INDENT = "  "

INTRODUCTION = """# Rules

This page is generated from the rules themselves; a test fails when it is stale. `diagtree check explain RULE` shows the
same with two examples, one on which the rule fires and one on which it is silent. How to run the check, and how to
allow a finding: [check.md](check.md)."""


def explanation(rule: Rule) -> Iterator[str]:
    """Yield one rule in full, line by line."""
    shown = examples(rule)
    yield f"{rule.id}: {rule.level.value}, family {rule.family}"
    yield ""
    yield f"{_INDENT}What it finds:  {rule.finds}"
    yield f"{_INDENT}Why it hurts:   {rule.why}"
    for head, files in (("Fires on", shown.fires), ("Silent on", shown.silent)):
        yield ""
        yield f"{_INDENT}{head}:"
        for name, text in files.items():
            yield f"{_INDENT * 2}{name}"
            yield from (f"{_INDENT * 3}{row}".rstrip() for row in text.rstrip("\n").split("\n"))


def listing(rules: Iterable[Rule]) -> Iterator[str]:
    """Yield all rules, by family."""
    for family, about, members in _by_family(rules):
        yield f"{family}: {about}"
        for rule in members:
            yield f"{_INDENT}{rule.id} ({rule.level.value}): {rule.finds}"
        yield ""


def page(rules: Iterable[Rule]) -> str:
    """Return the page of all rules as Markdown."""
    parts = [INTRODUCTION]
    for family, about, members in _by_family(rules):
        parts.append(f"## {family}\n\n{about[:1].upper()}{about[1:]}.")
        rows = [f"| `{rule.id}` | {rule.level.value} | {_cell(rule.finds)} | {_cell(rule.why)} |" for rule in members]
        parts.append("\n".join(["| rule | level | what it finds | why it hurts |", "| --- | --- | --- | --- |", *rows]))
    return "\n\n".join(parts) + "\n"


def _by_family(rules: Iterable[Rule]) -> Iterator[tuple[str, str, list[Rule]]]:
    known = list(rules)
    for family, about in FAMILIES.items():
        members = [rule for rule in known if rule.family == family]
        if members:
            yield family, about, members


def _cell(text: str) -> str:
    return text.replace("|", "\\|")
