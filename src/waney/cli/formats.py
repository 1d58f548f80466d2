"""The form of each answer by name, and how it becomes JSON and a schema."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

from waney.cli.answers import (
    CopyWritten,
    Emc,
    ExaminedBook,
    ListTaken,
    Offer,
    Places,
    Replayed,
    Scaled,
    TagsPrinted,
    WaitingLogs,
    WaysToCut,
    Weights,
    Wood,
)
from waney.cli.answers_dry import DryingStack
from waney.cli.answers_kiln import CoreHeat, CoreShown, KilnLoads, KilnSchedule
from waney.cli.answers_money import JobQuoted, PiecePrice, SaleWritten, WindowWritten, YearEarned
from waney.cli.answers_piece import BoardGraded, EdgesPlanned, PieceFlattened, PieceMeasured, TargetPrinted
from waney.cli.answers_sample import SampleBoards

FORMATS: Mapping[type, str] = MappingProxyType(
    {
        Scaled: "waney-scale/1",
        Weights: "waney-weight/1",
        Wood: "waney-wood/1",
        Emc: "waney-emc/1",
        Places: "waney-places/1",
        Replayed: "waney-replay/1",
        CopyWritten: "waney-copy/1",
        ExaminedBook: "waney-examined/1",
        ListTaken: "waney-taken/1",
        Offer: "waney-offer/1",
        WaitingLogs: "waney-waiting/1",
        WaysToCut: "waney-crosscut/1",
        TagsPrinted: "waney-tags/1",
        DryingStack: "waney-dry/1",
        SampleBoards: "waney-sample/1",
        KilnSchedule: "waney-schedule/1",
        CoreHeat: "waney-heat-treat/1",
        CoreShown: "waney-core-record/1",
        PiecePrice: "waney-price/1",
        JobQuoted: "waney-quote/1",
        SaleWritten: "waney-sell/1",
        WindowWritten: "waney-shop-window/1",
        YearEarned: "waney-year/1",
        KilnLoads: "waney-kiln-load/1",
        PieceMeasured: "waney-measure/1",
        EdgesPlanned: "waney-planned-edges/1",
        BoardGraded: "waney-grade/1",
        PieceFlattened: "waney-flatten/1",
        TargetPrinted: "waney-target/1",
    }
)
"""The form of each answer, as its field "format" names it."""


def as_json(answer: object) -> str:
    """The answer as JSON with its format."""
    import json

    from waney.figures.json_out import Encoder

    kind = type(answer)
    body = {"format": FORMATS[kind]} | Encoder().encode(answer, kind)
    return json.dumps(body, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def schema(kind: type) -> Any:
    """JSON Schema of an answer, from its type."""
    from waney.figures.json_schema import DRAFT, SchemaBuilder

    builder = SchemaBuilder()
    fields = builder.fields(kind)
    return {
        "$schema": DRAFT,
        "title": FORMATS[kind],
        **fields,
        "properties": {"format": {"const": FORMATS[kind]}} | fields["properties"],
        "required": ["format", *fields["required"]],
        "$defs": dict(sorted(builder.definitions.items())),
    }
