"""The schemas of the knowledge files against the meta-schema of their dialect, the shipped files, and the reader.

Source: JSON Schema, draft 2020-12; the meta-schema is the one that the package `jsonschema` brings along (published at
https://json-schema.org/draft/2020-12/schema). YAML to JSON: YAML 1.2.2, 10.3 (core schema), as editors read it.
"""

from __future__ import annotations

import copy
import re
from collections.abc import Iterator
from functools import cache
from typing import Any

import jsonschema
import pytest
import yaml

from diagtree.knowledge.files import read_texts, shipped_folder
from diagtree.knowledge.library import read_library
from diagtree.knowledge.place import Finding, Level
from diagtree.report.schema import DIALECT, schema_of

KINDS = ("tree", "catalogue", "vehicle", "workshop")
Path_ = tuple[str | int, ...]


def kind_of(name: str) -> str:
    """Return the kind of a knowledge file by its name."""
    if name == "workshop.yaml":
        return "workshop"
    return "catalogue" if name.startswith("catalogue/") else "vehicle" if name.startswith("vehicles/") else "tree"


NUMBER = re.compile(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?")


def core(node: yaml.Node) -> Any:
    """Return a node's value by YAML 1.2's core schema: `no` is a text there, `true` and `12` are not."""
    if isinstance(node, yaml.MappingNode):
        return {key.value: core(value) for key, value in node.value}
    if isinstance(node, yaml.SequenceNode):
        return [core(item) for item in node.value]
    if node.style:
        return node.value
    if node.value in ("", "~", "null", "Null", "NULL"):
        return None
    if node.value in ("true", "false", "True", "False", "TRUE", "FALSE"):
        return node.value.lower() == "true"
    if NUMBER.fullmatch(node.value):
        return float(node.value) if set(".eE") & set(node.value) else int(node.value)
    return node.value


@cache
def validator(kind: str) -> jsonschema.Draft202012Validator:
    return jsonschema.Draft202012Validator(schema_of(kind))


@pytest.mark.parametrize("kind", KINDS)
def test_a_schema_is_valid_by_the_meta_schema(kind: str) -> None:
    schema = schema_of(kind)
    assert schema["$schema"] == DIALECT == jsonschema.Draft202012Validator.META_SCHEMA["$id"]
    jsonschema.Draft202012Validator.check_schema(schema)


@pytest.mark.parametrize("name", sorted(read_texts(shipped_folder())))
def test_every_shipped_file_is_valid(name: str) -> None:
    text = read_texts(shipped_folder())[name]
    errors = validator(kind_of(name)).iter_errors(core(yaml.compose(text, Loader=yaml.CBaseLoader)))
    assert [f"{one.json_path}: {one.message}" for one in errors] == []


DOCUMENTS: dict[str, dict[str, Any]] = {
    "tree.yaml": {
        "diagtree": 1, "tree": "tree", "title": "AC fails", "revision": 1, "hears": ["x"],
        "causes": {"fault": 60, "point": 30, "something-else": 10}, "start": "ask",
        "steps": {
            "ask": {"test": "asked", "then": {"yes": {"conclude": "point"}, "no": "measured", "not-done": "measured"}},
            "measured": {"then": {"low": {"refer": "the maker"}, "high": {"conclude": "fault"}}},
        },
    },
    "catalogue/all.yaml": {
        "tests": {
            "asked": {
                "ask": "Does it?", "how": ["Ask."], "place": "reception", "minutes": 1, "attended": 1,
                "needs": {"power": "any", "open": ["cover"], "tools": ["lamp"], "state": ["Rested."]},
                "qualification": "none", "mind": ["Care."], "outcomes": ["yes", "no"], "healthy": "no", "stop": [],
                "mistake": 5, "source": "common practice",
            },
            "measured": {
                "ask": "Resistance", "how": ["Measure."], "place": "bay", "minutes": 6,
                "needs": {"power": "dead", "open": ["cover"]}, "reads": {"r": {"unit": "ohm", "of": "x"}, "t": "degC"},
                "expected": "12 * vehicle.a.b", "judge": "r / expected",
                "outcomes": {"low": "below 0.9", "high": "otherwise"}, "healthy": "low", "source": "common practice",
            },
        },
        "causes": {
            "fault": {
                "name": "Fault", "where": "inlet", "shows": {"measured": {"low": 10, "high": 90}},
                "fault": {"a.b": "open"}, "source": "estimate",
                "correction": {
                    "do": "Replace it", "how": ["So."], "minutes": 60, "attended": 30,
                    "parts": [{"name": "part", "price": 10}], "needs": {"power": "dead", "open": ["cover"]},
                    "qualification": "high-voltage", "mind": ["Care."],
                },
                "proof": {"charge": "ac", "minutes": 30, "attended": 5, "watch": ["r"]},
            },
            "point": {"name": "Point", "advise": {"do": "Have it checked.", "minutes": 10, "attended": 5}},
        },
        "access": {
            "cover": {
                "name": "cover", "open": 1, "close": 2, "after": [], "power": "any", "refit-before-live": True,
                "mind": ["Care."],
            },
        },
        "procedures": {
            "make-safe": {
                "minutes": 25, "needs": {"open": ["cover"]}, "mind": ["Care."],
                "steps": [
                    *({"kind": kind, "do": "Do."} for kind in ("unplug", "switch-off", "disconnect", "secure")),
                    {"kind": "wait", "do": "Wait.", "minutes": "vehicle.w"}, {"kind": "prove-tester", "do": "Do."},
                    {
                        "kind": "absence", "do": "Do.", "below": 60, "mind": ["Care."],
                        "between": ["DC+ and DC-", "DC+ and chassis", "DC- and chassis"],
                    },
                    {"kind": "prove-tester", "do": "Do."},
                ],
            },
            "re-energise": {"minutes": 1, "steps": ["Close it.", {"do": "Look."}]},
            "hand-back": {"minutes": 1},
        },
    },
    "vehicles/car.yaml": {
        "vehicle": "car", "name": "Car", "a": {"b": 1}, "w": 5,
        "differs": {
            "access": {"cover": {"open": 3}}, "tests": {"measured": {"needs": {"open": []}}},
            "causes": {"fault": {"correction": {"parts": [{"name": "part", "price": 5}]}}},
            "procedures": {"make-safe": {"minutes": 40}},
        },
    },
    "workshop.yaml": {
        "workshop": "Harbour Lane Garage", "rate": 96, "referral": 250, "comeback": 300, "absence_holds": 30,
        "vehicle": "car", "currency": "EUR", "meters": {"multimeter": {"ohm": {"percent": 0.9, "counts": 3}}},
    },
}  # fmt: skip


class _Plain(yaml.SafeDumper):
    def ignore_aliases(self, data: Any) -> bool:
        return True


def read(name: str, document: Any) -> list[Finding]:
    """Return the errors that the reader tells of one document among the others."""
    texts = {one: yaml.dump(said, Dumper=_Plain, sort_keys=False) for one, said in DOCUMENTS.items()}
    texts[name] = yaml.dump(document, Dumper=_Plain, sort_keys=False)
    return [one for one in read_library(texts).all_findings() if one.level is Level.ERROR]


def fits(name: str, document: Any) -> bool:
    """Whether a document is valid by its schema, read as an editor reads the YAML text."""
    text = yaml.dump(document, Dumper=_Plain, sort_keys=False)
    return bool(validator(kind_of(name)).is_valid(core(yaml.compose(text, Loader=yaml.CBaseLoader))))


def mappings(value: Any, path: Path_ = ()) -> Iterator[Path_]:
    """Yield the path of every mapping in a document."""
    if isinstance(value, dict):
        yield path
    for key, inner in value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ():
        yield from mappings(inner, (*path, key))


def changed(document: Any, path: Path_, key: str | int, value: Any) -> Any:
    """Return a copy with `key` of the mapping at `path` set, or taken out where `value` is ..."""
    new = copy.deepcopy(document)
    at = new
    for part in path:
        at = at[part]
    if value is ...:
        del at[key]
    else:
        at[key] = value
    return new


@pytest.mark.parametrize("name", DOCUMENTS)
def test_the_documents_have_no_mistake(name: str) -> None:
    assert [str(one) for one in read(name, DOCUMENTS[name])] == []
    assert fits(name, DOCUMENTS[name])


PLACES = [(name, path) for name in DOCUMENTS for path in mappings(DOCUMENTS[name])]
FREE = "free names"  # a mapping whose keys are the author's


def keys_of_reader(name: str, path: Path_) -> frozenset[str] | str:
    """Return the keys that the reader asks for in the mapping at `path`: what it says of one that it does not know."""
    found = read(name, changed(DOCUMENTS[name], path, "qqqq", "x"))
    told = [one.message for one in found if one.rule == "unknown-key" and "`qqqq`" in one.message]
    if not told:
        return FREE
    return frozenset(told[0].rpartition("known here: ")[2].split(", "))


def schemas(schema: Any, root: Any, path: Path_) -> Iterator[Any]:
    """Yield every part of a schema that speaks of the value at `path`."""
    if "$ref" in schema:
        yield from schemas(root["$defs"][schema["$ref"].rpartition("/")[2]], root, path)
    for inner in (*schema.get("anyOf", ()), *schema.get("allOf", ())):
        yield from schemas(inner, root, path)
    if not path:
        yield schema
        return
    key, rest = path[0], path[1:]
    if isinstance(key, int):
        below = schema.get("items")
    else:
        below = schema.get("properties", {}).get(key, schema.get("additionalProperties"))
    if isinstance(below, dict):
        yield from schemas(below, root, rest)


def label(one: str | Path_) -> str:
    return one if isinstance(one, str) else "/".join(map(str, one))


@pytest.mark.parametrize(("name", "path"), PLACES, ids=label)
def test_reader_and_schema_know_the_same_keys(name: str, path: Path_) -> None:
    """In every mapping: the keys that the reader asks for are the schema's, none more and none less."""
    asked = keys_of_reader(name, path)
    root = schema_of(kind_of(name))
    said = [one for one in schemas(root, root, path) if one.get("additionalProperties") is False]
    if asked == FREE:
        fixed = ({"conclude", "hand-over", "refer"}, {"make-safe", "re-energise", "hand-back"})  # words, not keys
        assert all(set(one["properties"]) in fixed for one in said), said
        return
    assert said, "the schema lets every key pass"
    for one in said:
        assert set(one["properties"]) == asked


def mutations() -> Iterator[tuple[str, Path_, str, Any]]:
    for name, path in PLACES:
        at: Any = DOCUMENTS[name]
        for part in path:
            at = at[part]
        for key in at:
            yield name, path, key, ...
            yield name, path, key, [{"a": [1]}]
            if isinstance(at[key], (int, float)) and not isinstance(at[key], bool):
                yield name, path, key, -1
                yield name, path, key, "1,5"
            if isinstance(at[key], str):
                yield name, path, key, {"a": 1}
        yield name, path, "bad name", 1


ABOUT_LINKS = (
    "unknown-", "outcome-without-branch", "branch-without-outcome", "no-shares", "unreadable-arithmetic", "shows-not",
    "tree-not-file", "judge-", "limits-without", "reads-without", "make-safe-order", "pairs-missing", "bad-unit",
    "live-needs", "unit-mismatch", "duplicate-outcome", "reserved-word",
)  # fmt: skip


def speaks_of_form(finding: Finding) -> bool:
    """Whether a finding is about the form of a document, which is what a schema can tell."""
    return finding.rule in ("unknown-key", "unknown-word", "unknown-format") or not finding.rule.startswith(ABOUT_LINKS)


def test_reader_and_schema_refuse_the_same_mutations() -> None:
    """Each key taken out, of a wrong type, below 0, with a comma; each mapping with a key that is no name."""
    count, apart = 0, []
    for name, path, key, value in mutations():
        document = changed(DOCUMENTS[name], path, key, value)
        found = [one for one in read(name, document) if one.place.file == name]
        passes = fits(name, document)
        if (passes and any(speaks_of_form(one) for one in found)) or not (passes or found):
            told = "; ".join(f"{one.rule}: {one.message}" for one in found)
            apart.append(f"{name} {'/'.join(map(str, path))} {key}={value}: reader {told or 'nothing'}")
        count += 1
    assert apart == []
    assert count > 400


@pytest.mark.parametrize("kind", KINDS)
def test_the_command_prints_the_schema(kind: str, capsys: pytest.CaptureFixture[str]) -> None:
    import json

    from diagtree.terminal.main import main

    assert main(["check", "--schema", kind]) == 0
    assert json.loads(capsys.readouterr().out) == schema_of(kind)
