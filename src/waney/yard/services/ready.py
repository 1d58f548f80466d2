"""Whether a piece that came back from someone else's kiln is ready: what was read of it since, against what was wanted."""

from __future__ import annotations

from dataclasses import dataclass

from waney.drying.meter_sheet import MeterSheet
from waney.drying.moisture_told import Where, last_at
from waney.drying.ready import Readiness, Word, readiness
from waney.yard.book.book import Book
from waney.yard.book.kiln_seen import PieceInLoad, last_return, pieces_in, read_since_kiln
from waney.yard.book.stack_seen import ReadOf
from waney.yard.services.moisture_told import meter_of, moisture_read
from waney.yard.services.woods import wood_of


@dataclass(frozen=True)
class CameBack:
    """A piece that came back: from which load, how, and whether it is ready."""

    load: str
    held: PieceInLoad
    ready: Readiness


def ready(book: Book, piece: str) -> CameBack | None:
    """Whether a piece is ready; None for one that never came back from someone else's kiln, or that stands at one now."""
    found = last_return(book, piece)
    if found is None:
        return None
    load, held = found
    return CameBack(load, held, ready_by(held, read_since_kiln(book, [piece]).get(piece, ReadOf()), meter_of(book)))


def ready_of_load(book: Book, load: str) -> dict[Word, tuple[PieceInLoad, ...]]:
    """What came back of a load, by whether it is ready; those that are no more are left out. Raises NotInBook."""
    home = [held for held in pieces_in(book, load) if held.back_seq is not None and not held.piece.ended]
    read, meter = read_since_kiln(book, [held.piece.id for held in home]), meter_of(book)
    words = {held: ready_by(held, read.get(held.piece.id, ReadOf()), meter).word for held in home}
    return {word: found for word in Word if (found := tuple(held for held in home if words[held] is word))}


def ready_by(held: PieceInLoad, read: ReadOf, meter: MeterSheet) -> Readiness:
    """Whether a piece that came back is ready, by what was read of it since."""
    since = [moisture_read(one) for one in read.between(after=held.back_seq or 0).moistures]
    wood = wood_of(held.piece.species)
    shell, core = (last_at(since, where, wood, meter) for where in (Where.SHELL, Where.CORE))
    return readiness(shell, core, held.shell_mc, held.core_mc)
