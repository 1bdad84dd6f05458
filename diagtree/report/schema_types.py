"""The types of the knowledge as JSON Schema: what a key holds is read off the type that it becomes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field, fields, is_dataclass
from enum import StrEnum
from inspect import cleandoc
from types import NoneType, UnionType
from typing import Any, TypeAlias, get_args, get_origin, get_type_hints

from diagtree.knowledge.limits import Expression
from diagtree.records import dataclass

Schema: TypeAlias = dict[str, Any]

TEXT: Schema = {"type": ["string", "number", "boolean"]}  # `title: 12` and `yes` are texts to the reader
TEXTS: Schema = {"anyOf": [TEXT, {"type": "array", "items": TEXT}]}
ARITHMETIC: Schema = {"type": ["string", "number"], "description": "Arithmetic over numbers, readings and vehicle.*"}
# What `fields.is_id` takes, in the regular expressions that all validators share: no blank, no ASCII punctuation
# but `-`, `_` and `.`, no quotation marks of the typographers.
_NO = r"\s:-@\[-^`{-~\u201c\u201d\u201e\u2018\u2019\u00ab\u00bb"
NAME: Schema = {"pattern": f"^[^{_NO}!-/][^{_NO}!-,/]*$"}
NOT_WRITTEN = frozenset({"id", "at", "places", "causes_at", "then_at"})  # told by the place in the file


@dataclass(frozen=True, slots=True)
class Written:
    """How a type is written where that is not as its fields say.

    keys : field to key. shapes : key to schema. required : keys that must be written. more : further constraints.
    left_out : fields that no key of this object becomes.
    """

    keys: Mapping[str, str] = field(default_factory=dict)
    shapes: Mapping[str, Schema] = field(default_factory=dict)
    required: tuple[str, ...] = ()
    more: Schema = field(default_factory=dict)
    left_out: frozenset[str] = frozenset()


@dataclass
class Definitions:
    """Schemas by name, made as they are referred to. partial : nothing need be written (what a car differs in)."""

    written: Mapping[type, Written]
    partial: bool = False
    found: dict[str, Schema] = field(default_factory=dict)

    def refer(self, kind: type) -> Schema:
        """Return a reference to the schema of a dataclass, which is made if it is new."""
        name = kind.__name__.lower() + ("-difference" if self.partial else "")
        if name not in self.found:
            self.found[name] = {}  # a type may hold itself
            self.found[name] = self.of_class(kind)
        return {"$ref": f"#/$defs/{name}"}

    def of_class(self, kind: type) -> Schema:
        """Return the schema of the mapping that becomes a dataclass."""
        how = self.written.get(kind, Written())
        hints = get_type_hints(kind)
        names = [one.name for one in fields(kind) if one.name not in NOT_WRITTEN | how.left_out]
        keys = {how.keys.get(name, name): hints[name] for name in names}
        properties = {key: self._one(hint, how.shapes.get(key)) for key, hint in keys.items()}
        properties.update({key: shape for key, shape in how.shapes.items() if key not in properties})
        schema: Schema = {
            "description": cleandoc(kind.__doc__ or "").split("\n\n")[0].replace("\n", " "),
            "type": "object",
            "properties": properties,
            "additionalProperties": False,
        }
        if not self.partial:
            schema |= {"required": list(how.required)} | ({"allOf": [how.more]} if how.more else {})
        return schema

    def _one(self, hint: Any, shape: Schema | None) -> Schema:
        return self.of(hint) if shape is None else shape

    def whole(self) -> Definitions:
        """Return the same for what must be written in full: a list replaces, it is not merged."""
        return Definitions(self.written, False, self.found)

    def of(self, hint: Any) -> Schema:
        """Return the schema of a type."""
        origin, inside = get_origin(hint), [part for part in get_args(hint) if part not in (NoneType, Ellipsis)]
        if isinstance(hint, UnionType):
            return self.of(inside[0]) if len(inside) == 1 else {"anyOf": [self.of(part) for part in inside]}
        if origin in (tuple, frozenset):
            return TEXTS if inside == [str] else {"type": "array", "items": self.whole().of(inside[0])}
        if origin is not None:  # the one other kind of collection in these types
            return {"type": "object", "propertyNames": NAME, "additionalProperties": self.of(inside[1])}
        return self._plain(hint)

    def _plain(self, hint: type) -> Schema:
        if hint is Expression:
            return ARITHMETIC
        if is_dataclass(hint):
            return self.refer(hint)
        if issubclass(hint, StrEnum):
            return words(*hint)
        if hint is bool:
            return {"enum": [True, False, "yes", "no"]}
        return {"type": "number", "minimum": 0} if hint in (int, float) else TEXT


def words(*known: str) -> Schema:
    """Return the schema of one of some words."""
    return {"enum": [str(word) for word in dict.fromkeys(known)]}


def at_most(highest: float) -> Schema:
    """Return the schema of a number from 0."""
    return {"type": "number", "minimum": 0, "maximum": highest}


def mapping(value: Schema) -> Schema:
    """Return the schema of names to values."""
    return {"type": "object", "propertyNames": NAME, "additionalProperties": value}
