"""JSON Schema (draft 2020-12) of the knowledge files, so that an editor completes and underlines while one writes.

Keys and what they hold come from the types of the knowledge (`schema_types`). What the types do not say stands in
`_WRITTEN`: a key of another name, a shape that the reader takes apart, what must be there. A test reads documents with
every key, and each mutation of them, both ways: reader and schema must agree. Names that lead nowhere, arithmetic and
units are for `check`.

Source: JSON Schema, draft 2020-12 (Core and Validation, Internet-Drafts of 16 June 2022).
"""

from __future__ import annotations

from collections.abc import Mapping

from diagtree.errors import WrongUse
from diagtree.knowledge.house import MeterAccuracy, Workshop
from diagtree.knowledge.read_access import PROCEDURES, AccessPower
from diagtree.knowledge.read_cause import WHERE, Charge
from diagtree.knowledge.read_test import OTHERWISE
from diagtree.knowledge.read_tree import ENDINGS, FORMAT_VERSION
from diagtree.knowledge.read_units import BELOW
from diagtree.knowledge.words import (
    MAKE_SAFE,
    MAKE_SAFE_ORDER,
    Access,
    Advice,
    Catalogue,
    Cause,
    Correction,
    Needs,
    Part,
    Procedure,
    ProcedureStep,
    Proof,
    Step,
    Test,
    Tree,
)
from diagtree.report.schema_types import ARITHMETIC, NAME, TEXT, TEXTS, Definitions, Schema, Written, at_most, mapping
from diagtree.report.schema_types import words as one_of

DIALECT = "https://json-schema.org/draft/2020-12/schema"

_UNIT: Schema = {"type": "string", "description": "A unit, such as ohm, V, degC"}
_READING: Schema = {
    "anyOf": [
        _UNIT,
        {
            "type": "object",
            "properties": {"unit": _UNIT, "of": TEXT},
            "required": ["unit"],
            "additionalProperties": False,
        },
    ]
}
_LIMITS: Schema = {
    **mapping({"type": "string", "pattern": f"^ *({BELOW}.+|{OTHERWISE} *)$"}),
    "minProperties": 2,
    "description": "Ascending limits, the last one `otherwise`",
}
_OUTCOMES: Schema = {"anyOf": [{"type": "array", "items": TEXT, "minItems": 2, "uniqueItems": True}, _LIMITS]}
_ENDING: Schema = {
    "type": "object",
    "properties": dict.fromkeys(ENDINGS, TEXT),
    "additionalProperties": False,
    "minProperties": 1,
    "maxProperties": 1,
}
_POWER_WRITTEN: Schema = {"required": ["needs"], "properties": {"needs": {"required": ["power"]}}}
_BAY: Schema = {"if": {"properties": {"place": {"const": "bay"}}, "required": ["place"]}, "then": _POWER_WRITTEN}
_ENDS: Schema = {
    "oneOf": [
        {"required": ["correction", "proof"], "not": {"required": ["advise"]}},
        {"required": ["advise"], "not": {"anyOf": [{"required": ["correction"]}, {"required": ["proof"]}]}},
    ]
}
_OPENS: Schema = {"type": "object", "properties": {"open": TEXTS}, "additionalProperties": False}

# The names of parts are physics', not ids: `DC+` is one.
_FAULT: Schema = {"type": "object", "additionalProperties": {"type": ["string", "number"]}}

