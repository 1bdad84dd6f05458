"""Read the house (`workshop.yaml`) and the vehicle profiles."""

from __future__ import annotations

from diagtree.errors import WrongUse
from diagtree.knowledge.fields import Fields, Findings, plain_number
from diagtree.knowledge.house import MeterAccuracy, Workshop
from diagtree.knowledge.words import Vehicle
from diagtree.knowledge.yaml_text import Entry, Mapping, Node, Scalar
from diagtree.physics.quantity import Facts
from diagtree.physics.units import unit
from diagtree.records import dataclass

SECTIONS = ("tests", "causes", "access", "procedures")


@dataclass(frozen=True, slots=True)
class Profile:
    """A vehicle profile, and what is otherwise on this car than in the catalogue (None: nothing)."""

    vehicle: Vehicle
    differs: Mapping | None


def read_workshop(node: Node, findings: Findings) -> Workshop:
    """Return the house; mistakes go into `findings`."""
    fields = Fields(node, "the workshop", findings)
    workshop = Workshop(
        name=fields.text("workshop", required=True),
        rate=fields.number("rate", required=True, unit="money per hour"),
        referral=fields.number_or_none("referral", unit="money"),
        comeback=fields.number_or_none("comeback", unit="money"),
        meters={tool: _meter(tool, entry, findings) for tool, entry in fields.children("meters")},
        absence_holds=fields.number_or_none("absence_holds", unit="minutes"),
        vehicle=fields.text("vehicle") or None,
        currency=fields.text("currency"),
        at=node.at,
    )
    fields.done()
    return workshop


def _meter(tool: str, entry: Entry, findings: Findings) -> dict[str, MeterAccuracy]:
    fields = Fields(entry.value, f"meter `{tool}`", findings, entry.at)
    found = {}
    for name in fields.written():
        inner_entry = fields.entry(name)
        if inner_entry is None:
            continue
        try:
            unit(name)
        except WrongUse as error:
            findings.error("bad-unit", inner_entry.at, f"meter `{tool}`: {error}")
        inner = Fields(inner_entry.value, f"`{name}` of meter `{tool}`", findings, inner_entry.at)
        found[name] = MeterAccuracy(
            inner.number("percent", required=True, high=100, unit="per cent"), inner.number("counts", unit="counts")
        )
        inner.done()
    return found


def read_profile(node: Node, findings: Findings) -> Profile:
    """Return the vehicle profile; mistakes go into `findings`. All keys but three are facts of the car."""
    fields = Fields(node, "the vehicle profile", findings)
    vehicle_id = fields.text("vehicle", required=True)
    name = fields.text("name", default=vehicle_id)
    differs = fields.node("differs")
    if differs is not None and not isinstance(differs, Mapping):
        findings.wrong(differs, "a mapping of access, procedures, tests or causes for `differs`")
        differs = None
    if differs is not None:
        _known_sections(differs, findings)
    facts: dict[str, Facts | float | str] = {}
    for key in fields.written():
        entry = fields.entry(key)
        if entry is not None and key not in ("vehicle", "name", "differs"):
            facts[key] = _fact(key, entry, findings)
    return Profile(Vehicle(vehicle_id, name, facts, node.at), differs)


def _known_sections(differs: Mapping, findings: Findings) -> None:
    fields = Fields(differs, "`differs`", findings)
    for section in SECTIONS:
        list(fields.children(section))
    fields.done()


def _fact(name: str, entry: Entry, findings: Findings) -> Facts | float | str:
    node = entry.value
    if isinstance(node, Mapping):
        return {key: _fact(key, inner, findings) for key, inner in node.entries.items()}
    if isinstance(node, Scalar):
        number = plain_number(node.text) if node.plain else None
        return node.text if number is None else number
    findings.wrong(node, f"a value or a mapping for the fact `{name}`")
    return "unknown"
