"""Checker of piles: replays a pile against its room, its bearers and the wood below. Shares no code with what lays it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from waney.drying.pile_parts import Base, Laid, Layer, Pile, PilePiece

HAIR = 1e-6
"""Lengths that differ by less are the same [m]."""


def faults(pile: Pile, given: Sequence[PilePiece]) -> tuple[str, ...]:
    """Everything wrong with a pile of the `given` pieces, as sentences; nothing when it can be built as it is told."""
    return (*_all_there(pile, given), *_heights(pile), *(fault for at in range(len(pile.layers)) for fault in _layer(pile, at)))


def _all_there(pile: Pile, given: Sequence[PilePiece]) -> Iterator[str]:
    told = sorted([one.piece.name for layer in pile.layers for one in layer.laid] + [piece.name for piece, _ in pile.left])
    if told != sorted(piece.name for piece in given):
        yield "The pieces that are laid or left out are not those that were given."


def _heights(pile: Pile) -> Iterator[str]:
    floor = 0.0
    for at, layer in enumerate(pile.layers, 1):
        if abs(layer.z_m - floor - pile.base.sticker_m) > HAIR:
            yield f"Layer {at} does not lie on its stickers."
        floor = layer.z_m + max(one.piece.thickness_m for one in layer.laid)
    if floor > pile.base.height_m + HAIR:
        yield f"The pile is {floor:.3f} m high, more than {pile.base.height_m:.3f} m."


def _layer(pile: Pile, at: int) -> Iterator[str]:
    layer, base = pile.layers[at], pile.base
    sizes = [one.piece.thickness_m for one in layer.laid]
    if max(sizes) - min(sizes) > base.within_m + HAIR:
        yield f"Layer {at + 1}: thicknesses differ by {max(sizes) - min(sizes):.4f} m."
    for i, one in enumerate(layer.laid):
        yield from (f"Layer {at + 1}, {one.piece.name}: {words}." for words in _piece(one, base))
        for other in layer.laid[i + 1 :]:
            if _overlap(one, other):
                yield f"Layer {at + 1}: {one.piece.name} and {other.piece.name} lie in each other."
        if at > 0:
            yield from (f"Layer {at + 1}, {one.piece.name}: {words}." for words in _wood_below(one, pile.layers[at - 1], base))


def _piece(one: Laid, base: Base) -> Iterator[str]:
    left, right = one.x_m, one.x_m + one.piece.length_m
    if left < -HAIR or right > base.length_m + HAIR or one.y_m < -HAIR or one.y_m + one.piece.width_m > base.width_m + HAIR:
        yield "reaches out of the room"
    places = [base.bearers_m[i] for i in one.on if 0 <= i < len(base.bearers_m)]
    if len(places) != len(one.on):
        yield "has a sticker that stands over no bearer"
    under = [x for x in places if left - HAIR <= x <= right + HAIR]
    if len(under) < 2:
        yield f"has {len(under)} stickers under it"
    elif min(under) - left > base.overhang_m + HAIR or right - max(under) > base.overhang_m + HAIR:
        yield "hangs over too far at an end"


def _overlap(a: Laid, b: Laid) -> bool:
    along = min(a.x_m + a.piece.length_m, b.x_m + b.piece.length_m) - max(a.x_m, b.x_m)
    across = min(a.y_m + a.piece.width_m, b.y_m + b.piece.width_m) - max(a.y_m, b.y_m)
    return along > HAIR and across > HAIR


def _wood_below(one: Laid, below: Layer, base: Base) -> Iterator[str]:
    """A sticker bears a piece where wood of the layer below touches it, on both sides of the piece's middle or right below."""
    middle = one.y_m + one.piece.width_m / 2.0
    for i, x in ((i, base.bearers_m[i]) for i in one.on if 0 <= i < len(base.bearers_m)):
        touching = [w for w in below.laid if w.x_m - HAIR <= x <= w.x_m + w.piece.length_m + HAIR]
        front = any(w.y_m <= middle + HAIR for w in touching)
        back = any(w.y_m + w.piece.width_m >= middle - HAIR for w in touching)
        if not (front and back):
            yield f"its sticker {i + 1} has no wood below it"
