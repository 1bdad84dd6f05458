"""One number for the content of a knowledge folder."""

from __future__ import annotations

from collections.abc import Mapping
from hashlib import sha256


def digest_of(texts: Mapping[str, str]) -> str:
    """Return SHA-256 over file names and texts, in the order of the names."""
    total = sha256()
    for name in sorted(texts):
        for part in (name, texts[name]):
            data = part.encode("utf-8", "surrogatepass")
            total.update(len(data).to_bytes(8, "big"))
            total.update(data)
    return total.hexdigest()
