"""Planned words: the outline of a piece as its plan has it, in figures that somebody can hold a tape against."""

from __future__ import annotations

from collections.abc import Iterator

from waney.papers.ranges import spread
from waney.papers.words import Shop
from waney.pieces.piece import Piece
from waney.pieces.seasons import own_rings
from waney.pieces.shrinking import Shrinking
from waney.sawing.facts.planned_outline import FacePlanned, OutlinePlanned
from waney.units.moisture import print_mc

EVERY_M = 0.3048
"""a foot"""
MOST_PLACES = 12


def every_m(found: OutlinePlanned) -> float:
    """How far apart its places lie: a foot, farther on a long piece."""
    return max(EVERY_M, max(float(face.along_m[-1]) for face in _faces(found)) / (MOST_PLACES - 2))


def planned_edges(found: OutlinePlanned, shop: Shop) -> Iterator[tuple[str, str, str, str, str]]:
    """A place along, and left and right edge of the upper and of the under face there; empty where a face has no wood."""
    for at in found.places(every_m(found)):
        yield str(shop.read(at)), *_edges(found.upper, at, shop), *_edges(found.under, at, shop)


def planned_rows(found: OutlinePlanned, piece: Piece, shrinking: Shrinking, shop: Shop) -> Iterator[tuple[str, str]]:
    """What it is as it comes off the saw, each with its range, and how much narrower it is once dried."""
    yield "Thick, green", str(shop.read(found.thickness_m))
    for what, face in (("Upper face", found.upper), ("Under face", found.under)):
        if face is None:
            yield what, "no wood: the bark takes it whole"
            continue
        yield what, spread(face.area_m2, shop.area)
        middle = float(face.along_m[0] + face.along_m[-1]) / 2.0
        yield f"{what}, halfway", f"{spread(face.width_at(middle), lambda wide: str(shop.have(wide)))} wide"
    rings = own_rings(piece)
    if rings is not None and shrinking.dryness > 0.0:
        narrower = 1.0 - shrinking.width_left(rings.likely)
        yield f"Dried to {print_mc(shrinking.target_mc)}", f"about {100.0 * narrower:.0f} % narrower than green"


def _faces(found: OutlinePlanned) -> list[FacePlanned]:
    return [face for face in (found.under, found.upper) if face is not None]


def _edges(face: FacePlanned | None, at_m: float, shop: Shop) -> tuple[str, str]:
    if face is None or not face.has(at_m):
        return "", ""
    left, right = face.edges_at(at_m)
    return str(shop.read(left)), str(shop.read(right))
