"""The text of the knowledge that a case began with, each text once, named by its digest."""

from __future__ import annotations

import json
import sqlite3
import zlib
from collections.abc import Mapping

from diagtree.cases.chain import canonical, sha256
from diagtree.errors import StoreError


def digest_of(texts: Mapping[str, str]) -> str:
    """Return the digest of a set of knowledge files (file name to text): SHA-256 in hexadecimal."""
    return sha256(_files(texts).encode("ascii"))


def keep(connection: sqlite3.Connection, texts: Mapping[str, str]) -> str:
    """Save what is not yet saved of the texts, inside the caller's transaction; return the digest of the set."""
    for text in texts.values():
        packed = _encode(text)
        digest = sha256(packed)
        if not connection.execute("SELECT 1 FROM texts WHERE digest = ?", (digest,)).fetchone():
            connection.execute("INSERT INTO texts VALUES (?, ?)", (digest, zlib.compress(packed, 1)))
    files = _files(texts)
    digest = sha256(files.encode("ascii"))
    if not connection.execute("SELECT 1 FROM text_sets WHERE digest = ?", (digest,)).fetchone():
        connection.execute("INSERT INTO text_sets VALUES (?, ?)", (digest, files))
    return digest


def read(connection: sqlite3.Connection, digest: str) -> dict[str, str]:
    """Return the texts of the set, file name to text. Raises StoreError if one is missing or not what it was."""
    row = connection.execute("SELECT files FROM text_sets WHERE digest = ?", (digest,)).fetchone()
    if row is None or sha256(str(row[0]).encode("utf-8", "surrogatepass")) != digest:
        raise StoreError(f"the list of knowledge files {digest[:12]} is missing or damaged")
    return {file: _text(connection, file, text_digest) for file, text_digest in json.loads(row[0]).items()}


def _text(connection: sqlite3.Connection, file: str, digest: str) -> str:
    row = connection.execute("SELECT packed FROM texts WHERE digest = ?", (digest,)).fetchone()
    try:
        data = zlib.decompress(row[0]) if row else b""
    except (zlib.error, TypeError):
        data = b""
    if sha256(data) != digest:
        raise StoreError(f"the kept text of {file} is missing or damaged")
    return data.decode("utf-8", "surrogatepass")


def _files(texts: Mapping[str, str]) -> str:
    return canonical({file: sha256(_encode(text)) for file, text in texts.items()})


def _encode(text: str) -> bytes:
    return text.encode("utf-8", "surrogatepass")  # every text comes back as it was, odd ones too
