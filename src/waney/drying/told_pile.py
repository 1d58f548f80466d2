"""Told pile: layers as somebody laid them and told the book, drawn as a pile; what nobody told is laid as it may be."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from waney.drying.pile import pile
from waney.drying.pile_parts import DUST_M, Base, Laid, Layer, NoPile, Pile, PilePiece, bearers

APART_M, INSET_M, HIGHEST_M = 0.4064, 0.05, 10.0
"""Stickers of which nobody told how far apart: 16 in; from the ends of the longest piece; more than any stack. Common practice,
no source."""
NOT_TOLD = "nobody told its layer"
TOO_WIDE_M = 0.02
"""What a layer may be wider than another before the pile's room is taken to be the widest."""


def base_under(layers: Sequence[Sequence[PilePiece]], rest: Sequence[PilePiece], sticker_m: float, apart_m: float | None) -> Base:
    """Bearers under the longest piece, room for the widest layer; where none is told, about as wide as high. Raises NoPile."""
    every = [*(piece for layer in layers for piece in layer), *rest]
    if not every:
        raise NoPile("Nothing lies on this stack.")
    long = max(piece.length_m for piece in every)
    told = max((sum(piece.width_m for piece in layer) for layer in layers), default=0.0)
    wide = told or max(max(piece.width_m for piece in rest), _square(rest, sticker_m, long))
    between = min(apart_m or APART_M, long - 2.0 * INSET_M)
    return Base(long, wide + TOO_WIDE_M, HIGHEST_M, bearers(long, between, INSET_M), sticker_m=sticker_m, overhang_m=long)


def across(pieces: Iterable[tuple[int | None, float | None]]) -> float | None:
    """Width of a stack [m], its widest layer, from the layer and width of each piece; None for none, and where a piece lies in no
    told layer or has no width: any layer may then be wider than it looks."""
    layers: dict[int, float] = {}
    for layer, width in pieces:
        if layer is None or not width:
            return None
        layers[layer] = layers.get(layer, 0.0) + width
    return max(layers.values(), default=None)


def _square(pieces: Sequence[PilePiece], sticker_m: float, long: float) -> float:
    """The width at which a pile is about as high as wide."""
    section = sum(piece.length_m * piece.width_m * (piece.thickness_m + sticker_m) for piece in pieces) / long
    return float(section**0.5)


def told_pile(layers: Sequence[Sequence[PilePiece]], rest: Sequence[PilePiece], base: Base) -> Pile:
    """Layers in their order from the bottom, each piece beside the next from the front; where it lies along the
    stack nobody tells.

    rest: pieces of no told layer; they are left out where others have one, and laid as they may be where none has.
    """
    if not any(layers):
        return pile(rest, base)
    found: list[Layer] = []
    z = base.sticker_m
    for layer in (one for one in layers if one):
        found.append(Layer(_side_by_side(layer, base), z))
        z += found[-1].thickness_m + base.sticker_m
    return Pile(base, tuple(found), tuple((piece, NOT_TOLD) for piece in rest))


def _side_by_side(pieces: Sequence[PilePiece], base: Base) -> tuple[Laid, ...]:
    """Boxed: each beside the next, shorter ones by turns at the left end and at the right. Box piling, as air-drying handbooks
    have it (from memory)."""
    laid: list[Laid] = []
    y = 0.0
    for turn, piece in enumerate(pieces):
        x = 0.0 if turn % 2 == 0 else base.length_m - piece.length_m
        laid.append(Laid(piece, x, y, _under(x, piece, base)))
        y += piece.width_m + base.gap_m
    return tuple(laid)


def _under(x: float, piece: PilePiece, base: Base) -> tuple[int, ...]:
    """Stickers under a piece: those that it reaches, else the nearest one."""
    reached = tuple(i for i, at in enumerate(base.bearers_m) if x - DUST_M <= at <= x + piece.length_m + DUST_M)
    nearest = min(range(len(base.bearers_m)), key=lambda i: abs(base.bearers_m[i] - x))
    return reached or (nearest,)
