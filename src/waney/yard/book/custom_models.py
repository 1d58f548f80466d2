"""The read models of other people's logs: custom jobs, their logs, the sawyer's share, bills. The reading is in `models`."""

from __future__ import annotations

from sqlalchemy import Column, ForeignKey, Integer, Text

from waney.yard.book.columns import SIZE, ident, number, table, to, words
from waney.yard.book.truth import WHOLE

custom = table(
    "custom",
    ident(),
    to("person", "person.id"),
    words("words"),
    Column("way_m", SIZE, nullable=False),
    Column("way_hours", SIZE, nullable=False),
    words("how"),
    words("agreed_on"),
    words("terms"),
    words("scaled"),
    words("anew"),
    words("ended"),
    number("ended_seq", may_be_missing=True),
    number(),
)
"""how: empty while nothing is agreed; terms: the sheet as it stood then; scaled, anew: JSON lists."""
custom_log = table(
    "custom_log",
    Column("log", Text, ForeignKey("log.id"), primary_key=True),
    Column("custom", Text, ForeignKey("custom.id"), nullable=False, index=True),
    Column("hours", SIZE),
    Column("metal_blades", Integer, nullable=False),
    number(),
)
"""A log is in one custom job at most. hours: None while nobody told."""
custom_share = table(
    "custom_share",
    Column("piece", Text, ForeignKey("piece.id"), primary_key=True),
    Column("custom", Text, ForeignKey("custom.id"), nullable=False, index=True),
)
"""Pieces that stay with the sawyer."""
custom_bill = table(
    "custom_bill",
    Column("seq", WHOLE, primary_key=True, autoincrement=False),
    Column("custom", Text, ForeignKey("custom.id"), nullable=False, index=True),
    Column("number", Integer, nullable=False),
    words("on_date"),
    words("lines"),
    words("taxes"),
    Column("keeps", SIZE, nullable=False),
    words("said"),
    number("taken_back_seq", may_be_missing=True),
)
"""number: of the invoice, in the order of the book; one that was taken back keeps its own. lines, taxes, said: JSON lists."""
