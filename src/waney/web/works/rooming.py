"""Rooming: the work that says whether a piece is ready for its room."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from waney.drying.meter_sheet import MeterSheet, read_meter_sheet
from waney.drying.room_wait import SENSIBLE_WEEKS, WITHIN, Room
from waney.figures.problem import Problem
from waney.figures.scenarios import Scenarios
from waney.papers.ranges import spread
from waney.papers.room_words import advice, room_figures, verdict_words
from waney.papers.words import day
from waney.units.moisture import print_mc
from waney.units.share import print_share
from waney.units.temperature import Degree
from waney.web.asked.figure import Figure
from waney.web.asked.packing import as_bytes, read_back
from waney.web.asked.room import RoomAnswer, RoomAsked
from waney.web.asked.stack import moisture_told
from waney.web.works.figures import told_by
from waney.wood.climate import Climate, climate_of
from waney.wood.room_told import room_kept
from waney.work.apart import Progress
from waney.yard.services.room_ready import PieceInRoom, ready_for_room
from waney.yard.services.room_ready import RoomAnswer as Found

SCENARIOS = Scenarios(seed=1, n=96)


class NoPlace(Problem):
    """A room that is nowhere."""


def answer_room(given: bytes, _progress: Progress) -> bytes:
    """The job. Raises the sentences of the readers of figures, NoPlace, UnknownPlace, OutOfRange."""
    asked = read_back(given, RoomAsked)
    climate = climate_of(asked.place)
    if climate is None:
        raise NoPlace("Choose the place where it will live.")
    kept = room_kept(asked.indoors, asked.highest or None, Degree.CELSIUS if asked.metric else Degree.FAHRENHEIT)
    told, today = tuple(map(moisture_told, asked.moistures)), date.fromisoformat(asked.today)
    meter = read_meter_sheet(asked.meter) if asked.meter else MeterSheet()
    piece = PieceInRoom(asked.wood, asked.thickness_m, told, meter, Room(climate, kept), today)
    return as_bytes(_answer(ready_for_room(piece, SCENARIOS), asked, climate, today))


def _answer(answer: Found, asked: RoomAsked, climate: Climate, today: date) -> RoomAnswer:
    oldest = min((day for _, day in answer.days), default=None)
    more = advice(answer.found, None if oldest is None else (today - oldest).days)
    return RoomAnswer(verdict_words(answer.found, climate.place), tuple(_figures(answer, asked, climate)), tuple(more))


def _figures(answer: Found, asked: RoomAsked, climate: Climate) -> Iterator[Figure]:
    found = answer.found
    (read, against), (room, does) = room_figures(found)
    read_on = "; ".join(f"{where} read on {day(on)}" for where, on in answer.days)
    ours = f"wanted: the mean of the room and {print_mc(WITHIN)} more, a choice of ours"
    yield Figure(read, against, f"{read_on or 'nothing read'}; {ours}")
    kept = f"kept at {asked.indoors}{f', at most {asked.highest} % humid' if asked.highest else ''}"
    yield Figure(room, does, f"{kept}; what people and cooling add is common practice, no source")
    yield Figure("Air outdoors", climate.place, *told_by(climate.basis))
    if found.weeks is not None:
        words = spread(found.weeks, lambda weeks: f"{weeks:.0f} weeks")
        basis, key = told_by(found.weeks.basis)
        late = f"; {print_share(found.late)} of all cases take longer than two years" if found.late >= 0.01 else ""
        ours = f"kiln from {SENSIBLE_WEEKS:.0f} weeks on, a choice of ours"
        yield Figure("Until its core has come there", words, f"{basis}; {ours}{late}", key)
