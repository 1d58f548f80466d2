"""What asks for a kiln: stacks and single pieces of the book as lots, with what was read of them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from waney.papers.words import Shop as Writes
from waney.papers.words import day
from waney.units.moisture import print_mc
from waney.web.asked.load import KilnPiece, LotAsked
from waney.web.ready import moisture_asked
from waney.web.showing import Figures
from waney.web.tag_names import names_in, piece_named
from waney.yard.acts.stacks import Depth
from waney.yard.book.book import Book
from waney.yard.book.drying_seen import OfDepth, last_moistures, on_stack
from waney.yard.book.kiln_seen import read_since_kiln
from waney.yard.book.looking import PieceStands, pieces_by_id
from waney.yard.book.stack_seen import ReadOf
from waney.yard.here import day_here

ALIKE_M = 0.003
"""Thicknesses that differ by less are one lot [m]: ours, a choice."""


@dataclass(frozen=True)
class Read:
    """What was read of a piece: its last weight [kg], and its last moistures in words."""

    mass_kg: float | None
    words: str


def in_words(read: ReadOf) -> Read:
    """Its last weight, and its last moistures."""
    return Read(read.mass_kg, moistures_in_words(last_moistures(read.moistures)))


def moistures_in_words(moistures: Iterable[OfDepth]) -> str:
    """Moistures with method and day: "shell 12 %, core 18 %; pin meter, 26 October 2026"; empty for none."""
    told: dict[str, list[str]] = {}
    for one in moistures:
        where = "" if one.depth == Depth.WHOLE else f"{one.depth} "
        when = f"{one.read_by}, {day(day_here(one.happened_at))}"
        told.setdefault(when, []).append(f"{where}{print_mc(one.mc or 0.0)}")
    return "; ".join(f"{', '.join(said)}; {when}" for when, said in told.items())


def asking(book: Book, stacks: Iterable[str], pieces: Iterable[str], names: str) -> tuple[PieceStands, ...]:
    """The pieces of these stacks, these pieces, and those whose names were typed; each once, by name. Raises NotInBook."""
    wanted = {piece.id for stack in stacks for _, piece in on_stack(book, stack)} | set(pieces)
    wanted |= {piece_named(book, name) for name in names_in(names)}
    return tuple(one for one in pieces_by_id(book, wanted) if not one.ended)


def unmeasured(pieces: Sequence[PieceStands]) -> tuple[PieceStands, ...]:
    """Pieces that cannot be packed or billed: a size, or their wood, is not known."""
    return tuple(one for one in pieces if not (one.length_m and one.thickness_m and one.mean_width_m and one.species))


@dataclass(frozen=True)
class Alike:
    """Pieces of one wood and thickness; name: of both."""

    name: str
    species: str
    thickness_m: float
    pieces: tuple[PieceStands, ...]


@dataclass(frozen=True)
class AsItLies:
    """What was told of pieces for the load, by their ids: all sapwood, bark still on where the book does not know, cup [m]."""

    sapwood: frozenset[str] = frozenset()
    bark: frozenset[str] = frozenset()
    cup_m: Mapping[str, float] = field(default_factory=dict)


def alike(pieces: Sequence[PieceStands], write: Writes) -> tuple[Alike, ...]:
    """Pieces that can be planned, by wood and thickness, the thickest first."""
    without = {one.id for one in unmeasured(pieces)}
    together: dict[tuple[str, int], list[PieceStands]] = {}
    for one in pieces:
        if one.id not in without:
            together.setdefault((one.species, round((one.thickness_m or 0.0) / ALIKE_M)), []).append(one)
    ordered = sorted(together.items(), key=lambda each: (-each[0][1], each[0][0]))
    return tuple(_alike(group, write) for _, group in ordered)


def _alike(group: Sequence[PieceStands], write: Writes) -> Alike:
    thick = max(one.thickness_m or 0.0 for one in group)
    return Alike(f"{Figures.wood(group[0].species)}, {write.read(thick)}", group[0].species, thick, tuple(group))


def lots(book: Book, groups: Sequence[Alike], typed: Mapping[str, str], lies: AsItLies) -> tuple[LotAsked, ...]:
    """Lots of one wood and thickness; sapwood lets vapour through and is a lot by itself. What was read of a piece before a kiln
    does not count. typed: moisture and target of a group, as `mc-1`, `target-1`."""
    told = read_since_kiln(book, [one.id for group in groups for one in group.pieces])
    return tuple(lot for number, group in enumerate(groups, 1) for lot in _lots(told, number, group, typed, lies))


def _lots(
    read: Mapping[str, ReadOf], number: int, group: Alike, typed: Mapping[str, str], lies: AsItLies
) -> Iterator[LotAsked]:  # fmt: skip
    told = (typed.get(f"mc-{number}", "").strip(), typed.get(f"target-{number}", "").strip() or typed.get("target", "").strip())
    for sapwood in (False, True):
        some = [one for one in group.pieces if (one.id in lies.sapwood) == sapwood]
        if some:
            pieces = tuple(_piece(one, read.get(one.id, ReadOf()), lies) for one in some)
            called = f"{group.name}, sapwood" if sapwood else group.name
            yield LotAsked(called, group.species, group.thickness_m, pieces, *told, sapwood)


def _piece(one: PieceStands, read: ReadOf, lies: AsItLies) -> KilnPiece:
    sizes = (one.length_m or 0.0, one.mean_width_m or 0.0, one.thickness_m or 0.0)
    reads = tuple(moisture_asked(each) for each in read.moistures)
    cup, known = lies.cup_m.get(one.id, 0.0), one.known_sides
    bark = one.id in lies.bark if known.bark_on is None else known.bark_on
    return KilnPiece(one.name, *sizes, read.mass_kg, reads, cup_m=cup, bark=bark, known=known)
