"""What a profile `differs` in, laid over the catalogue: mappings merge at every depth, all else replaces."""

from __future__ import annotations

from diagtree.knowledge.yaml_text import Entry, Mapping


def merged(base: Mapping, over: Mapping) -> Mapping:
    """Return `base` with `over` laid on it. Keys keep the place in the order that `base` gave them."""
    entries = dict(base.entries)
    for key, entry in over.entries.items():
        below = entries.get(key)
        if below is not None and isinstance(below.value, Mapping) and isinstance(entry.value, Mapping):
            entries[key] = Entry(below.at, merged(below.value, entry.value))
        else:
            entries[key] = entry
    return Mapping(base.at, entries)
