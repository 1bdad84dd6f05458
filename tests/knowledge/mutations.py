"""Ways to spoil a knowledge file, each with what must be said about it: where, and the offending word.

A way looks at one value of a composed file (its keys' path, its key and its place in the text) and returns the
spoilt text, or None where it does not apply. So every mistake is planted at a place that is known beforehand.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from random import Random

import yaml


@dataclass(frozen=True, slots=True)
class Site:
    """One entry of a mapping (or item of a list, `key` None): its path of keys, and its nodes."""

    path: tuple[str, ...]
    key: yaml.ScalarNode | None
    value: yaml.Node
    siblings: tuple[tuple[yaml.Node, yaml.Node], ...]
    owner_line: int
    flow: bool

    @property
    def text(self) -> str:
        return self.value.value if isinstance(self.value, yaml.ScalarNode) else ""

    @property
    def line(self) -> int:
        """The line where the value begins. Counts from 1."""
        return self.value.start_mark.line + 1


@dataclass(frozen=True, slots=True)
class Planted:
    """A spoilt text, the line where the mistake stands, and words of which the message must hold one."""

    text: str
    line: int
    words: tuple[str, ...]


Way = Callable[[str, Site, Random], Planted | None]


def sites(text: str) -> Iterator[Site]:
    """Yield every entry and list item of a file."""
    root = yaml.compose(text, Loader=yaml.CBaseLoader)
    assert root is not None
    yield from _below(root, (), root.start_mark.line + 1)


def _below(node: yaml.Node, path: tuple[str, ...], owner: int) -> Iterator[Site]:
    if isinstance(node, yaml.MappingNode):
        for key, value in node.value:
            inner = (*path, key.value)
            yield Site(inner, key, value, tuple(node.value), owner, bool(node.flow_style))
            yield from _below(value, inner, key.start_mark.line + 1)
    elif isinstance(node, yaml.SequenceNode):
        for item in node.value:
            inner = (*path, "-")
            yield Site(inner, None, item, (), owner, bool(node.flow_style))
            yield from _below(item, inner, item.start_mark.line + 1)


def _put(text: str, node: yaml.Node, new: str) -> str:
    return text[: node.start_mark.index] + new + text[node.end_mark.index :]


def _plain(site: Site) -> bool:
    """Whether the value is a scalar on one line without quotes."""
    value = site.value
    one_line = value.start_mark.line == value.end_mark.line
    return isinstance(value, yaml.ScalarNode) and not value.style and one_line and bool(value.value)


# What must be written, by the path of its owner; `*` stands for any name.
REQUIRED: tuple[tuple[tuple[str, ...], tuple[str, ...]], ...] = (
    ((), ("diagtree", "tree", "title", "causes", "start", "steps", "workshop", "rate", "vehicle")),
    (("steps", "*"), ("then",)),
    (("tests", "*"), ("ask", "place", "minutes", "outcomes", "healthy", "source")),
    (("tests", "*", "needs"), ("power",)),
    (("causes", "*"), ("name", "proof")),
    (("causes", "*", "correction"), ("do", "minutes", "needs")),
    (("causes", "*", "correction", "needs"), ("power",)),
    (("causes", "*", "correction", "parts", "-"), ("name", "price")),
    (("causes", "*", "proof"), ("charge", "minutes")),
    (("causes", "*", "advise"), ("do", "minutes")),
    (("access", "*"), ("name", "open", "close")),
    (("procedures", "*"), ("minutes",)),
    (("procedures", "make-safe", "steps", "-"), ("kind",)),
    (("meters", "*", "*"), ("percent",)),
)
# What may be written besides.
KNOWN: tuple[tuple[tuple[str, ...], tuple[str, ...]], ...] = (
    *REQUIRED,
    ((), ("revision", "hears", "referral", "comeback", "absence_holds", "meters", "tests", "access", "procedures")),
    (("tests", "*"), ("attended", "needs", "how", "qualification", "reads", "judge", "stop", "mistake", "mind")),
    (("tests", "*", "needs"), ("open", "tools", "state")),
    (("causes", "*"), ("where", "shows", "fault", "correction", "advise")),
    (("causes", "*", "correction"), ("parts", "how", "mind", "attended")),
    (("access", "*"), ("after", "power", "mind", "refit-before-live")),
    (("procedures", "*"), ("needs", "steps")),
)
NUMBERS = frozenset(
    {"minutes", "attended", "rate", "referral", "comeback", "absence_holds", "percent", "counts", "open", "close"}
    | {"price", "mistake", "revision"}
)
TEXTS_ONLY = frozenset({"ask", "name", "do", "title", "source", "start", "workshop"})
LISTS = frozenset({"how", "mind", "tools", "state", "hears", "watch", "after", "stop"})


def _named(site: Site, table: tuple[tuple[tuple[str, ...], tuple[str, ...]], ...]) -> bool:
    if site.key is None or site.path[0] in ("inlet", "safety") or "differs" in site.path:
        return False
    owner = site.path[:-1]
    return any(
        site.key.value in keys
        and len(pattern) == len(owner)
        and all(want in ("*", got) for want, got in zip(pattern, owner, strict=True))
        for pattern, keys in table
    )


def drop_key(text: str, site: Site, random: Random) -> Planted | None:
    """Take a key out that must be written; the place is then its owner's."""
    if not _named(site, REQUIRED) or len(site.siblings) < 2 or site.key is None:
        return None
    keys = [key for key, _ in site.siblings]
    index = keys.index(site.key)
    begin = site.key.start_mark.index
    if index + 1 < len(keys):
        end = keys[index + 1].start_mark.index
    elif site.flow:
        begin, end = site.siblings[index - 1][1].end_mark.index, site.value.end_mark.index
    else:
        end = site.value.end_mark.index
    return Planted(text[:begin] + text[end:], site.owner_line, (f"`{site.key.value}:`", site.key.value))


