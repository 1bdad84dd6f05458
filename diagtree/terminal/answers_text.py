"""An answers file: YAML text to what it says, every entry with its place. Nothing is judged here against the tests.

    vehicle: petrel-2
    look: nothing
    answers: {charges-on-another-point: no, inlet-sensor-resistance: {resistance: 1.2 M, inlet_temperature: 18}}
    procedures:
      make-safe: {secure: shift lead, absence: [0.4, 0.1, 0.2]}
    notes: {inlet-sensor-resistance: pin slightly green}

A whole job needs more, and may say it in the same file:

    complaint: {words: stops after ten minutes, cuts_out_after: 10}
    already: {open: [rear-bench], isolated: no}
    facts: {inlet.dc_sensor: ntc r25=10000 beta=3435}     # or `compare`
    go-on: yes                                            # do not stop at the first ending
    correction: what was fitted
    proof: {minutes: 45, watched: 10, power: 7, cut_out: no, inlet_temperature: 40, result: fixed}     # or a list
    remaining: [test:charger-fuse, correct:charger-fault] # what to do after a correction in vain
    voltage-found: isolated                               # or `repeat`, with another entry under `make-safe`

Or it says what is said at every prompt, in order, as `script:` (`answers_script`).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field

from diagtree.errors import KnowledgeError
from diagtree.knowledge.fields import Fields, Findings, describe
from diagtree.knowledge.place import Level, Place
from diagtree.knowledge.yaml_text import Entry, Node, Scalar, Sequence, compose
from diagtree.knowledge.yaml_text import Mapping as MappingNode
from diagtree.records import dataclass
from diagtree.terminal.answers_script import Line, read_script


@dataclass(frozen=True, slots=True)
class Said:
    """A text and where it stands."""

    text: str
    at: Place


@dataclass(frozen=True, slots=True)
class Given:
    """What a file says about one test: a word (an outcome, `not-done`, or a lone reading), or readings by name."""

    at: Place
    word: str | None = None
    readings: Mapping[str, Said] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class ProcedureSaid:
    """What a file says about one run of a procedure: texts by kind of step, and the readings of the absence."""

    at: Place
    says: Mapping[str, Said] = field(default_factory=dict)
    absence: tuple[Said, ...] = ()


@dataclass(frozen=True, slots=True)
class AnswersFile:
    """Everything that a file answers. Mappings keep the author's order."""

    name: str
    vehicle: str | None
    look: Said | None
    complaint: Mapping[str, Said]
    already: Mapping[str, tuple[Said, ...]]
    answers: Mapping[str, Given]
    procedures: Mapping[str, tuple[ProcedureSaid, ...]]
    notes: Mapping[str, Said]
    facts: Mapping[str, Said]
    proof: tuple[Mapping[str, Said], ...]
    remaining: tuple[Said, ...]
    choices: Mapping[str, Said]  # `correction`, `go-on`, `voltage-found`: what to answer where they come up
    script: tuple[Line, ...]  # instead of all of it: what is said at every prompt, in order


_CHOICES = ("correction", "go-on", "voltage-found")


def read_answers(text: str, name: str) -> AnswersFile:
    """Return what `text` says. Raises KnowledgeError with every mistake in its form, each at its place."""
    findings = Findings()
    node, wrong = compose(text, name)
    findings.found.extend(wrong)
    if node is None and not wrong:
        findings.error("empty-file", Place(name), "the answers file is empty; it needs at least `answers:`")
    fields = Fields(node, "an answers file", findings)
    found = AnswersFile(
        name=name,
        vehicle=fields.text("vehicle") or None,
        look=_said(fields.node("look"), "look", findings),
        complaint=_texts(fields.node("complaint"), "complaint", findings),
        already=_lists(fields.node("already"), findings),
        answers={test: _given(entry, test, findings) for test, entry in _entries(fields.node("answers"), findings)},
        procedures={
            one: _runs(entry.value, findings) for one, entry in _entries(fields.node("procedures"), findings)
        },
        notes=_texts(fields.node("notes"), "notes", findings),
        facts=_texts(fields.node("facts"), "facts", findings),
        remaining=_list(remaining, "remaining", findings) if (remaining := fields.node("remaining")) else (),
        proof=tuple(_texts(one, "proof", findings) for one in _several(fields.node("proof"))),
        choices={
            key: said for key in _CHOICES if (said := _said(fields.node(key), key, findings)) is not None
        },
        script=read_script(fields.node("script"), findings),
    )  # fmt: skip
    fields.done()
    errors = tuple(one for one in findings.found if one.level is Level.ERROR)
    if errors:
        raise KnowledgeError(f"{name}: {len(errors)} mistake{'' if len(errors) == 1 else 's'}", errors)
    return found


def _entries(node: Node | None, findings: Findings) -> tuple[tuple[str, Entry], ...]:
    if node is None or (isinstance(node, Scalar) and not node.text):
        return ()
    if not isinstance(node, MappingNode):
        findings.wrong(node, "a mapping (`name: value`)")
        return ()
    return tuple(node.entries.items())


def _said(node: Node | None, what: str, findings: Findings) -> Said | None:
    if node is None:
        return None
    if isinstance(node, Scalar) and node.text.strip():
        return Said(node.text.strip(), node.at)
    findings.error("wrong-type", node.at, f"expected a text or a number for `{what}`, got {describe(node)}")
    return None


def _texts(node: Node | None, what: str, findings: Findings) -> dict[str, Said]:
    found = ((key, _said(entry.value, f"{what}: {key}", findings)) for key, entry in _entries(node, findings))
    return {key: said for key, said in found if said is not None}


def _list(node: Node, what: str, findings: Findings) -> tuple[Said, ...]:
    items = node.items if isinstance(node, Sequence) else (node,)
    return tuple(said for item in items if (said := _said(item, what, findings)) is not None)


def _lists(node: Node | None, findings: Findings) -> dict[str, tuple[Said, ...]]:
    return {key: _list(entry.value, f"already: {key}", findings) for key, entry in _entries(node, findings)}


def _given(entry: Entry, test: str, findings: Findings) -> Given:
    if isinstance(entry.value, MappingNode):
        return Given(entry.at, readings=_texts(entry.value, test, findings))
    said = _said(entry.value, test, findings)
    return Given(entry.at, word=said.text if said else "")


def _runs(node: Node, findings: Findings) -> tuple[ProcedureSaid, ...]:
    return tuple(_run(one, findings) for one in _several(node))


def _run(node: Node, findings: Findings) -> ProcedureSaid:
    says: dict[str, Said] = {}
    absence: tuple[Said, ...] = ()
    for kind, entry in _entries(node, findings):
        if kind == "absence":
            absence = _list(entry.value, kind, findings)
        elif (said := _said(entry.value, kind, findings)) is not None:
            says[kind] = said
    return ProcedureSaid(node.at, says, absence)


def _several(node: Node | None) -> tuple[Node, ...]:
    if node is None:
        return ()
    return node.items if isinstance(node, Sequence) else (node,)
