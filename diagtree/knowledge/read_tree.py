"""Read a complaint tree."""

from __future__ import annotations

from diagtree.knowledge.fields import Fields, Findings, did_you_mean, is_id, number_of
from diagtree.knowledge.place import Place
from diagtree.knowledge.words import Conclude, HandOver, Refer, Step, Target, Tree
from diagtree.knowledge.yaml_text import Entry, Mapping, Node, Scalar

FORMAT_VERSION = "1"
ENDINGS = ("conclude", "hand-over", "refer")


def read_tree(node: Node, stem: str, findings: Findings) -> Tree:
    """Return the tree in `node`; `stem` is the file's name without ending. Mistakes go into `findings`."""
    fields = Fields(node, f"tree `{stem}`", findings)
    _version(fields, findings)
    tree_id = fields.text("tree", required=True)
    named = fields.node("tree")
    if named is not None and tree_id != stem:
        findings.error("tree-not-file", named.at, f"`tree: {tree_id}` must be the name of its file, `{stem}`")
    causes: dict[str, float] = {}
    causes_at: dict[str, Place] = {}
    for cause, entry in fields.children("causes"):
        share = number_of(entry.value, f"share of `{cause}`", findings, unit="cases per 100")
        causes[cause], causes_at[cause] = share or 0.0, entry.at
    if fields.entry("causes", required=True) is not None and not any(causes.values()):
        findings.error("no-shares", fields.at, f"tree `{stem}` has no cause with a share above 0")
    before = len(findings.found)
    steps = {step: _step(step, entry, findings) for step, entry in fields.children("steps")}
    fields.entry("steps", required=True)
    told = not steps and len(findings.found) > before  # why there are none; `steps: {}` is told by its start
    tree = Tree(
        id=stem,
        title=fields.text("title", required=True),
        revision=int(fields.number("revision", default=1, unit="whole numbers")),
        hears=fields.texts("hears"),
        causes=causes,
        causes_at=causes_at,
        start=fields.text("start", required=True),
        steps=steps,
        at=fields.at,
    )
    start = fields.node("start")
    if start is not None and not told and tree.start not in steps:
        findings.error("unknown-step", start.at, f"`start: {tree.start}` is no step{did_you_mean(tree.start, steps)}")
    fields.done()
    return tree


def _version(fields: Fields, findings: Findings) -> None:
    version = fields.text("diagtree", required=True)
    node = fields.node("diagtree")
    if node is not None and version != FORMAT_VERSION:
        findings.error(
            "unknown-format", node.at, f"`diagtree: {version}` is a format this program cannot read; it reads 1"
        )


def _step(step_id: str, entry: Entry, findings: Findings) -> Step:
    fields = Fields(entry.value, f"step `{step_id}`", findings, entry.at)
    then: dict[str, Target] = {}
    then_at: dict[str, Place] = {}
    fields.entry("then", required=True)
    for outcome, branch in fields.children("then"):
        target = _target(outcome, branch, step_id, findings)
        if target is not None:
            then[outcome], then_at[outcome] = target, branch.at
    places = fields.places("test", "then")
    for outcome, branch in fields.children("then"):
        places[f"then.{outcome}"] = _target_place(branch.value)
    step = Step(step_id, fields.text("test", default=step_id) or step_id, then, then_at, entry.at, places)
    fields.done()
    return step


def _target_place(node: Node) -> Place:
    """Return where the name of the step or ending stands."""
    if isinstance(node, Mapping) and len(node.entries) == 1:
        return next(iter(node.entries.values())).value.at
    return node.at


def _target(outcome: str, branch: Entry, step_id: str, findings: Findings) -> Target | None:
    node = branch.value
    if isinstance(node, Scalar):
        if is_id(node.text):
            return node.text
        findings.error(
            "bad-id", node.at, f"`{node.text}` is no step; name a step or write an ending `{{conclude: CAUSE}}`"
        )
        return None
    if not isinstance(node, Mapping) or len(node.entries) != 1:
        findings.wrong(node, f"a step, or one ending ({', '.join(ENDINGS)}) for `{outcome}` of step `{step_id}`")
        return None
    kind, entry = next(iter(node.entries.items()))
    if kind not in ENDINGS:
        findings.error(
            "unknown-word",
            entry.at,
            f"an ending is one of {', '.join(ENDINGS)}; got `{kind}`{did_you_mean(kind, ENDINGS)}",
        )
        return None
    if not isinstance(entry.value, Scalar) or not entry.value.text.strip():
        findings.wrong(entry.value, f"a name or text for `{kind}`")
        return None
    text = entry.value.text
    return Conclude(text) if kind == "conclude" else HandOver(text) if kind == "hand-over" else Refer(text)
