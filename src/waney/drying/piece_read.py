"""Pieces as a yard knows them, with all that was read of each: put together to lines of pieces alike, for a forecast.

A piece that was read is a line of its own, because its readings are its own; those of one wood and thickness that were not are
one line. What is not known of a piece is said, and widens the answer or leaves it out.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from math import prod

from waney.drying.evidence import MoistureRead, WeightRead
from waney.drying.known_sides import NOT_TOLD, KnownSides, said_of_told
from waney.drying.meter_sheet import MeterSheet
from waney.drying.moisture_told import MoistureTold, Where, by_day
from waney.drying.sample_board import SampleBoard
from waney.drying.sides import Sides, by_edges, by_ends
from waney.drying.stack import Line
from waney.drying.watch import LEAST_SHORTER, SHORT
from waney.drying.weighing import Weight
from waney.figures.problem import Problem
from waney.wood.diffusion import ease_along
from waney.wood.species import Species, UnknownSpecies, woods_called
from waney.wood.traits import Trait
from waney.wood.weight import green_moisture

MOST_WOODS = 4
"""A name that can mean more woods than this says too little."""
ALIKE_M = 0.003
"""Pieces whose thicknesses fall into the same so many metres are one line. Ours, a choice."""
ALIKE_SHARE = 0.1
"""Nor may what their edges, or bare ends, take of the thickness differ by more [-]: a square is no board. Ours, a choice."""
WARM_C = 20.0
"""at which ends are compared; in still air, where they take most"""


@dataclass(frozen=True)
class PieceRead:
    """A piece: its name, wood by whatever name, green sizes [m] as far as known, the day it came on stickers; what was read of
    it as it lies there; board_day: when it was cut to a sample board; board: None while the sections are in the oven;
    before_cut: so many weights of the whole piece are not among these; known: of its edges and ends."""

    name: str
    wood: str
    thickness_m: float | None
    length_m: float | None
    width_m: float | None
    since: date
    weights: tuple[tuple[date, Weight], ...] = ()
    moistures: tuple[MoistureTold, ...] = ()
    board: SampleBoard | None = None
    board_day: date | None = None
    before_cut: int = 0
    known: KnownSides = NOT_TOLD

    @property
    def sides(self) -> Sides:
        """What is known of its edges and ends, and counts where nobody told."""
        return self.known.sized(self.width_m or None, self.length_m or None)

    @property
    def volume_m3(self) -> float | None:
        """As a box [m3]; None where a size is not known, or where it was cut since."""
        if self.board_day is not None or not (self.thickness_m and self.length_m and self.width_m):
            return None
        return self.thickness_m * self.length_m * self.width_m


@dataclass(frozen=True)
class Lined:
    """A line with the day it came on stickers and the pieces in it by name. woods: those it may be of, by what somebody called
    it; the line's own is the first."""

    line: Line
    woods: tuple[Species, ...]
    since: date
    pieces: tuple[str, ...]


def lined(pieces: Sequence[PieceRead], sheet: MeterSheet) -> tuple[tuple[Lined, ...], tuple[str, ...]]:
    """Lines, read pieces first, and sentences on pieces that nothing can be forecast of."""
    lines: list[Lined] = []
    alike: dict[tuple[object, ...], list[PieceRead]] = {}
    left: dict[str, list[str]] = {}
    for piece in pieces:
        woods, why = _woods(piece)
        if not woods or piece.thickness_m is None:
            left.setdefault(why, []).append(piece.name)
        elif (reads := _Reads.of(piece, woods[0], sheet)).any:
            said = (*reads.said, *_as_told([piece]))
            line = Line(piece.name, woods[0], piece.thickness_m, 1, reads.reads, None, piece.volume_m3, piece.sides, said)
            lines.append(Lined(line, woods, piece.since, (piece.name,)))
        else:
            key = (tuple(wood.id for wood in woods), round(piece.thickness_m / ALIKE_M), *_taken(piece, woods[0]), piece.since)
            alike.setdefault(key, []).append(piece)
    lines += _told_apart([_alike(group) for group in alike.values()])
    return tuple(lines), tuple(f"{', '.join(names)}: {why}" for why, names in left.items())


def _taken(piece: PieceRead, wood: Species) -> tuple[int, int, bool]:
    """What its edges and its ends take of the thickness, in steps of ALIKE_SHARE; whether its ends are bare."""
    edges, ends = (round(share / ALIKE_SHARE) for share in _shares(piece, wood))
    return edges, ends, piece.sides.ends_open


def _shares(piece: PieceRead, wood: Species) -> tuple[float, float]:
    """Of its thickness: what counts for its edges, and for its ends [-]."""
    assert piece.thickness_m is not None, "only pieces with a thickness are lined up"
    along = ease_along(wood.needed(Trait.SG_GREEN).likely, WARM_C)
    return by_edges(piece.thickness_m, piece.sides), by_ends(piece.thickness_m, piece.sides, along, 0.0)


def _as_told(group: Sequence[PieceRead]) -> Iterator[str]:
    said = said_of_told([one.known for one in group])
    if said:
        yield said