def duplicate_key(text: str, site: Site, random: Random) -> Planted | None:
    """Write an entry twice; the second one is the mistake."""
    if site.key is None or not isinstance(site.value, yaml.ScalarNode) or not site.text:
        return None
    mark = site.key.start_mark
    begin, end = mark.index, site.value.end_mark.index
    if text[begin:end].count("\n"):
        return None
    between = ", " if site.flow else "\n" + " " * mark.column
    line = mark.line + (1 if site.flow else 2)
    return Planted(text[:end] + between + text[begin:end] + text[end:], line, (f"`{site.key.value}`",))


def misspell_key(text: str, site: Site, random: Random) -> Planted | None:
    """Misspell a key of the format."""
    if not _named(site, KNOWN) or site.key is None:
        return None
    word = site.key.value
    at = random.randrange(1, len(word))
    wrong = word[:at] + random.choice("xqz") + word[at:]
    return Planted(_put(text, site.key, wrong), site.key.start_mark.line + 1, (f"`{wrong}`",))


def wrong_type(text: str, site: Site, random: Random) -> Planted | None:
    """Put a list or a mapping where one text or number belongs, or a mapping into a list of texts."""
    name = site.path[-1]
    if "differs" in site.path or not _plain(site):
        return None
    if site.key is None and site.path[-2] in LISTS:
        return Planted(_put(text, site.value, "{a: b}"), site.line, (f"`{site.path[-2]}`",))
    if _is_share(site) or (site.key is not None and name in TEXTS_ONLY | NUMBERS and _named(site, KNOWN)):
        return Planted(_put(text, site.value, random.choice(["[1, 2]", "{a: b}"])), site.line, (f"`{name}`",))
    return None


def _is_share(site: Site) -> bool:
    share = len(site.path) == 2 and site.path[0] == "causes"
    return share or (len(site.path) == 5 and site.path[0] == "causes" and site.path[2] == "shows")


def bad_number(text: str, site: Site, random: Random) -> Planted | None:
    """Write something else than a number from 0: words, units, signs, infinities."""
    number = site.key is not None and site.path[-1] in NUMBERS and _named(site, KNOWN)
    if not _plain(site) or not (number or _is_share(site)):
        return None
    wrong = random.choice(["ten", "12 minutes", "-5", "nan", ".inf", "1e999", "1.2.3", "0x10", "1_000", "12:30", "yes"])
    return Planted(_put(text, site.value, wrong), site.line, (wrong,))


def decimal_comma(text: str, site: Site, random: Random) -> Planted | None:
    """Write a comma for the decimal point; between braces YAML takes what follows for a key."""
    number = site.key is not None and site.path[-1] in NUMBERS and _named(site, KNOWN)
    if not _plain(site) or not (number or _is_share(site)):
        return None
    wrong = f"{random.randrange(1, 90)},{random.randrange(1, 10)}"
    return Planted(_put(text, site.value, wrong), site.line, (wrong.split(",")[1] if site.flow else wrong,))


def bad_unit(text: str, site: Site, random: Random) -> Planted | None:
    """Name a unit that is none, of a reading or a meter."""
    wrong = random.choice(["ohmm", "celsiuss", "parsec", "Voltz"])
    if len(site.path) == 4 and site.path[2] == "reads" and _plain(site):
        return Planted(_put(text, site.value, wrong), site.line, (wrong,))
    if len(site.path) == 3 and site.path[0] == "meters" and site.key is not None:
        return Planted(_put(text, site.key, wrong), site.key.start_mark.line + 1, (wrong,))
    return None


