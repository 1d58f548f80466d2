"""The read models of counting the stock. The reading is in `models`."""

from __future__ import annotations

from sqlalchemy import Column, ForeignKey, Text

from waney.yard.book.columns import ident, number, table, to, words
from waney.yard.book.truth import WHOLE

stock_count = table("stock_count", ident(), to("spot", "spot.id"), number("ended_seq", may_be_missing=True), number())
"""spot: it and all within it; None: the whole yard."""
seen = table(
    "seen",
    Column("seq", WHOLE, primary_key=True, autoincrement=False),
    Column("count", Text, ForeignKey("stock_count.id"), nullable=False, index=True),
    words("name"),
    to("piece", "piece.id"),
    number("taken_back_seq", may_be_missing=True),
)
"""A tag that was seen. piece: None for one that stood on nothing in the book."""
