"""The months of a place, outdoors under cover and in a room there. A place is chosen from the list: state, then name."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from waney.cli.answers import Emc, Indoors, Places, Settled, ranged
from waney.cli.app import WrittenWrong
from waney.cli.doubts import SCENARIOS
from waney.cli.files import weather_of
from waney.cli.one_air import BEYOND, settled
from waney.cli.ranges import degrees, moisture
from waney.cli.views import View
from waney.papers.columns import aligned, paragraph
from waney.units.moisture import print_mc
from waney.wood import room_told
from waney.wood.climate import (
    Climate,
    HourlyYear,
    outdoor_moisture,
    outdoor_moisture_by_hour,
    station,
    stations_in,
)
from waney.wood.room import GAIN_PA, HIGHEST_HUMIDITY, Indoor, RoomMonth, room_year
from waney.wood.weather import MONTHS


def listed(state: str | None) -> Places:
    """The places of a state. Raises WrittenWrong without one, UnknownPlace."""
    if state is None:
        raise WrittenWrong('Say the air, waney emc "70 F" 65, or a place: waney emc --state CO lists the places of a state.')
    return Places(state.strip().upper(), stations_in(state))


def place_names(found: Places) -> Iterator[str]:
    """One place to a line."""
    yield from found.places


def settled_at(
    state: str | None, place: str | None, rows: Path | None, month: str | None, indoors: str | None, highest: str | None
) -> Emc:
    """The months asked for. Raises WrittenWrong, UnknownPlace, BadWeather, and what the readers of figures raise."""
    climate, hours = _climate(state, place, rows)
    outdoors = outdoor_moisture(climate) if hours is None else outdoor_moisture_by_hour(hours)
    airs = [
        replace(settled(air.month, air.temperature_c, air.humidity), emc=emc, beyond_table=beyond)
        for air, emc, beyond in zip(climate.months, outdoors.months, outdoors.extended, strict=True)
    ]
    if indoors is not None:
        room = room_year(climate, room_kept(indoors, highest), SCENARIOS)
        airs = [replace(air, indoors=_indoors(inside)) for air, inside in zip(airs, room, strict=True)]
    elif highest is not None:
        raise WrittenWrong('--highest-humidity is about a room: say how warm it is kept, --indoors "68 F".')
    wanted = range(1, 13) if month is None else (_month(month),)
    year = outdoors.year if month is None else None
    asked_for = tuple(air for air in airs if air.month in wanted)
    return Emc(climate.place, asked_for, year, str(outdoors.averaging), climate.basis)


def _climate(state: str | None, place: str | None, rows: Path | None) -> tuple[Climate, HourlyYear | None]:
    if rows is not None and place is not None:
        raise WrittenWrong("A place from the list and a table of your own do not go together; leave out --place or --rows.")
    if rows is not None:
        return weather_of(rows)
    if state is None:
        raise WrittenWrong("A place is chosen in its state; write the state too: --state CO --place Denver.")
    return station(state, place or ""), None


def room_kept(indoors: str, highest: str | None) -> Indoor:
    """A room as it was written. Raises WrittenWrong and what readers of figures raise."""
    try:
        return room_told.room_kept(indoors, highest)
    except room_told.BadRoom as slip:
        raise WrittenWrong(f"--indoors: {slip}") from None


def _indoors(room: RoomMonth) -> Indoors:
    return Indoors(room.temperature_c, ranged(room.humidity), ranged(room.moisture))


def _month(text: str) -> int:
    word = text.strip().lower()
    found = [n for n, name in enumerate(MONTHS, 1) if word == str(n) or (len(word) >= 3 and name.startswith(word))]
    if not found:
        raise WrittenWrong(f"{text!r} is no month; write october, oct or 10.")
    return found[0]


def place_lines(found: Emc, view: View) -> Iterator[str]:
    """A row for each month, then what the figures stand on."""
    room = any(air.indoors for air in found.airs)
    yield found.place or "The place"
    head = ["", "outdoors", "humidity", "wood under cover", *(["indoors", "humidity", "wood in the room"] if room else [])]
    yield from aligned([head, *(_row(air, view) for air in found.airs)])
    if found.year_emc is not None:
        yield f"Mean of the year outdoors: {print_mc(found.year_emc)}"
    if any(air.beyond_table for air in found.airs):
        yield f"* {BEYOND}"
    yield from paragraph(f"Outdoors: {found.averaging}; {found.basis}.")
    if room:
        gain, top = GAIN_PA, HIGHEST_HUMIDITY
        yield from paragraph(
            f"Indoors: outdoor vapour, and {gain.likely:.0f} Pa ({gain.low:.0f} to {gain.high:.0f}) that living there adds; "
            f"highest humidity {_whole(top.likely)} ({_whole(top.low)} to {_whole(top.high)}) unless --highest-humidity says it. "
            "Both common practice, no source."
        )


def _row(air: Settled, view: View) -> list[str]:
    month = MONTHS[(air.month or 1) - 1].capitalize()
    mark = "*" if air.beyond_table else ""
    row = [month, degrees(air.temperature_c, view), _whole(air.humidity), f"{mark}{print_mc(air.emc)}"]
    if air.indoors is None:
        return row
    inside = air.indoors
    return [*row, degrees(inside.temperature_c, view), _whole(inside.humidity.likely), moisture(inside.emc)]


def _whole(share: float) -> str:
    return f"{share * 100:.0f} %"
