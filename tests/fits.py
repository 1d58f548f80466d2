"""Whether a JSON document fits a schema: a small checker, enough for the keywords that occur, and strict about any other."""

from __future__ import annotations

from typing import Any

KNOWN_WORDS = {
    "type", "properties", "required", "additionalProperties", "items", "prefixItems", "minItems", "maxItems",
    "enum", "const", "anyOf", "$ref", "minimum", "description", "title", "$schema", "$defs",
}  # fmt: skip
TYPES: dict[str, Any] = {
    "object": dict, "array": list, "string": str, "boolean": bool, "null": type(None), "integer": int, "number": (int, float),
}  # fmt: skip


def is_of(value: Any, name: str) -> bool:
    return isinstance(value, TYPES[name]) and not (isinstance(value, bool) and name in ("integer", "number"))


def fits(value: Any, schema: dict[str, Any], root: dict[str, Any]) -> bool:
    assert schema.keys() <= KNOWN_WORDS, schema.keys() - KNOWN_WORDS
    if "$ref" in schema:
        return fits(value, root["$defs"][schema["$ref"].removeprefix("#/$defs/")], root)
    if "anyOf" in schema:
        return any(fits(value, each, root) for each in schema["anyOf"])
    names = schema.get("type", [])
    if names and not any(is_of(value, name) for name in ([names] if isinstance(names, str) else names)):
        return False
    if ("const" in schema and value != schema["const"]) or ("enum" in schema and value not in schema["enum"]):
        return False
    if isinstance(value, int) and value < schema.get("minimum", value):
        return False
    if isinstance(value, list):
        first = schema.get("prefixItems", [])
        long_enough = schema.get("minItems", 0) <= len(value) <= schema.get("maxItems", len(value))
        rest = [schema["items"]] * len(value) if "items" in schema else first
        return long_enough and all(fits(item, each, root) for item, each in zip(value, rest, strict=False))
    if isinstance(value, dict):
        properties = schema.get("properties", {})
        known = schema.get("additionalProperties", True) or value.keys() <= properties.keys()
        needed = all(key in value for key in schema.get("required", []))
        return known and needed and all(fits(item, properties.get(key, {}), root) for key, item in value.items())
    return True
