"""A room as people tell it: one temperature or four, and the highest humidity that cooling or a dehumidifier leaves."""

from __future__ import annotations

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.problem import Problem
from waney.units.number import parse_number
from waney.units.temperature import Degree, parse_temperature
from waney.wood.room import HIGHEST_HUMIDITY, INDOOR_C, Indoor, by_season


class BadRoom(Problem):
    """A room told by too few temperatures, too many, or by ones that no room has."""


def share_of(text: str) -> float:
    """Per cent as written, as a share. Raises Unreadable.

    >>> share_of("45 %")
    0.45
    """
    return float(parse_number(text.strip().removesuffix("%").strip())) / 100.0


def room_kept(indoors: str, highest: str | None, degree: Degree | None = None) -> Indoor:
    """A room from one temperature or four, and its highest humidity; degree: what a bare number counts.

    Raises BadRoom, and what readers of figures raise.
    """
    warm = [parse_temperature(part, degree) for part in indoors.split(",")]
    if len(warm) not in (1, 4):
        raise BadRoom('A room takes one temperature or four (winter, spring, summer, autumn): "68 F, 70 F, 76 F, 70 F".')
    for one in warm:
        if not INDOOR_C[0] <= one <= INDOOR_C[1]:
            raise BadRoom(f"A room kept at {one:.1f} °C is none for people; write {INDOOR_C[0]:g} °C to {INDOOR_C[1]:g} °C.")
    year = by_season(*warm) if len(warm) == 4 else (warm[0],) * 12
    if not highest:
        return Indoor(year, highest_humidity=HIGHEST_HUMIDITY)
    basis = Basis(Ground.READING, "what was typed", "highest indoor humidity")
    return Indoor(year, highest_humidity=Estimate.known(share_of(highest), basis))