def broken_link(text: str, site: Site, random: Random) -> Planted | None:
    """Name a step, test, cause, access, tree or outcome that does not exist."""
    wrong = random.choice(["nowhere-known", "zz9", "quite-another"])
    target = site.value
    if site.key is not None and (_is_reference(site) or _is_shown(site.path)):
        target = site.key
    elif not _plain(site) or not _points(site.path):
        return None
    return Planted(_put(text, target, wrong), target.start_mark.line + 1, (f"`{wrong}`", f"{wrong}`"))


def _is_reference(site: Site) -> bool:
    """Whether the key names something: a cause of a tree (not its definition), an outcome of a step."""
    path = site.path
    if path[0] == "causes" and len(path) == 2:
        return isinstance(site.value, yaml.ScalarNode) and path[1] != "something-else"
    return path[0] == "steps" and len(path) == 4 and path[2] == "then"


def _is_shown(path: tuple[str, ...]) -> bool:
    return path[0] == "causes" and len(path) in (4, 5) and path[2] == "shows"


def _points(path: tuple[str, ...]) -> bool:
    """Whether the value names something that must exist."""
    if path == ("start",) or path[-1] in ("conclude", "hand-over"):
        return True
    if path[0] == "steps" and (path[-1] == "test" or len(path) == 4):
        return True
    return path[-1] == "healthy" or (path[-1] == "-" and path[-2] in ("open", "after", "stop"))


def bad_arithmetic(text: str, site: Site, random: Random) -> Planted | None:
    """Write arithmetic that cannot be read, or that uses what is not known."""
    wrong, word = random.choice(
        [
            ("12 /", "12 /"),
            ("2 ** 3", "**"),
            ("nosuch(1)", "nosuch"),
            ("a_b < 3", "<"),
            ("wrongname * 2", "wrongname"),
            ("(1 + 2", "(1 + 2"),
            ("3 4", "stand side by side"),
            ("12k", "stand side by side"),
            ("__import__(1)", "__"),
        ]
    )
    name = site.path[-1]
    limit = len(site.path) == 4 and site.path[2] == "outcomes" and site.text.startswith("below ")
    if not _plain(site) or site.path[0] not in ("tests", "procedures"):
        return None
    if limit:
        return Planted(_put(text, site.value, f"below {wrong}"), site.line, (word,))
    if name in ("expected", "judge", "below") or (name == "minutes" and "steps" in site.path):
        return Planted(_put(text, site.value, wrong), site.line, (word,))
    return None


def tab(text: str, site: Site, random: Random) -> Planted | None:
    """Indent a line with a tab."""
    if site.key is None or site.flow or not site.key.start_mark.column:
        return None
    mark = site.key.start_mark
    if text[mark.index - mark.column : mark.index].strip():
        return None
    return Planted(text[: mark.index - mark.column] + "\t" + text[mark.index :], mark.line + 1, ("tab",))


def missing_colon(text: str, site: Site, random: Random) -> Planted | None:
    """Forget the colon behind a key that has a line of its own."""
    if site.key is None or site.flow or not _plain(site) or ":" in site.text or "#" in site.text:
        return None
    at = site.key.end_mark.index
    assert text[at] == ":"
    return Planted(text[:at] + text[at + 1 :], site.key.start_mark.line + 1, ("colon", "name: `"))


def open_quote(text: str, site: Site, random: Random) -> Planted | None:
    """Open a quotation mark and never close it."""
    if not _plain(site) or '"' in text[site.value.start_mark.index :]:
        return None
    return Planted(_put(text, site.value, '"' + site.text), site.line, ("quotation mark",))


def odd_character(text: str, site: Site, random: Random) -> Planted | None:
    """Paste a character that no text file holds."""
    char = random.choice(["\x00", "\x07", "\x1b", "\x7f", "\ufffe"])
    if not _plain(site):
        return None
    return Planted(_put(text, site.value, site.text + char), site.line, (f"U+{ord(char):04X}",))


def machinery(text: str, site: Site, random: Random) -> Planted | None:
    """Use an anchor, an alias, a tag or a merge key."""
    if not _plain(site):
        return None
    new, word = random.choice(
        [(f"&a {site.text}", "anchor"), ("*a", "alias"), (f"!!int {site.text}", "tag"), (f"!run {site.text}", "tag")]
    )
    return Planted(_put(text, site.value, new), site.line, (word,))


def cut(text: str, site: Site, random: Random) -> Planted | None:
    """Break the file off inside a mapping in braces: the brace is never closed."""
    if not site.flow or not isinstance(site.value, yaml.MappingNode) or not site.value.value:
        return None
    inside = site.value.value[0][1].end_mark
    opened = site.value.start_mark
    return Planted(text[: inside.index], opened.line + 1, ("`{`", "`[`"))


WAYS: tuple[Way, ...] = (
    drop_key, duplicate_key, misspell_key, wrong_type, bad_number, decimal_comma, bad_unit, broken_link,
    bad_arithmetic, tab, missing_colon, open_quote, odd_character, machinery, cut,
)  # fmt: skip
