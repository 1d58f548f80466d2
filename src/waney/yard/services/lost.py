"""Lost: what share of a log's boards came to nothing, by volume."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from waney.yard.acts.pieces import PieceEnd
from waney.yard.book.looking import PieceStands
from waney.yard.services.sizes import feet_of

GONE = (str(PieceEnd.LOST), str(PieceEnd.BURNT))
"""ends that leave nothing to bear a cost"""
LEAST_BOARDS = 3
"""of a log, before its share of losses is one"""


def losses_of(boards: Iterable[PieceStands], theirs: Collection[str]) -> tuple[float, ...]:
    """The shares alone, by the ids of their logs. theirs: customers' pieces."""
    return tuple(share for _, share in sorted(lost_by_log(boards, theirs).items()))


def lost_by_log(boards: Iterable[PieceStands], theirs: Collection[str]) -> dict[str, float]:
    """Of each log with enough of the shop's own boards of which it is known what became. theirs: customers'."""
    logs: dict[str, list[tuple[float, bool]]] = {}
    for piece in boards:
        size = feet_of(piece)
        if size and piece.id not in theirs:
            logs.setdefault(piece.log, []).append((size, piece.ended in GONE))
    whole = {log: some for log, some in logs.items() if len(some) >= LEAST_BOARDS}
    return {log: sum(size for size, lost in some if lost) / sum(size for size, _ in some) for log, some in whole.items()}