def _alike(group: Sequence[PieceRead]) -> Lined:
    """The thickest speaks for them, as wide and long as the largest, under bark if one counts so; their ends are alike."""
    thickest = max(group, key=lambda one: one.thickness_m or 0.0)
    width, length = (_largest([getattr(one.sides, name) for one in group]) for name in ("width_m", "length_m"))
    sides = Sides(width, length, all(one.sides.edges_open for one in group), thickest.sides.ends_open)
    woods, _ = _woods(thickest)
    assert thickest.thickness_m is not None, "only pieces with a thickness are lined up"
    name = thickest.name if len(group) == 1 else f"{len(group)} pieces of {called(woods)}, not read"
    line = Line(name, woods[0], thickest.thickness_m, len(group), (), None, None, sides, tuple(_as_told(group)))
    return Lined(line, woods, thickest.since, tuple(one.name for one in group))


def _told_apart(lines: Sequence[Lined]) -> Iterator[Lined]:
    """Those that would be called alike, by a piece in each too."""
    often = Counter(one.line.name for one in lines)
    for one in lines:
        name = one.line.name
        called = f"{name}: {one.pieces[0]}{' and more' if len(one.pieces) > 1 else ''}" if often[name] > 1 else name
        yield replace(one, line=replace(one.line, name=called))


def _largest(sizes: Sequence[float | None]) -> float | None:
    """None where one is not known."""
    known = [size for size in sizes if size is not None]
    return max(known) if len(known) == len(sizes) else None


def untold(pieces: Sequence[PieceRead]) -> tuple[str, ...]:
    """Sentences on bark and ends that nobody told of, where the days of a piece hang on them."""
    bark = _hanging(pieces, "bark_on", False, LEAST_SHORTER)
    ends = _hanging(pieces, "ends_bare", True, SHORT)
    said = (("bark is on", bark, "it counts as on"), ("the ends are coated", ends, "they count as coated"))
    return tuple(f"Nobody told whether {what}, so {so}: {', '.join(some)}." for what, some, so in said if some)


def _hanging(pieces: Sequence[PieceRead], what: str, would_be: bool, share: float) -> list[str]:
    """Names of those of which it was not told, and that would be counted by less than a share of what they are if it were so."""
    found = []
    for piece in pieces:
        woods, _ = _woods(piece)
        if woods and getattr(piece.known, what) is None:
            told = replace(piece, known=replace(piece.known, **{what: would_be}))
            if prod(_shares(told, woods[0])) < share * prod(_shares(piece, woods[0])):
                found.append(piece.name)
    return found


def called(woods: Sequence[Species]) -> str:
    """The woods that a piece may be of, in words."""
    return " or ".join(wood.common for wood in woods)


def _woods(piece: PieceRead) -> tuple[tuple[Species, ...], str]:
    """The woods that it may be of and that can be forecast; else why it is not counted."""
    if piece.thickness_m is None:
        return (), "not counted, because the thickness is not known: measure it."
    try:
        found = woods_called(piece.wood)
        if len(found) > MOST_WOODS:
            raise UnknownSpecies(f"{piece.wood!r} can be {len(found)} woods: say which.")
        for wood in found:
            wood.needed(Trait.SG_GREEN)
            green_moisture(wood)
    except Problem as why:
        return (), f"not counted: {why}"
    return found, ""


@dataclass(frozen=True)
class _Reads:
    """What counts of a piece's readings, and what is to be said of the others."""

    reads: tuple[tuple[date, WeightRead | MoistureRead], ...]
    said: tuple[str, ...]

    @property
    def any(self) -> bool:
        return bool(self.reads)

    @classmethod
    def of(cls, piece: PieceRead, wood: Species, sheet: MeterSheet) -> _Reads:
        said: list[str] = []
        found = [*_weights(piece, said), *_moistures(piece, wood, sheet, said)]
        counted = [one for one in found if one[0] >= piece.since]
        if len(counted) < len(found):
            said.append("Readings from before it came on stickers are not counted.")
        return cls(tuple(sorted(counted, key=lambda one: one[0])), tuple(dict.fromkeys(said)))


Found = tuple[date, WeightRead | MoistureRead]


def _weights(piece: PieceRead, said: list[str]) -> Iterator[Found]:
    if piece.board is not None and piece.board_day is not None:
        yield piece.board_day, MoistureRead(0.0, piece.board.start)
        yield piece.board_day, WeightRead(0.0, piece.board.first.kg, piece.board.first.error_kg)
    if piece.before_cut:
        said.append("Weights from before it was cut to a sample board are not counted.")
    yield from ((day, WeightRead(0.0, one.kg, one.error_kg)) for day, one in piece.weights)


def _moistures(piece: PieceRead, wood: Species, sheet: MeterSheet, said: list[str]) -> Iterator[Found]:
    """What counts for a forecast: a core alone says too little of the whole."""
    for one in by_day(piece.moistures, wood, sheet):
        said += one.said
        if one.of is Where.CORE:
            said.append("A core without a shell of the same day is not counted: read both.")
        else:
            yield one.day, MoistureRead(0.0, one.mc, at_least=one.wetter or one.of is Where.SHELL)
