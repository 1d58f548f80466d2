"""Nearest: what can be shown to whoever asks for a piece that is gone."""

from __future__ import annotations

from waney.drying.dry_weight import AIR_DRY
from waney.drying.meter_sheet import MeterSheet
from waney.figures.estimate import Estimate
from waney.trade.wish import Sized, nearest
from waney.yard.book.book import Book
from waney.yard.book.kiln_seen import read_since_kiln
from waney.yard.book.looking import PieceStands, pieces_by_id
from waney.yard.book.selling_seen import here_of_woods, woods_here
from waney.yard.book.stack_seen import ReadOf
from waney.yard.services.moisture_told import last_held, meter_of
from waney.yard.services.selling import not_free, sized
from waney.yard.services.woods import known_wood

AT_A_LOOK = 50
"""so many of the likest are looked at together"""


def others_like(book: Book, piece: str, today: str, most: int = 3) -> tuple[PieceStands, ...]:
    """Pieces of the same wood that are likest in size to one that is gone: the shop's, free, in no kiln, as dry."""
    gone = next(iter(pieces_by_id(book, [piece])), None)
    if gone is None:
        return ()
    same = [wood for wood in woods_here(book) if known_wood(wood) == known_wood(gone.species)]
    wood, taken = known_wood(gone.species), not_free(book, today)
    free = (
        Sized(one.id, wood, one.thickness_m, one.width_m, one.length_m)
        for one in here_of_woods(book, same)
        if one.id not in taken
    )
    order = [one.name for one in nearest(sized(gone), free, None)]
    meter, found = meter_of(book), list[str]()
    wanted = _held(gone.species, read_since_kiln(book, [piece]).get(piece), meter)
    for start in range(0, len(order), AT_A_LOOK):
        some = order[start : start + AT_A_LOOK]
        read = read_since_kiln(book, some)
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
    last = None if read is None else last_held(read, wood, meter)
    return None if last is None else last.mc
