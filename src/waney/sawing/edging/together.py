"""Together: the flitches of a finished plan edged together where that gains something: moves, pieces as they then are, money."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from waney.sawing.edging.batch import Batch
from waney.sawing.edging.flitch import flitches_of
from waney.sawing.edging.groups import best_groups
from waney.sawing.kernel.records import Ask
from waney.sawing.log_to_saw import LogToSaw
from waney.sawing.moves import EdgeTogether
from waney.sawing.plan import PlannedPiece
from waney.sawing.wants import Wants


@dataclass(frozen=True, eq=False)
class Together:
    """pieces: those that stand with others as their two heights leave them; saved: by standing them together; gained: the same
    with what their widths then give or cost [whole cents]."""

    pieces: tuple[PlannedPiece, ...]
    moves: tuple[EdgeTogether, ...]
    saved_cents: int
    gained_cents: int


def edged_together(pieces: tuple[PlannedPiece, ...], wants: Wants, log: LogToSaw, ask: Ask) -> Together:
    """The best groups of the pieces that wait to be edged."""
    batches = best_groups(flitches_of(pieces, wants, log, ask.step), ask, wants.rules.edging_cents)
    return Together(
        pieces=_as_left(pieces, batches),
        moves=tuple(_move(batch) for batch in batches),
        saved_cents=sum(batch.saved_cents for batch in batches),
        gained_cents=sum(batch.gained_cents for batch in batches),
    )


def _move(batch: Batch) -> EdgeTogether:
    """The narrowest against the backstops, so that the widest, which comes out first, stands nearest to the sawyer."""
    standing = sorted(batch.standing, key=lambda one: (one.width, one.flitch.place))
    return EdgeTogether(
        names=tuple(one.flitch.planned.piece.name for one in standing),
        low_y_up=tuple(one.side.low_y_up for one in standing),
        first_height_steps=batch.first,
        then_height_steps=batch.then,
        widths_steps=tuple(one.width for one in standing),
    )


def _as_left(pieces: tuple[PlannedPiece, ...], batches: Sequence[Batch]) -> tuple[PlannedPiece, ...]:
    """Every grouped piece with the edges and the worth that its heights leave."""
    found = list(pieces)
    for batch in batches:
        for one in batch.standing:
            worth = one.flitch.worth(one.side, batch.first, one.width)
            assert worth is not None
            found[one.flitch.place] = replace(one.flitch.planned, worth=worth)
    return tuple(found)
