"""The read models of selling: what is asked, who wood is promised to, sales, money, wishes. The reading is in `models`."""

from __future__ import annotations

from typing import Any

from sqlalchemy import Column, ForeignKey, Table, Text

from waney.yard.book.columns import SIZE, ident, number, table, to, words, yes_no
from waney.yard.book.truth import WHOLE


def ends() -> tuple[Any, Any]:
    """How it ended, empty while it stands, and with what."""
    return words("ended"), number("ended_seq", may_be_missing=True)


def whole(name: str) -> Column[Any]:
    """Cents."""
    return Column(name, WHOLE, nullable=False)


def part(of: str, *columns: Column[Any]) -> Table:
    """The pieces of something, each once."""
    own: Column[Any] = Column(of, Text, ForeignKey(f"{of}.id"), primary_key=True)
    piece: Column[Any] = Column("piece", Text, ForeignKey("piece.id"), primary_key=True, index=True)
    return table(f"{of}_piece", own, piece, *columns)


asked = table("asked", Column("piece", Text, ForeignKey("piece.id"), primary_key=True), whole("cents"), words("way"), number())
"""What is asked for a piece."""
promise = table("promise", Column("piece", Text, ForeignKey("piece.id"), primary_key=True), words("by"), number())
"""by: the stream of a hold, a lease or a sale. A piece has one row at most: it is never promised twice."""
hold = table(
    "hold",
    ident(),
    to("person", "person.id"),
    words("until"),
    whole("deposit_cents"),
    yes_no("asked"),
    words("lost_to"),
    *ends(),
    number(),
)
"""asked: from a device out of reach; lost_to: the stream that was first, empty where it was granted."""
hold_piece = part("hold")
quote = table(
    "quote",
    ident(),
    to("person", "person.id"),
    to("hold", "hold.id"),
    words("until"),
    words("words"),
    words("goes_to"),
    *ends(),
    number(),
)
quote_piece = part("quote", whole("cents"))
lease = table(
    "lease", ident(), words("device"), words("until"), words("words"), number("closed_seq", may_be_missing=True), number()
)
lease_piece = part("lease", yes_no("home", may_be_missing=True))
"""home: None while nobody said."""
sale = table(
    "sale",
    ident(),
    to("person", "person.id"),
    to("hold", "hold.id"),
    to("lease", "lease.id"),
    words("on_date"),
    whole("pieces_cents"),
    whole("tax_cents"),
    words("taxes"),
    words("words"),
    words("goes_to"),
    Column("deposit_cents", WHOLE),
    number(),
)
"""taxes: a JSON list of name and cents; deposit_cents: of the deposit of its hold, None: all of it."""
sale_piece = part("sale", whole("cents"), yes_no("gone"), number("returned_seq", may_be_missing=True))
"""gone: money was taken for it, but it was promised to somebody else or was no more."""
money = table(
    "money",
    Column("seq", WHOLE, primary_key=True, autoincrement=False),
    Column("about", Text, nullable=False, index=True),
    words("what"),
    words("by"),
    whole("cents"),
)
"""Money that came from buyers, below zero what was given back. what: payment, deposit, refund."""
deposit_kept = table(
    "deposit_kept", Column("seq", WHOLE, primary_key=True, autoincrement=False), to("hold", "hold.id"), whole("cents")
)
"""Of a deposit, what was said to stay with the shop."""
spent = table(
    "spent",
    Column("seq", WHOLE, primary_key=True, autoincrement=False),
    Column("about", Text, primary_key=True, index=True),
    words("what"),
    Column("cents", WHOLE),
    Column("hours", SIZE),
    words("words"),
    to("load", "load.id"),
    number("taken_back_seq", may_be_missing=True),
)
"""load: of whose cost it is a part, written with those of the other pieces by one event."""
wish = table(
    "wish",
    ident(),
    to("person", "person.id"),
    words("until"),
    words("species"),
    Column("thickness_m", SIZE),
    Column("most_thickness_m", SIZE),
    Column("width_m", SIZE),
    Column("length_m", SIZE),
    *ends(),
    number(),
)
