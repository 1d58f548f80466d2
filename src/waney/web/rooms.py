"""Rooms: where a piece will live: as somebody told of it, else as the shop settled it; and whether it is ready for that room."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from waney.figures.problem import Problem
from waney.web.asked.kinds import ROOM
from waney.web.asked.packing import as_bytes, read_back
from waney.web.asked.room import RoomAnswer, RoomAsked
from waney.web.asking import Job, answer_of, ask
from waney.web.ready import moisture_asked
from waney.web.shop import Shop, degree_of, unit_of
from waney.wood.climate import climate_of
from waney.yard.acts.pieces import RoomTold
from waney.yard.acts.settings import Setting
from waney.yard.book.kiln_seen import read_since_kiln
from waney.yard.book.stack_seen import ReadOf
from waney.yard.book.stories import PieceStory

USUAL_ROOM = {"in": "70 F", "mm": "21 C"}
NOTHING_READ = "Not known whether it is ready for its room: no moisture was read of it, or none since it was in a kiln."
NO_PLACE = "Not known whether it is ready: tell the place where it will live."


@dataclass(frozen=True)
class LivesIn:
    """A place of the climate tables (empty: none is told), the room as people tell it."""

    place: str
    indoors: str
    highest: str


@dataclass(frozen=True)
class RoomShown:
    """job: None where there is nothing to ask; then why_not says what to tell first."""

    room: LivesIn
    job: Job | None
    answer: RoomAnswer | None
    why_not: str


def with_degrees(indoors: str, unit: str) -> str:
    """Temperatures with their scale, so that they stay the same wherever they are read again.

    >>> with_degrees("68, 72 F", "in")
    '68 F, 72 F'
    """
    parts = [part.strip() for part in indoors.split(",") if part.strip()]
    return ", ".join(part if part[-1].isalpha() else f"{part} {degree_of(unit)}" for part in parts)


def room_told(story: PieceStory) -> RoomTold:
    """The room that was told of a piece last; its words empty where nobody told them."""
    acts = (each.event.act for each in reversed(story.events) if each.event.kind == "room-told")
    return next((act for act in acts if isinstance(act, RoomTold)), RoomTold(story.piece.id))


def lives_in(told: RoomTold, settled: Mapping[str, str]) -> LivesIn:
    """The room that was told of a piece, each of its words else as the shop settled it."""
    indoors = told.indoors or settled.get(Setting.ROOM, "") or USUAL_ROOM[unit_of(settled)]
    place = told.place or _place(settled.get(Setting.PLACE, ""))
    return LivesIn(place, indoors, told.highest or settled.get(Setting.ROOM_HIGHEST, ""))


def _place(written: str) -> str:
    """A place as the climate tables have it; empty where they do not."""
    try:
        climate = climate_of(written)
    except Problem:
        return ""
    return "" if climate is None else climate.place


def ready_for_room(shop: Shop, story: PieceStory) -> RoomShown:
    """Whether a piece is ready for its room: asked as a job as soon as something was read of it since its last kiln."""
    settled, piece = shop.settled(), story.piece
    room, read = lives_in(room_told(story), settled), read_since_kiln(shop.book, [piece.id]).get(piece.id, ReadOf())
    if not read.moistures:
        return RoomShown(room, None, None, NOTHING_READ)
    if not room.place:
        return RoomShown(room, None, None, NO_PLACE)
    moistures = tuple(moisture_asked(one) for one in read.moistures)
    told = (room.place, room.indoors, room.highest, shop.today().isoformat(), settled.get(Setting.METER, ""))
    asked = RoomAsked(piece.species, piece.thickness_m, moistures, *told, unit_of(settled) == "mm")
    given = as_bytes(asked)
    job = ask(shop, ROOM, given)
    content = answer_of(shop, job)
    return RoomShown(room, job, read_back(content, RoomAnswer) if content else None, "")
