"""Pull-out places: where pieces that are weighed every week lie in a pile, so that a hand draws them out and puts them back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from waney.drying.pile_parts import DUST_M, Laid, Layer, Pile


class Side(StrEnum):
    """From which side a piece is drawn; the text is how a page names it."""

    FRONT = "front"
    BACK = "back"


@dataclass(frozen=True)
class PullOut:
    """A piece to be weighed: its layer from the bottom (1 is the lowest), its name, the side it is drawn from, and the stickers
    (numbers of bearers, from the left) that are cut out above it so that the wood on top does not hold it."""

    layer: int
    name: str
    side: Side
    cut_out: tuple[int, ...]


def pull_outs(pile: Pile, count: int) -> tuple[PullOut, ...]:
    """Up to `count` places, spread over the height, by turns in front and at the back; never the lowest layer nor the top one
    while there are others, because these dry unlike the rest. Common practice, no source."""
    layers = list(enumerate(pile.layers, 1))
    layers = layers[1:-1] or layers
    found: list[PullOut] = []
    for turn in range(min(count, 2 * len(layers))):
        at, layer = layers[(2 * turn + 1) * len(layers) // (2 * max(count, 1)) % len(layers)]
        taken = {one.name for one in found}
        free = [(side, one) for side in _turns(turn) for one in _outer(layer, side) if one.piece.name not in taken]
        if free:
            side, one = max(free[:1], key=lambda pair: pair[1].piece.length_m)
            found.append(PullOut(at, one.piece.name, side, _above(pile, at, one)))
    return tuple(found)


def places_of(pile: Pile, names: Sequence[str]) -> tuple[PullOut, ...]:
    """Where chosen pieces are drawn from, from the bottom; one that lies behind others on both sides is left out."""
    found = []
    for at, layer in enumerate(pile.layers, 1):
        for one in (one for one in layer.laid if one.piece.name in names):
            side = next((side for side in Side if one in _outer(layer, side)), None)
            if side is not None:
                found.append(PullOut(at, one.piece.name, side, _above(pile, at, one)))
    return tuple(found)


def _turns(turn: int) -> tuple[Side, Side]:
    return (Side.FRONT, Side.BACK) if turn % 2 == 0 else (Side.BACK, Side.FRONT)


def _outer(layer: Layer, side: Side) -> list[Laid]:
    """Pieces with nothing between them and that side, the longest first."""
    free = [one for one in layer.laid if not any(_before(other, one, side) for other in layer.laid if other is not one)]
    return sorted(free, key=lambda one: (-one.piece.length_m, one.piece.name))


def _before(other: Laid, one: Laid, side: Side) -> bool:
    """Whether another piece lies in the way."""
    if min(other.end_m, one.end_m) - max(other.x_m, one.x_m) <= DUST_M:
        return False
    return other.y_m < one.y_m if side is Side.FRONT else other.y_m > one.y_m


def _above(pile: Pile, at: int, one: Laid) -> tuple[int, ...]:
    """Stickers that the layer above has over this piece."""
    over = pile.layers[at].stickers if at < len(pile.layers) else ()
    return tuple(i for i in over if one.x_m <= pile.base.bearers_m[i] <= one.end_m)
