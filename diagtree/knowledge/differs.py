"""What a profile `differs` in must be in the catalogue, or written out: a misspelt name is no new thing."""

from __future__ import annotations

from diagtree.knowledge.fields import Findings, did_you_mean
from diagtree.knowledge.yaml_text import Entry, Mapping


def known_entries(differs: Mapping, catalogue: Mapping, findings: Findings) -> Mapping:
    """Return `differs` without the entries that change nothing, each told once.

    A car may have a test, a cause or an access of its own: one that begins as it does in the catalogue, with its
    question or its name. An entry without that is meant to change one of the catalogue's.
    """
    sections = dict(differs.entries)
    _keep("test", "ask", "tests", sections, catalogue, findings)
    _keep("cause", "name", "causes", sections, catalogue, findings)
    _keep("access", "name", "access", sections, catalogue, findings)
    return Mapping(differs.at, sections)


def _keep(
    kind: str, head: str, section: str, sections: dict[str, Entry], catalogue: Mapping, findings: Findings
) -> None:
    written = sections.get(section)
    if written is None or not isinstance(written.value, Mapping):
        return
    base = catalogue.entries[section].value
    known = base.entries if isinstance(base, Mapping) else {}
    kept = {}
    for name, entry in written.value.entries.items():
        if name in known or (isinstance(entry.value, Mapping) and head in entry.value.entries):
            kept[name] = entry
            continue
        hint = did_you_mean(name, known) or f"; one that only this car has is written out here, with `{head}:` first"
        findings.error(f"unknown-{kind}", entry.at, f"`differs`: the catalogue has no {kind} `{name}`{hint}")
    sections[section] = Entry(written.at, Mapping(written.value.at, kept))
