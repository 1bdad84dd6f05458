"""Reading nodes into words: every mistake becomes a finding with its place, and reading goes on.

A reader asks a `Fields` for each key it knows; whatever was not asked for is an unknown key. Values that are
wrong are replaced by something harmless, since knowledge with an error finding is never used.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from enum import Enum
from typing import TypeVar
from unicodedata import normalize

from diagtree.errors import DiagtreeError
from diagtree.knowledge.limits import Expression, parse_expression
from diagtree.knowledge.place import Finding, Level, Place
from diagtree.knowledge.yaml_text import Entry, Mapping, Node, Scalar, Sequence
from diagtree.knowledge.yaml_words import TYPOGRAPHIC

_NUMBER = re.compile(r"[-+]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][-+]?\d+)?")
_COMMA_NUMBER = re.compile(r"[-+]?\d+,\d+")
_SENTENCES = ("how", "mind", "state")  # lists of whole sentences, for people
_ID = re.compile(r"\w[\w.-]*")

Words = TypeVar("Words", bound=Enum)


class Findings:
    """Collects what is wrong."""

    def __init__(self) -> None:
        self.found: list[Finding] = []

    def error(self, rule: str, at: Place, message: str) -> None:
        """Add an error."""
        self.found.append(Finding(rule, Level.ERROR, at, message))

    def warning(self, rule: str, at: Place, message: str) -> None:
        """Add a warning."""
        self.found.append(Finding(rule, Level.WARNING, at, message))

    def wrong(self, node: Node, expected: str) -> None:
        """Say that `node` is of the wrong type."""
        self.error("wrong-type", node.at, f"expected {expected}, got {describe(node)}")


def describe(node: Node) -> str:
    """Return what a node is, in words for a message."""
    if isinstance(node, Scalar):
        return f"`{node.text}`" if node.text else "nothing"
    return "a list" if isinstance(node, Sequence) else "a mapping (`name: value`)"


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """Return `; did you mean ...?` where one of `known` is near, else ``."""
    from difflib import get_close_matches  # only when something is wrong: it costs start-up

    near = get_close_matches(word, list(known), n=1, cutoff=0.6)
    return f"; did you mean `{near[0]}`?" if near else ""


class Fields:
    """The entries of one mapping, asked for by key."""

    def __init__(self, node: Node | None, what: str, findings: Findings, at: Place | None = None) -> None:
        """`what` names the object in messages (`test 'x'`); `at` is its place where `node` is missing."""
        self.what = what
        self.findings = findings
        self.at = at or (node.at if node else Place(""))
        self._entries: dict[str, Entry] = {}
        self._asked: set[str] = set()
        if isinstance(node, Mapping):
            self._entries = node.entries
        elif node is not None:
            further_in = isinstance(node, Scalar) and not node.text
            hint = ", the lines below it indented further," if further_in else ""
            findings.wrong(node, f"a mapping (`name: value`){hint} for {what}")

    def written(self) -> tuple[str, ...]:
        """Return the keys as written."""
        return tuple(self._entries)

    def entry(self, key: str, *, required: bool = False) -> Entry | None:
        """Return the entry of `key`; a missing one is a finding where it is `required`."""
        self._asked.add(key)
        found = self._entries.get(key)
        if found is None and required:
            self.findings.error("missing-key", self.at, self._lacks(key))
        return found

    def node(self, key: str, *, required: bool = False) -> Node | None:
        """Return the value of `key`."""
        found = self.entry(key, required=required)
        return found.value if found else None

    def done(self) -> None:
        """Report every key that nobody asked for."""
        for key, entry in self._entries.items():
            if key not in self._asked:
                lacking = self._asked - self._entries.keys()
                hint = did_you_mean(key, lacking)
                self._told_once(hint, lacking)
                if key.isdigit():
                    hint = "; after a comma between braces it counts as a key: write decimals with a point"
                known = "" if hint else f"; known here: {', '.join(sorted(self._asked))}"
                self.findings.error("unknown-key", entry.at, f"{self.what} has no key `{key}`{hint}{known}")

    def _told_once(self, hint: str, lacking: Iterable[str]) -> None:
        """Take back that a key lacks which is there, misspelt."""
        for key in lacking:
            if f"`{key}`" in hint:
                lacks = Finding("missing-key", Level.ERROR, self.at, self._lacks(key))
                self.findings.found[:] = [one for one in self.findings.found if one != lacks]

    def _lacks(self, key: str) -> str:
        return f"{self.what} lacks `{key}:`"

    def text(self, key: str, *, required: bool = False, default: str = "") -> str:
        """Return a text."""
        node = self.node(key, required=required)
        if node is None:
            return default
        if not isinstance(node, Scalar):
            self.findings.wrong(node, f"a text for `{key}`")
            return default
        if required and not node.text.strip():
            self.findings.error("empty-text", node.at, f"`{key}` of {self.what} is empty; write it out")
        return node.text

    def texts(self, key: str) -> tuple[str, ...]:
        """Return a list of texts; one text alone counts as a list of one."""
        return self._texts_of(self.node(key), key)

    def _texts_of(self, node: Node | None, key: str) -> tuple[str, ...]:
        if node is None:
            return ()
        if isinstance(node, Scalar):
            return (node.text,) if node.text else ()
        if not isinstance(node, Sequence):
            self.findings.wrong(node, f"a list of texts for `{key}`")
            return ()
        found: list[str] = []
        for item in node.items:
            if isinstance(item, Scalar):
                self._cut_in_two(key, found, item)
                found.append(item.text)
            else:
                self.findings.wrong(item, f"a text in the list `{key}` (quote texts that hold `: `)")
        return tuple(found)

    def _cut_in_two(self, key: str, before: list[str], item: Scalar) -> None:
        """Warn of a sentence that its own comma cut into two entries: `[Release the catch, pull the housing.]`."""
        if key not in _SENTENCES or not before or not item.plain:
            return
        if item.text[:1].islower() and before[-1][-1:] not in ".!?:;":
            message = f"`{item.text}` begins in mid-sentence: a comma cut the text in two; put the whole text in quotes"
            self.findings.warning("cut-at-comma", item.at, message)

    def number(
        self,
        key: str,
        *,
        required: bool = False,
        default: float = 0.0,
        low: float = 0.0,
        high: float | None = None,
        unit: str = "",
    ) -> float:
        """Return a number within `low` to `high`."""
        found = self.number_or_none(key, required=required, low=low, high=high, unit=unit)
        return default if found is None else found

    def number_or_none(
        self,
        key: str,
        *,
        required: bool = False,
        low: float = 0.0,
        high: float | None = None,
        unit: str = "",
    ) -> float | None:
        """Return a number within `low` to `high`, or None where the key is missing."""
        node = self.node(key, required=required)
        if node is None:
            return None
        return number_of(node, f"`{key}`", self.findings, low=low, high=high, unit=unit)

    def word(self, key: str, words: type[Words], default: Words, *, required: bool = False) -> Words:
        """Return one of the words of an enumeration."""
        node = self.node(key, required=required)
        if node is None:
            return default
        known = [word.value for word in words]
        if not isinstance(node, Scalar):
            self.findings.wrong(node, f"one of {', '.join(known)} for `{key}`")
            return default
        if node.text not in known:
            self.findings.error(
                "unknown-word",
                node.at,
                f"`{key}` must be one of {', '.join(known)}; got `{node.text}`{did_you_mean(node.text, known)}",
            )
            return default
        return words(node.text)

    def flag(self, key: str) -> bool:
        """Return true or false; missing counts as false."""
        node = self.node(key)
        if node is None:
            return False
        if isinstance(node, Scalar) and node.text.lower() in ("true", "yes"):
            return True
        if not (isinstance(node, Scalar) and node.text.lower() in ("false", "no")):
            self.findings.wrong(node, f"true or false for `{key}`")
        return False

    def expression(self, key: str) -> Expression | None:
        """Return arithmetic; None where it is missing or cannot be read."""
        node = self.node(key)
        return None if node is None else expression_of(node, f"`{key}`", self.findings)

    def places(self, *keys: str) -> dict[str, Place]:
        """Return where the values of `keys` stand, and each name under them as `key.NAME`."""
        found: dict[str, Place] = {}
        for key in keys:
            node = self.node(key)
            if node is None:
                continue
            found[key] = node.at
            if isinstance(node, Sequence):
                for item in node.items:
                    if isinstance(item, Scalar):
                        found.setdefault(f"{key}.{item.text}", item.at)
            elif isinstance(node, Mapping):
                found.update({f"{key}.{name}": entry.at for name, entry in node.entries.items()})
        return found

    def names(self, key: str) -> tuple[str, ...]:
        """Return a list of ids."""
        found = self.texts(key)
        places = self.places(key)
        for name in found:
            if not is_id(name):
                at = places.get(f"{key}.{name}", places[key])
                said = f"`{name}` in `{key}` is not an id (letters, digits, `-`){odd_letters(name)}"
                self.findings.error("bad-id", at, said)
        return found

    def children(self, key: str) -> Iterable[tuple[str, Entry]]:
        """Return the entries of a mapping under `key`, each key checked to be an id."""
        node = self.node(key)
        if node is None or (isinstance(node, Scalar) and not node.text):
            return
        if not isinstance(node, Mapping):
            self.findings.wrong(node, f"a mapping (`name: value`) for `{key}`")
            return
        for name, entry in node.entries.items():
            if is_id(name):
                yield name, entry
            else:
                said = f"`{name}` is not an id; use letters, digits, `-`, `_`, `.` and no blanks{odd_letters(name)}"
                self.findings.error("bad-id", entry.at, said)


def is_id(text: str) -> bool:
    """Return whether `text` may name something."""
    return _ID.fullmatch(text) is not None


def odd_letters(text: str) -> str:
    """Return a hint at letters that look right and are not, or nothing: quotation marks, spaces, accents."""
    if any(letter in TYPOGRAPHIC for letter in text):
        return "; the quotation marks are typographic: take them out, or type plain ones"
    if any(letter.isspace() and letter not in " \t\n" for letter in text):
        return "; a space in it is another sign than a plain space, pasted mostly: type it anew"
    if normalize("NFC", text) != text:
        return "; its accent is a mark of its own behind the letter: type the letter anew"
    return ""


def plain_number(text: str) -> float | None:
    """Return the number that `text` is, or None."""
    return float(text) if _NUMBER.fullmatch(text) else None


def number_of(
    node: Node,
    what: str,
    findings: Findings,
    *,
    low: float | None = 0.0,
    high: float | None = None,
    unit: str = "",
) -> float | None:
    """Return the number in `node`, or None with a finding."""
    if not isinstance(node, Scalar):
        findings.wrong(node, _wanted(what, unit))
        return None
    value = float(node.text) if node.text.isdecimal() else plain_number(node.text.strip())  # most are short and whole
    if value is None:
        if _COMMA_NUMBER.fullmatch(node.text.strip()):
            point = node.text.strip().replace(",", ".")
            findings.error("bad-number", node.at, f"{what}: `{node.text}` has a comma; write `{point}`")
        elif node.text.strip().lstrip("+-.").lower() in ("inf", "nan"):
            findings.error("bad-number", node.at, f"{what}: `{node.text}` is no number to compute with; write a number")
        else:
            findings.error("bad-number", node.at, f"expected {_wanted(what, unit)}, got {describe(node)}")
        return None
    if abs(value) > 1e300 or (low is not None and value < low) or (high is not None and value > high):
        span = f"{_short(low)} to {_short(high)}" if high is not None else f"at least {_short(low)}"
        findings.error("bad-number", node.at, f"{what} must be {span}; got {node.text}")
        return None
    return value


def _wanted(what: str, unit: str) -> str:
    return f"a number{f' of {unit}' if unit else ''} for {what}"


def expression_of(node: Node, what: str, findings: Findings) -> Expression | None:
    """Return the arithmetic in `node`, or None with a finding at the column of the mistake."""
    if not isinstance(node, Scalar):
        findings.wrong(node, f"arithmetic for {what}")
        return None
    return expression_in(node.text, node.at, 0 if node.plain else 1, what, findings)


def expression_in(text: str, at: Place, shift: int, what: str, findings: Findings) -> Expression | None:
    """Return the arithmetic in `text`; `shift` is where it begins behind `at` (a quotation mark, `below `)."""
    try:
        return parse_expression(text)
    except DiagtreeError as error:
        column = at.column + shift + int(getattr(error, "column", 0) or 0)
        findings.error("unreadable-arithmetic", Place(at.file, at.line, column), f"{what}: {error}")
        return None


def _short(number: float | None) -> str:
    return "" if number is None else f"{number:g}"
