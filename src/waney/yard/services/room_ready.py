"""Room ready: a piece as it was read, against the room it will live in; what to do is `drying.room_wait`'s."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from waney.drying.meter_sheet import MeterSheet
from waney.drying.moisture_told import MoistureTold, Where, last_at, last_day_at
from waney.drying.room_wait import AsRead, Room, RoomReady, room_ready
from waney.figures.scenarios import Scenarios
from waney.yard.services.woods import wood_of


@dataclass(frozen=True)
class PieceInRoom:
    """A piece as far as it is known, all that was read of it, and its room; start: from when it would lie there."""

    wood: str
    thickness_m: float | None
    told: tuple[MoistureTold, ...]
    meter: MeterSheet
    room: Room
    start: date


@dataclass(frozen=True)
class RoomAnswer:
    """days: of the readings that count, by the part that was read."""

    found: RoomReady
    days: tuple[tuple[Where, date], ...]


def ready_for_room(piece: PieceInRoom, scenarios: Scenarios) -> RoomAnswer:
    """Whether it is ready, by the last reading of each part; the whole thickness counts where no core was read since.

    Raises OutOfRange for a reading that no meter is made for.
    """
    wood = wood_of(piece.wood)
    days = {where: day for where in Where if (day := last_day_at(piece.told, where)) is not None}
    if Where.WHOLE in days and days[Where.WHOLE] > days.get(Where.CORE, date.min):
        days = {Where.WHOLE: days[Where.WHOLE]}
    else:
        days.pop(Where.WHOLE, None)
    shell, core, whole = (last_at(piece.told, where, wood, piece.meter) if where in days else None for where in _PARTS)
    found = room_ready(wood, piece.thickness_m, AsRead(shell, core, whole), piece.room, piece.start, scenarios)
    return RoomAnswer(found, tuple(sorted(days.items(), key=lambda one: one[1])))


_PARTS = (Where.SHELL, Where.CORE, Where.WHOLE)
