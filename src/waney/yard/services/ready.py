"""Whether a piece that came back from someone else's kiln is ready: what was read of it since, against what was wanted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from waney.drying.ready import Readiness, Word, moisture_read, readiness
from waney.figures.estimate import Estimate
from waney.figures.problem import Problem
from waney.wood.species import species
from waney.wood.traits import Trait
from waney.yard.acts.stacks import Depth
from waney.yard.book.book import Book
from waney.yard.book.drying_seen import Reading, readings, readings_of
from waney.yard.book.kiln_seen import PieceInLoad, last_return, pieces_in

MIDDLE_SG = 0.55
"""Basic gravity of a wood that no table has: only how much water it could hold at most depends on it [-]."""


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
    return CameBack(load, held, ready_by(held, readings(book, f"piece:{piece}")))


def ready_of_load(book: Book, load: str) -> dict[Word, tuple[PieceInLoad, ...]]:
    """What came back of a load, by whether it is ready; those that are no more are left out. Raises NotInBook."""
    home = [held for held in pieces_in(book, load) if held.back_seq is not None and not held.piece.ended]
    told = readings_of(book, [f"piece:{held.piece.id}" for held in home])
    words = {held: ready_by(held, told.get(f"piece:{held.piece.id}", ())).word for held in home}
    return {word: found for word in Word if (found := tuple(held for held in home if words[held] is word))}


def ready_by(held: PieceInLoad, read: Sequence[Reading]) -> Readiness:
    """Whether a piece that came back is ready, by what was read of it since."""
    since = [one for one in read if one.seq > (held.back_seq or 0)]
    gravity = gravity_of(held.piece.species)
    shell, core = (latest(since, depth, gravity) for depth in (Depth.SHELL, Depth.CORE))
    return readiness(shell, core, held.shell_mc, held.core_mc)


def latest(read: Sequence[Reading], depth: Depth, gravity: float) -> Estimate | None:
    """The last reading of a depth; None where there is none."""
    for one in reversed(read):
        if one.mc is not None and one.depth == depth:
            return moisture_read(one.read_by, one.mc, one.wood_c, gravity, corrected=one.corrected)
    return None


def gravity_of(wood: str) -> float:
    """Basic gravity of a kind of wood as it was typed [-]."""
    try:
        return species(wood).needed(Trait.SG_GREEN).likely
    except Problem:
        return MIDDLE_SG
