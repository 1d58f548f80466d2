"""Layers of a pile, one on the other: of what may come next the layer that covers most, where the layer below bears it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from waney.drying.pile_parts import DUST_M, Base, Laid, Layer, Pile, PilePiece

TRIES = 8
NO_ROOM = "no room is left below the top"
NOT_BORNE = "no layer bears its stickers: lay a filler of its thickness below, or begin another pile"
Place = tuple[float, tuple[int, ...]]
"""Left end of a piece along the pile [m], and the stickers under it."""


def place(length_m: float, base: Base, begin_m: float, end_m: float, lines: Sequence[int]) -> Place | None:
    """Where a piece lies best between two places along the pile [m] on these lines of stickers; None where it cannot.

    Best: the least overhang at its worse end, then the farthest to the left. Its ends want a sticker within `overhang_m`.
    """
    found = [(over, x, on) for x, on, over in _places(length_m, base, begin_m, end_m, lines)]
    return min(found)[1:] if found else None


def _places(
    length_m: float, base: Base, begin_m: float, end_m: float, lines: Sequence[int]
) -> Iterator[tuple[float, tuple[int, ...], float]]:
    """Every place worth a try from the left on, with the stickers under it and its longer overhang [m]."""
    for x in _tries(length_m, base, begin_m, end_m, lines):
        on = tuple(i for i in lines if x - DUST_M <= base.bearers_m[i] <= x + length_m + DUST_M)
        if len(on) >= 2:
            over = max(base.bearers_m[on[0]] - x, x + length_m - base.bearers_m[on[-1]])
            if over <= base.overhang_m + DUST_M:
                yield x, on, over


def _tries(length_m: float, base: Base, begin_m: float, end_m: float, lines: Sequence[int]) -> list[float]:
    """Against either limit, an end over a sticker, both ends as far beyond their stickers, or as far beyond one as may be."""
    at = [base.bearers_m[i] for i in lines]
    tries = {begin_m, end_m - length_m}
    tries |= {x for left in at for x in (left, left - length_m, left - base.overhang_m, left + base.overhang_m - length_m)}
    tries |= {0.5 * (left + right - length_m) for i, left in enumerate(at) for right in at[i + 1 :]}
    return sorted(x for x in tries if begin_m - DUST_M <= x <= end_m - length_m + DUST_M)


def ends_meet(lengths_m: Sequence[float], base: Base) -> bool:
    """Whether pieces of these lengths lie end to end in one row, each borne near its ends, where every line of stickers bears."""
    begin, every = 0.0, range(len(base.bearers_m))
    for length in lengths_m:
        found = next(_places(length, base, begin, base.length_m, every), None)
        if found is None:
            return False
        begin = found[0] + length
    return True


def refused_by(pieces: Sequence[PilePiece], base: Base) -> tuple[tuple[PilePiece, str], ...]:
    """Pieces that could not lie here even alone, each with the reason."""
    return tuple((piece, why) for piece in pieces if (why := _never(piece, base)))


def laid_by_layers(pieces: Sequence[PilePiece], base: Base) -> Pile:
    """Layer on layer, the largest first; laid anew with those first that found no place."""
    order = largest_first(pieces)
    best = latest = _laid(order, base)
    for _ in range(TRIES - 1):
        homeless = {id(piece) for piece, why in latest.left if why == NOT_BORNE}
        if not homeless:
            break
        order = sorted(order, key=lambda p: id(p) not in homeless)
        latest = _laid(order, base)
        best = max(best, latest, key=lambda one: one.volume_m3)
    return best


def largest_first(pieces: Iterable[PilePiece]) -> list[PilePiece]:
    """The thickest, of these the longest, of these the widest."""
    return sorted(pieces, key=lambda p: (-p.thickness_m, -p.length_m, -p.width_m, p.name))


def _laid(pieces: Sequence[PilePiece], base: Base) -> Pile:
    """Layer on layer, in each the first of these pieces first."""
    layers, left = next_layers(pieces, base, ())
    return Pile(base, layers, refusals(left, base, layers))


def next_layers(
    pieces: Sequence[PilePiece], base: Base, below: Sequence[Layer]
) -> tuple[tuple[Layer, ...], tuple[PilePiece, ...]]:
    """What is laid on the layers below, and the pieces that are left."""
    waiting, layers = list(pieces), list(below)
    while layer := _next(waiting, base, layers[-1] if layers else None, _floor(base, layers)):
        layers.append(layer)
        taken = {id(one.piece) for one in layer.laid}
        waiting = [piece for piece in waiting if id(piece) not in taken]
    return tuple(layers[len(below) :]), tuple(waiting)


def refusals(left: Sequence[PilePiece], base: Base, layers: Sequence[Layer]) -> tuple[tuple[PilePiece, str], ...]:
    """Each piece that is left above these layers, with the reason."""
    z = _floor(base, layers)
    return tuple((p, NO_ROOM if z + p.thickness_m > base.height_m + DUST_M else NOT_BORNE) for p in left)


def _floor(base: Base, layers: Sequence[Layer]) -> float:
    """Height at which the next layer lies [m]."""
    return (layers[-1].z_m + layers[-1].thickness_m if layers else 0.0) + base.sticker_m


def _next(waiting: Sequence[PilePiece], base: Base, below: Layer | None, z: float) -> Layer | None:
    """The layer that covers most of those that may come next; None when none may."""
    heights = [t for t in sorted({p.thickness_m for p in waiting}, reverse=True) if z + t <= base.height_m + DUST_M]
    spans = spans_over(base, below)
    found = [
        Layer(tuple(laid), z)
        for t in heights
        if (laid := _layer([p for p in waiting if -DUST_M <= t - p.thickness_m <= base.within_m + DUST_M], base, spans))
    ]
    return max(found, key=lambda layer: (layer.area_m2, layer.thickness_m), default=None)


Spans = tuple[tuple[float, float] | None, ...]
"""For each line of stickers from where to where across the pile it is borne [m]; None where it is not."""


def spans_over(base: Base, below: Layer | None) -> Spans:
    """Where each line of stickers is borne by the layer below; by the bearers where there is none."""
    if below is None:
        return tuple((0.0, base.width_m) for _ in base.bearers_m)
    return tuple(below.on_line(i) for i in range(len(base.bearers_m)))


def _lines(piece: PilePiece, y: float, spans: Spans) -> tuple[int, ...]:
    """Lines of stickers that bear a piece whose near side is at `y`: its middle lies between the outer wood below on the line."""
    middle = y + 0.5 * piece.width_m
    return tuple(i for i, span in enumerate(spans) if span and span[0] - DUST_M <= middle <= span[1] + DUST_M)


def _never(piece: PilePiece, base: Base) -> str:
    """Why a piece fits in no layer at all; nothing when it does."""
    if piece.width_m > base.width_m + DUST_M:
        return "wider than the room"
    if piece.length_m > base.length_m + DUST_M:
        return "longer than the room"
    if place(piece.length_m, base, 0.0, base.length_m, range(len(base.bearers_m))) is None:
        return f"its ends would reach more than {base.overhang_m * 1000:.0f} mm beyond a sticker: add a bearer for its length"
    return ""


def _layer(pieces: Sequence[PilePiece], base: Base, spans: Spans) -> list[Laid]:
    """One layer from these pieces: rows across the pile, each as wide as its first piece; none where nothing is borne."""
    laid: list[Laid] = []
    y, waiting = 0.0, list(pieces)
    while row := _row(waiting, base, y, spans):
        laid += row
        taken = {id(one.piece) for one in row}
        waiting = [piece for piece in waiting if id(piece) not in taken]
        y += row[0].piece.width_m + base.gap_m
    return laid


def _row(waiting: Sequence[PilePiece], base: Base, y: float, spans: Spans) -> list[Laid]:
    """A row from the first piece that fits at `y`; what is no wider and still fits behind it lies end to end with it."""
    row: list[Laid] = []
    begin, widest = 0.0, base.width_m - y
    tried: set[tuple[float, float]] = set()
    for piece in waiting:
        size = (piece.length_m, piece.width_m)
        if size in tried or piece.width_m > widest + DUST_M or begin + piece.length_m > base.length_m + DUST_M:
            continue
        found = next(_places(piece.length_m, base, begin, base.length_m, _lines(piece, y, spans)), None)
        if found is None:
            tried.add(size)  # what did not fit here does not fit farther on either
            continue
        row.append(Laid(piece, found[0], y, found[1]))
        begin, widest = row[-1].end_m, row[0].piece.width_m
    return row if len(row) != 1 else [_middled(row[0], base, y, spans)]


def lie_at(pieces: Sequence[PilePiece], base: Base, y: float, spans: Spans) -> list[Laid]:
    """One row of these pieces end to end, its near side at `y`; those left out that are not borne."""
    row: list[Laid] = []
    begin = 0.0
    for piece in pieces:
        found = next(_places(piece.length_m, base, begin, base.length_m, _lines(piece, y, spans)), None)
        if found is not None and y + piece.width_m <= base.width_m + DUST_M:
            row.append(Laid(piece, found[0], y, found[1]))
            begin = row[-1].end_m
    return row if len(row) != 1 else [_middled(row[0], base, y, spans)]


def _middled(one: Laid, base: Base, y: float, spans: Spans) -> Laid:
    """A piece that has its row to itself, where its ends hang over least."""
    found = place(one.piece.length_m, base, 0.0, base.length_m, _lines(one.piece, y, spans))
    return one if found is None else Laid(one.piece, found[0], y, found[1])
