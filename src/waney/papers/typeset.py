"""Typeset: a paper's words to PDF. The faces are the ones the typesetter brings, so that every machine gives the same bytes."""

from __future__ import annotations

import json
from dataclasses import asdict
from datetime import UTC, date, datetime
from importlib.resources import files

import typst

from waney.papers.card import Card


def card_pdf(card: Card, printed: date) -> bytes:
    """The height card as PDF. The same card and day give the same bytes."""
    sources = {"main.typ": _source("card.typ"), "sheet.typ": _source("sheet.typ"), "card.json": _json(card)}
    made_at = int(datetime(printed.year, printed.month, printed.day, tzinfo=UTC).timestamp())
    # its stubs do not know that sources may be handed over in memory
    return typst.compile(sources, format="pdf", ignore_system_fonts=True, timestamp=made_at)  # type: ignore[call-overload, no-any-return]


def _source(name: str) -> bytes:
    return (files("waney") / "papers" / name).read_bytes()


def _json(card: Card) -> bytes:
    return json.dumps(asdict(card), ensure_ascii=False).encode()
