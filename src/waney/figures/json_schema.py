"""JSON Schema (draft 2020-12) of the form that `typed_json` writes, from the types alone."""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from enum import StrEnum
from types import NoneType
from typing import Any, get_args

from waney.figures.typed_json import (
    Json,
    Kind,
    dataclasses_of,
    field_kinds,
    is_array,
    is_union,
    kind_name,
    optional_field,
    origin,
)

DRAFT = "https://json-schema.org/draft/2020-12/schema"

ARRAY: Json = {
    "type": "object",
    "description": "An array: its shape, and its values in row order; null where a figure is not defined.",
    "properties": {
        "shape": {"type": "array", "items": {"type": "integer", "minimum": 0}},
        "values": {"type": "array", "items": {"type": ["number", "null"]}},
    },
    "required": ["shape", "values"],
    "additionalProperties": False,
}


class SchemaBuilder:
    """Schemas of types; those of dataclasses go to `definitions` and are referred to."""

    def __init__(self, shared: tuple[type, ...] = ()) -> None:
        self.definitions: dict[str, Json] = {}
        self._shared = shared

    def of(self, kind: Kind) -> Json:
        """The schema of any annotated type."""
        if is_union(kind):
            return self._one_of(kind)
        if is_array(kind):
            return self._named("array", lambda: ARRAY)
        if origin(kind) is tuple:
            return self._tuple(kind)
        if kind in self._shared:
            return {"type": "integer", "minimum": 0, "description": f"Place in the list of every {kind_name(kind)}."}
        if is_dataclass(kind) and isinstance(kind, type):
            return self._named(kind_name(kind), lambda: self.fields(kind))
        return _plain(kind)

    def fields(self, cls: Any, kind: str = "") -> Json:
        """The object of a dataclass; with `kind`, the word that tells it from others in its place."""
        tag = {"kind": {"const": kind}} if kind else {}
        needed = [item.name for item in fields(cls) if not optional_field(item)]
        return {
            "type": "object",
            "description": " ".join((cls.__doc__ or "").split("\n\n")[0].split()),
            "properties": tag | {name: self.of(each) for name, each in field_kinds(cls).items()},
            "required": [*tag, *needed],
            "additionalProperties": False,
        }

    def _one_of(self, kind: Kind) -> Json:
        many = dataclasses_of(kind)
        members = [self._tagged(cls) for cls in many] if len(many) > 1 else []
        for member in get_args(kind):
            if member is not NoneType and not (members and member in many):
                members.append(self.of(member))
        if NoneType in get_args(kind):
            members.append({"type": "null"})
        return {"anyOf": members}

    def _tagged(self, cls: type) -> Json:
        return self._named(kind_name(cls), lambda: self.fields(cls, kind_name(cls)))

    def _tuple(self, kind: Kind) -> Json:
        members = get_args(kind)
        if len(members) == 2 and members[1] is Ellipsis:
            return {"type": "array", "items": self.of(members[0])}
        each = [self.of(member) for member in members]
        return {"type": "array", "prefixItems": each, "minItems": len(each), "maxItems": len(each)}

    def _named(self, name: str, build: Any) -> Json:
        if name not in self.definitions:
            self.definitions[name] = {}
            self.definitions[name] = build()
        return {"$ref": f"#/$defs/{name}"}


def _plain(kind: Kind) -> Json:
    if isinstance(kind, type) and issubclass(kind, StrEnum):
        return {"enum": [str(word) for word in kind]}
    return {"type": {float: ["number", "null"], int: "integer", str: "string", bool: "boolean"}[kind]}