_WRITTEN: Mapping[type, Written] = {
    Test: Written(
        shapes={"reads": mapping(_READING), "outcomes": _OUTCOMES, "expected": ARITHMETIC, "mistake": at_most(100)},
        required=("ask", "place", "minutes", "outcomes", "healthy", "source"),
        more=_BAY,
    ),
    Needs: Written(),
    Cause: Written(
        shapes={"where": one_of(*WHERE), "shows": mapping(mapping(at_most(100))), "fault": _FAULT},
        required=("name",),
        more=_ENDS,
    ),
    Correction: Written(required=("do", "minutes"), more=_POWER_WRITTEN),
    Part: Written(required=("name", "price")),
    Proof: Written(shapes={"charge": one_of(*Charge)}, required=("charge", "minutes")),
    Advice: Written(required=("do", "minutes")),
    Access: Written(
        keys={"dead_only": "power", "refit_before_live": "refit-before-live"},
        shapes={"power": one_of(*AccessPower)},
        required=("name", "open", "close"),
    ),
    ProcedureStep: Written(),
    Procedure: Written(keys={"open": "needs"}, shapes={"needs": _OPENS}, required=("minutes",)),
    MeterAccuracy: Written(shapes={"percent": at_most(100)}, required=("percent",)),
    Step: Written(shapes={"then": mapping({"anyOf": [{"type": "string", **NAME}, _ENDING]})}, required=("then",)),
    Tree: Written(
        keys={"id": "tree"},
        shapes={"diagtree": {"enum": [int(FORMAT_VERSION), FORMAT_VERSION]}, "tree": TEXT},
        required=("diagtree", "tree", "title", "causes", "start", "steps"),
    ),
    Workshop: Written(keys={"name": "workshop"}, required=("workshop", "rate")),
    Catalogue: Written(left_out=frozenset({"vehicle"})),
}
_VEHICLE_KEYS: Mapping[str, Schema] = {"vehicle": TEXT, "name": TEXT}


def schema_of(kind: str) -> Schema:
    """Return the schema of one kind of file: tree, catalogue, vehicle or workshop."""
    match kind:
        case "tree":
            return _file("A complaint tree", *_of(Tree))
        case "workshop":
            return _file("The house", *_of(Workshop))
        case "catalogue":
            return _file("Part of the catalogue", *_catalogue(partial=False))
        case "vehicle":
            return _file("A vehicle profile", *_vehicle())
    raise WrongUse(f"there is no schema `{kind}`; there are tree, catalogue, vehicle, workshop")


def _file(title: str, schema: Schema, found: dict[str, Schema]) -> Schema:
    return {"$schema": DIALECT, "title": title, **schema, "$defs": found}


def _of(kind: type) -> tuple[Schema, dict[str, Schema]]:
    definitions = Definitions(_WRITTEN)
    return definitions.of_class(kind), definitions.found


def _catalogue(*, partial: bool) -> tuple[Schema, dict[str, Schema]]:
    definitions = Definitions(_WRITTEN, partial)
    schema = definitions.of_class(Catalogue)
    procedure, step = definitions.refer(Procedure)["$ref"], definitions.whole().refer(ProcedureStep)["$ref"]
    plain = definitions.found.pop(procedure.rpartition("/")[2])
    safe: Schema = {"required": ["kind"], "properties": {"kind": one_of(*MAKE_SAFE_ORDER)}}
    schema["properties"]["procedures"] = {
        "type": "object",
        "additionalProperties": False,
        "properties": {
            name: _procedure(plain, {"allOf": [{"$ref": step}, safe]} if name == MAKE_SAFE else _do(step))
            for name in PROCEDURES
        },
    }
    return schema, definitions.found


def _do(step: str) -> Schema:
    return {"anyOf": [TEXT, {"$ref": step}]}  # a plain line of what to do


def _procedure(plain: Schema, step: Schema) -> Schema:
    return {**plain, "properties": {**plain["properties"], "steps": {"type": "array", "items": step}}}


def _vehicle() -> tuple[Schema, dict[str, Schema]]:
    differs, found = _catalogue(partial=True)
    fact: Schema = {"anyOf": [TEXT, {"type": "object", "additionalProperties": {"$ref": "#/$defs/fact"}}]}
    schema: Schema = {
        "type": "object",
        "properties": {**_VEHICLE_KEYS, "differs": differs},
        "required": ["vehicle"],
        "additionalProperties": {"$ref": "#/$defs/fact"},
    }
    return schema, {**found, "fact": fact}
