"""Pile: pieces laid so that most wood finds a place, and what none can hold more than."""

from __future__ import annotations

from collections.abc import Sequence

from waney.drying.pile_layers import laid_by_layers, refused_by
from waney.drying.pile_parts import Base, NoPile, Pile, PilePiece
from waney.drying.pile_rows import pile_of_rows


def pile(pieces: Sequence[PilePiece], base: Base) -> Pile:
    """Lay pieces in layers, short ones end to end; of what may come next the layer that covers most, of these the thickest.

    A piece comes only where the layer below bears its stickers. Greedy, and laid anew up to `TRIES` times with those first that
    found no place; where pieces are still left, also with rows and layers chosen all at once (`waney.drying.pile_rows`). The pile
    with most wood is kept. No proof that nothing better exists; `most_volume` is the bound beside it.
    Raises NoPile for no pieces.
    """
    if not pieces:
        raise NoPile("A pile needs a piece.")
    refused = refused_by(pieces, base)
    never = {id(piece) for piece, _ in refused}
    fitting = [piece for piece in pieces if id(piece) not in never]
    best = laid_by_layers(fitting, base)
    if best.left:
        best = max(best, pile_of_rows(fitting, base), key=lambda one: one.volume_m3)
    return Pile(base, best.layers, (*refused, *best.left))


def most_volume(pieces: Sequence[PilePiece], base: Base) -> float:
    """Upper bound of what a pile can hold [m3]: all its wood, or its room less a sticker for each layer of the thickest."""
    thickest = max(piece.thickness_m for piece in pieces)
    share = thickest / (thickest + base.sticker_m)
    return min(sum(piece.volume_m3 for piece in pieces), base.length_m * base.width_m * base.height_m * share)
