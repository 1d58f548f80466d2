"""Quote of pieces for one buyer: sizes, moisture, prices, until when they hold, and whether the pieces are kept so long."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from waney.papers.paper import Column, Paper, Part, Sentence, Table, cell, paper, warn
from waney.papers.receipt import SoldPiece, what_it_is
from waney.papers.words import Shop, day, said

NOT_KEPT = "They are not kept back: whoever buys first has them."
WIDTHS = "Every width stands under its rule; sizes are as they were measured, else as they were taped."


@dataclass(frozen=True)
class PieceQuote:
    """A quote as its buyer reads it; money as it is written. pieces: each with its moisture in words; words: what was written
    to it. It has no field for any figure of the shop's own."""

    yard: str
    buyer: str
    until: date
    kept: bool
    pieces: tuple[tuple[SoldPiece, str], ...]
    taxes: tuple[tuple[str, str], ...]
    total: str
    words: str = ""


def quote_of_pieces(quote: PieceQuote, shop: Shop, printed: date) -> Paper:
    """The quote."""
    until = day(quote.until)
    kept = f"They are kept for you until the end of {until}." if quote.kept else NOT_KEPT
    columns = (Column("piece", 1.1), Column("what", 2.9), Column("moisture", 1.7), Column("before tax", 1.1, figures=True))
    rows = tuple((cell(one.name), what_it_is(one, shop), cell(moist), cell(one.money)) for one, moist in quote.pieces)
    parts: list[Part] = [
        *([Sentence(said(f"For {quote.buyer}."), large=True)] if quote.buyer else []),
        Sentence(said(f"These prices hold until the end of {until}. {kept}")),
        Table(columns, rows, strong=1),
        Table(
            (Column("", 3.2), Column("", 1.2, figures=True)),
            tuple(tuple(map(cell, row)) for row in (*quote.taxes, ("Sum, with tax" if quote.taxes else "Sum", quote.total))),
        ),
        *([Sentence(said(quote.words))] if quote.words else []),
        Sentence(said(WIDTHS)),
        warn("sale"),
    ]
    return paper("Quote", quote.yard, f"good until {until}", parts, shop, printed)
