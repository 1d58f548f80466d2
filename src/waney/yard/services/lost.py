"""Lost: what share of a log's boards came to nothing, by volume, and by what they might have brought."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from statistics import median

from waney.yard.acts.pieces import PieceEnd
from waney.yard.book.looking import PieceStands
from waney.yard.book.record_seen import PieceGot
from waney.yard.services.sizes import feet_of
from waney.yard.services.woods import known_wood

GONE = (str(PieceEnd.LOST), str(PieceEnd.BURNT))
"""ends that leave nothing to bear a cost"""
LEAST_BOARDS = 3
"""of a log, before its share of losses is one"""


def losses_of(boards: Iterable[PieceStands], theirs: Collection[str]) -> tuple[float, ...]:
    """By volume, of each log with enough of the shop's own boards of which it is known what became. theirs: customers' pieces."""
    logs: dict[str, list[tuple[float, bool]]] = {}
    for piece in boards:
        size = feet_of(piece)
        if size and piece.id not in theirs:
            logs.setdefault(piece.log, []).append((size, piece.ended in GONE))
    whole = [some for _, some in sorted(logs.items()) if len(some) >= LEAST_BOARDS]
    return tuple(sum(size for size, lost in some if lost) / sum(size for size, _ in some) for some in whole)


def unearned_by_log(boards: Iterable[PieceStands], theirs: Collection[str], got: Iterable[PieceGot]) -> dict[str, float]:
    """1 less what a log's boards brought over what they would have brought at the middle price a board foot of their wood: of
    each log with enough boards that were sold for a price or came to nothing. Below 0 where they brought more.

    So a board that was sold cheap because it is blue counts like one that was burnt in part. What was used counts nothing.
    """
    cents = {one.piece.id: one.cents for one in got}
    some = [(piece, size) for piece in boards if (size := feet_of(piece)) and piece.id not in theirs]
    prices: dict[str, list[float]] = {}
    for piece, size in some:
        if piece.id in cents:
            prices.setdefault(known_wood(piece.species), []).append(cents[piece.id] / size)
    usual = {wood: median(sorted(seen)) for wood, seen in prices.items()}
    logs: dict[str, list[tuple[float, float]]] = {}
    for piece, size in some:
        wood = known_wood(piece.species)
        if wood in usual and (piece.ended in GONE or piece.id in cents):
            logs.setdefault(piece.log, []).append((size * usual[wood], float(cents.get(piece.id, 0))))
    whole = {log: told for log, told in logs.items() if len(told) >= LEAST_BOARDS}
    return {log: 1.0 - sum(brought for _, brought in told) / sum(might for might, _ in told) for log, told in whole.items()}
