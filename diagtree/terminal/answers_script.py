"""A script in an answers file: what was said at every prompt, in order, errors and interruptions included.

    script:
      - {choose: [nothing]}                              # options of a choice
      - {type: {resistance: 1.2 M}, meter: multimeter}   # values of fields; a meter where it is not the test's own
      - {tick: done, says: shift lead}
      - {not-done: no time}                              # with the reason
      - {back: 2}
      - {did-not: "it was not me"}
      - {changed: {powered: no, opened: [], closed: [rear-bench], note: the night shift}}
      - {record: {test: charging-codes, outcome: none, note: the night shift, was-mistake: yes}}
      - {do-now: charging-codes}
      - choose-now                                       # leave the tree's turn, choose among what remains
      - {note: pin slightly green}
      - {wait: 90}                                       # minutes go by
      - leave-and-return

`check --walks` writes one for a walk that broke a law; it can be written by hand too.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from diagtree.check.walks.said import Said, Waited
from diagtree.knowledge.fields import Fields, Findings, describe
from diagtree.knowledge.place import Place
from diagtree.knowledge.yaml_text import Mapping as MappingNode
from diagtree.knowledge.yaml_text import Node, Scalar, Sequence
from diagtree.physics.nearest import did_you_mean
from diagtree.walk.answers import (
    Back,
    Changed,
    ChooseNow,
    Chosen,
    DidNot,
    DoNow,
    Leave,
    NotDone,
    Note,
    RecordTest,
    Ticked,
    Typed,
)

Line = tuple[Said, Place]
"""What is said, and where the file says it."""

_WORDS: Mapping[str, Said] = {"choose-now": ChooseNow(), "leave-and-return": Leave()}


def read_script(node: Node | None, findings: Findings) -> tuple[Line, ...]:
    """Return the lines of `script:`; every mistake becomes a finding at its place."""
    if node is None:
        return ()
    if not isinstance(node, Sequence):
        findings.wrong(node, "a list (`- choose: no`) for `script`")
        return ()
    return tuple((said, item.at) for item in node.items if (said := _line(item, findings)) is not None)


def _line(node: Node, findings: Findings) -> Said | None:
    if isinstance(node, Scalar) and node.text in _WORDS:
        return _WORDS[node.text]
    known = (*_BY_KEY, *_WORDS)
    if isinstance(node, MappingNode) and node.entries:
        key = next(iter(node.entries))
        if key in _BY_KEY:
            fields = Fields(node, f"`{key}` of a script", findings)
            said = _BY_KEY[key](fields)
            fields.done()
            return said
        hint = did_you_mean(key, known) or f"; known here: {', '.join(known)}"
        findings.error("unknown-key", node.at, f"a script has no `{key}`{hint}")
        return None
    findings.error("wrong-type", node.at, f"expected one of {', '.join(known)}, got {describe(node)}")
    return None


def _type(fields: Fields) -> Said:
    return Typed(_values(fields.node("type"), fields.findings), fields.text("meter") or None)


def _changed(fields: Fields) -> Said:
    inner = Fields(fields.node("changed"), "`changed`", fields.findings)
    said = Changed(_yes(inner, "powered"), inner.texts("opened"), inner.texts("closed"), inner.text("note"))
    inner.done()
    return said


def _record(fields: Fields) -> Said:
    inner = Fields(fields.node("record"), "`record`", fields.findings)
    values = _values(inner.node("values"), fields.findings)
    said = RecordTest(
        inner.text("test", required=True), inner.text("outcome") or None, values, inner.text("note"),
        _yes(inner, "was-mistake"),
    )  # fmt: skip
    inner.done()
    return said


def _yes(fields: Fields, key: str) -> bool:
    return fields.text(key) in ("yes", "true")


def _values(node: Node | None, findings: Findings) -> dict[str, str]:
    if node is None:
        return {}
    fields = Fields(node, "typed values", findings)
    found = {name: fields.text(name) for name in fields.written()}
    fields.done()
    return found


def _number(fields: Fields, key: str) -> float:
    node, text = fields.node(key), fields.text(key)
    try:
        number = float(text)
    except ValueError:
        number = -1.0
    if not 0 < number < float("inf") and node is not None:
        fields.findings.error("bad-number", node.at, f"`{key}` takes a number above 0, got `{text}`")
    return number


_BY_KEY: Mapping[str, Callable[[Fields], Said]] = {
    "choose": lambda fields: Chosen(fields.texts("choose")),
    "type": _type,
    "tick": lambda fields: Ticked(fields.text("tick"), fields.text("says")),
    "not-done": lambda fields: NotDone(fields.text("not-done")),
    "back": lambda fields: Back(int(_number(fields, "back"))),
    "did-not": lambda fields: DidNot(fields.text("did-not")),
    "changed": _changed,
    "record": _record,
    "do-now": lambda fields: DoNow(fields.text("do-now")),
    "note": lambda fields: Note(fields.text("note")),
    "wait": lambda fields: Waited(_number(fields, "wait")),
}
