"""Nearest: what can be shown to whoever asks for a piece that is gone."""

from __future__ import annotations

from waney.drying.dry_weight import AIR_DRY
from waney.drying.meter_sheet import MeterSheet
from waney.drying.moisture_told import as_last_read
from waney.figures.estimate import Estimate
from waney.figures.problem import Problem
from waney.trade.wish import Sized, nearest
from waney.yard.book.book import Book
from waney.yard.book.custom_seen import customers_pieces
from waney.yard.book.looking import PieceStands, pieces_by_id
from waney.yard.book.selling_seen import free_of_woods, woods_here
from waney.yard.book.stack_seen import ReadOf, read_of
from waney.yard.services.moisture_told import meter_of, moisture_read
from waney.yard.services.selling import sized
from waney.yard.services.woods import known_wood, wood_of

AT_A_LOOK = 50
"""so many of the likest are looked at together"""


def others_like(book: Book, piece: str, today: str, most: int = 3) -> tuple[PieceStands, ...]:
    """Pieces of the same wood that are likest in size to one that is gone: the shop's, free, in no kiln, as dry."""
    gone = next(iter(pieces_by_id(book, [piece])), None)
    if gone is None:
        return ()
    same = [wood for wood in woods_here(book) if known_wood(wood) == known_wood(gone.species)]
    wood, theirs = known_wood(gone.species), customers_pieces(book)
    free = (
        Sized(one.id, wood, one.thickness_m, one.width_m, one.length_m)
        for one in free_of_woods(book, same, today)
        if one.id not in theirs
    )
    order = [one.name for one in nearest(sized(gone), free, None)]
    meter, found = meter_of(book), list[str]()
    wanted = _held(gone.species, read_of(book, [piece]).get(piece), meter)
    for start in range(0, len(order), AT_A_LOOK):
        some = order[start : start + AT_A_LOOK]
        read = read_of(book, some)
        found += [one for one in some if dry_enough(_held(gone.species, read.get(one), meter), wanted)]
        if len(found) >= most:
            break
    stand = {one.id: one for one in pieces_by_id(book, found[:most])}
    return tuple(stand[one] for one in found[:most])


def dry_enough(other: Estimate | None, gone: Estimate | None) -> bool:
    """Whether one piece is as dry as another was, as far as they were read [-]; None: not read.

    For a piece that was read and is dry only one that was read stands in; for one that nobody read, any that is not known wet.
    """
    if other is None:
        return gone is None or gone.likely > AIR_DRY
    return other.low <= (AIR_DRY if gone is None else gone.high)


def _held(wood: str, read: ReadOf | None, meter: MeterSheet) -> Estimate | None:
    """Moisture of a piece as it was read last; None for not read, or for a reading that no meter is made for."""
    if read is None:
        return None
    try:
        last = as_last_read([moisture_read(one) for one in read.moistures], wood_of(wood), meter)
    except Problem:
        return None
    return None if last is None else last.mc
