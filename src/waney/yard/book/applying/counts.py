"""Counts of the stock."""

from __future__ import annotations

from waney.yard.acts.counts import CountBegun, CountEnded, TagSeen
from waney.yard.book import counting_models, models
from waney.yard.book.applying.pen import Pen
from waney.yard.book.truth import Event
from waney.yard.names import read_name


def count_begun(pen: Pen, event: Event, act: CountBegun) -> None:
    """A count."""
    pen.insert(counting_models.stock_count, id=act.count, spot=act.spot or None, ended_seq=None, seq=event.seq)


def tag_seen(pen: Pen, event: Event, act: TagSeen) -> None:
    """What bears the name; where whoever saw it knew of nothing, what bears it by now. It moves nothing."""
    piece = act.piece or _bearer(pen, act.name)
    pen.insert(
        counting_models.seen, seq=event.seq, count=act.count, name=str(read_name(act.name)), piece=piece, taken_back_seq=None
    )


def _bearer(pen: Pen, written: str) -> str | None:
    name = read_name(written)
    found = pen.shelf.find(models.piece, code=name.code, number=name.number)
    return str(found[0]["id"]) if found else None


def count_ended(pen: Pen, event: Event, act: CountEnded) -> None:
    """The first ending counts."""
    if pen.row(counting_models.stock_count, act.count).ended_seq is None:
        pen.change(counting_models.stock_count, act.count, ended_seq=event.seq)
