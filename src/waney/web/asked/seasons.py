"""A width through the year in a room: what is asked of a worker, and what it answers."""

from __future__ import annotations

from dataclasses import dataclass

from waney.web.asked.figure import Figure


@dataclass(frozen=True)
class SeasonsAsked:
    """What is known of a piece, and the room it goes into.

    wood: any of its names; mc: moisture at which it was so wide [-]; place: of the climate tables; indoors, highest: the room as
    it was typed; width_m: None for the widest by the sheet (and the picture that its photo names, in base64); grain: how the
    rings stand, where somebody said; plan: the plan it was sawn by, cut: from 1, None: it stayed on the bed last.
    """

    wood: str
    thickness_m: float
    mc: float
    place: str
    indoors: str
    highest: str
    finish: str
    width_m: float | None = None
    sheet: str = ""
    picture: str = ""
    grain: str = ""
    plan: str = ""
    cut: int | None = None
    metric: bool = False


@dataclass(frozen=True)
class SeasonsAnswer:
    """width: as it was measured, with the moisture then; narrowest, widest: month, size, moisture; months: name, likely width,
    from, to; stands_on: law, rings, air, finish, each with its source; drawing: the year (SVG)."""

    width: str
    narrowest: str
    widest: str
    moves: str
    months: tuple[tuple[str, str, str, str], ...]
    stands_on: tuple[Figure, ...]
    drawing: str
