"""Plan file: one plan with the sheets it was made from, word for word, as JSON (`waney-plan/1`).

The same plan gives the same bytes: fields stand in the order of their types, floats as the shortest text that reads back
to the same float, one top-level field and one piece to a line. Growth rings belong to the log, not to a piece: they stand
once, and each piece names their place.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from waney import __version__
from waney.figures.json_out import Encoder
from waney.figures.json_schema import DRAFT, SchemaBuilder
from waney.figures.problem import Problem
from waney.figures.typed_json import BadJson, Decoder, Json, field_kinds, parsed, shown
from waney.logs.rings import RingField
from waney.sawing.plan import Plan

FORMAT = "waney-plan/1"
SHARED = (RingField,)
LINE_EACH = ("pieces", "rings", "moves", "sheets")
"""Lists of which every item stands on a line of its own."""


class BadPlanFile(Problem):
    """The text is no plan of this format, or what it holds was changed."""


@dataclass(frozen=True)
class HeldSheet:
    """A sheet that the plan was made from: what it is ("log", "mill", "wants"), the hash of its UTF-8 bytes, its words."""

    role: str
    sha256: str
    text: str


@dataclass(frozen=True)
class Head:
    """What stands before the plan itself."""

    format: str
    written_by: str
    """version of the program"""
    sheets: tuple[HeldSheet, ...]
    rings: tuple[RingField, ...]


def write_plan(plan: Plan, sheets: Mapping[str, str], written_by: str = __version__) -> str:
    """The plan file. `sheets`: role ("log", "mill", "wants") -> text, kept in alphabetical order of the roles.

    Raises BadJson when the plan holds a figure without limit.
    """
    encoder = Encoder(SHARED)
    body = encoder.encode(plan, Plan)
    held = [{"role": role, "sha256": sha256(text), "text": text} for role, text in sorted(sheets.items())]
    head = {"format": FORMAT, "written_by": written_by, "sheets": held, "rings": encoder.tables[RingField]}
    lines = [f"{_json(key)}: {_lines(value) if key in LINE_EACH else _json(value)}" for key, value in (head | body).items()]
    return "{\n" + ",\n".join(lines) + "\n}\n"


def read_plan(text: str) -> tuple[Plan, Mapping[str, str]]:
    """The plan and its sheets by role. Raises BadPlanFile: not JSON, another format, a field missing, a sheet changed."""
    try:
        head, body = _parts(text)
        sheets = _sheets(head.sheets)
        plan: Plan = Decoder({RingField: head.rings}).fields(body, Plan, "plan")
    except BadJson as problem:
        raise BadPlanFile(f"This plan cannot be read: {problem}") from None
    return plan, sheets


def written_by(text: str) -> str:
    """The version of the program that wrote a plan file; raises as `read_plan`."""
    try:
        return _parts(text)[0].written_by
    except BadJson as problem:
        raise BadPlanFile(f"This plan cannot be read: {problem}") from None


def sha256(text: str) -> str:
    """The hash of a sheet's UTF-8 bytes, in hexadecimal."""
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def plan_schema() -> Json:
    """JSON Schema of the format, from the types."""
    of_head, of_plan = SchemaBuilder(), SchemaBuilder(SHARED)
    head, plan = of_head.fields(Head), of_plan.fields(Plan)
    return {
        "$schema": DRAFT,
        "title": FORMAT,
        "description": "One way to saw one log, and the sheets it was made from. Metres, degrees, whole cents, fractions of one.",
        "type": "object",
        "properties": head["properties"] | {"format": {"const": FORMAT}} | plan["properties"],
        "required": [*head["required"], *plan["required"]],
        "additionalProperties": False,
        "$defs": dict(sorted((of_head.definitions | of_plan.definitions).items())),
    }


def _parts(text: str) -> tuple[Head, Mapping[str, Json]]:
    """The head, and the fields of the plan still as JSON."""
    content = parsed(text)
    if not isinstance(content, dict):
        raise BadJson("a plan is an object in braces.")
    if content.get("format") != FORMAT:
        raise BadJson(f'its format is {shown(content.get("format"))}; this program reads "{FORMAT}".')
    head = {key: content.pop(key) for key in field_kinds(Head) if key in content}
    return Decoder().fields(head, Head, "plan"), content


def _sheets(held: Sequence[HeldSheet]) -> Mapping[str, str]:
    sheets = {sheet.role: _unchanged(sheet) for sheet in held}
    if len(sheets) < len(held):
        raise BadJson("plan.sheets: two sheets stand under one name.")
    return sheets


def _unchanged(sheet: HeldSheet) -> str:
    if sha256(sheet.text) != sheet.sha256:
        raise BadPlanFile(
            f"The {sheet.role} sheet inside this plan was changed after the plan was made: its hash does not fit. Plan again."
        )
    return sheet.text


def _lines(items: Sequence[Json]) -> str:
    return "[" + ",".join(f"\n{_json(item)}" for item in items) + "]"


def _json(value: Json) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False)
