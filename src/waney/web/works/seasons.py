"""Seasons: the work that follows the width of a piece through the year of a room."""

from __future__ import annotations

from collections.abc import Iterator

from waney.figures.estimate import Estimate
from waney.figures.problem import Problem
from waney.figures.sources import cited
from waney.papers.ink import SCREEN
from waney.papers.ranges import spread
from waney.papers.season_chart import season_chart
from waney.papers.season_words import end_words, month_name, moves_words
from waney.papers.words import INCHES, METRIC, Measure, Shop, measure
from waney.pieces.measured import measured
from waney.pieces.piece_sheet import read_piece_sheet
from waney.pieces.seasons import C2_OF_GRAIN, Seasons, Standing, Wide, own_rings, seasons
from waney.sawing.facts.sawn_piece import piece_of_cut
from waney.sawing.plan_file import read_plan
from waney.units.direction import Direction
from waney.units.length import Grain
from waney.units.moisture import print_mc
from waney.units.temperature import Degree
from waney.web.asked.figure import Figure
from waney.web.asked.packing import as_bytes, read_back
from waney.web.asked.seasons import SeasonsAnswer, SeasonsAsked
from waney.web.works.figures import told_by
from waney.web.works.measuring import SCENARIOS, picture_of
from waney.wood.climate import climate_of
from waney.wood.lag import finish_conductance
from waney.wood.limits import SHRINKAGE_START
from waney.wood.room_told import room_kept
from waney.wood.species import species
from waney.work.apart import Progress


class NoPlace(Problem):
    """A room that is nowhere."""


def follow_seasons(given: bytes, _progress: Progress) -> bytes:
    """The job. Raises the sentences of the readers of sheets and figures, NoPlace, UnknownPlace, NoFigure."""
    asked = read_back(given, SeasonsAsked)
    shop, climate = METRIC if asked.metric else INCHES, climate_of(asked.place)
    if climate is None:
        raise NoPlace("Choose the place where it will stand.")
    room = room_kept(asked.indoors, asked.highest, Degree.CELSIUS if asked.metric else Degree.FAHRENHEIT)
    wide, standing = Wide(_width_m(asked), asked.mc, asked.thickness_m, _rings(asked)), Standing(climate, room, asked.finish)
    year = seasons(species(asked.wood), wide, standing, SCENARIOS)
    return as_bytes(_answer(year, wide, standing, shop))


def _width_m(asked: SeasonsAsked) -> float:
    if asked.width_m is not None:
        return asked.width_m
    return measured(read_piece_sheet(asked.sheet), picture_of(asked.picture), SCENARIOS).widest_m


def _rings(asked: SeasonsAsked) -> Estimate:
    """As somebody said; else its own, by its place in the plan; else anything from flat to quarter."""
    if asked.grain or not asked.plan:
        return C2_OF_GRAIN[asked.grain]
    piece = piece_of_cut(read_plan(asked.plan)[0], asked.cut)
    own = None if piece is None else own_rings(piece)
    return C2_OF_GRAIN[""] if own is None else own


def _answer(year: Seasons, wide: Wide, standing: Standing, shop: Shop) -> SeasonsAnswer:
    moist = ", green" if wide.mc >= SHRINKAGE_START else f" at {print_mc(wide.mc)} moisture"
    return SeasonsAnswer(
        f"{shop.have(wide.width_m)} wide{moist}",
        end_words(year.narrowest_month, year.narrowest, year.driest, shop),
        end_words(year.widest_month, year.widest, year.dampest, shop),
        moves_words(year.moves, year.lag_days, shop),
        tuple((month_name(n), *_fine(month, shop)) for n, month in enumerate(year.months, 1)),
        tuple(_stands_on(year, wide, standing)),
        season_chart(year, wide.width_m, SCREEN, shop),
    )


def _fine(month: Estimate, shop: Shop) -> tuple[str, str, str]:
    """Likely, low and high, a step finer than a rule is read: wood moves by so little."""
    grain = Grain.HALF_MM if shop.sizes.metric else Grain.THIRTY_SECOND_INCH
    likely, low, high = (_bare(measure(width, grain, Direction.READ)) for width in (month.likely, month.low, month.high))
    return likely, low, high


def _bare(size: Measure) -> str:
    """Without its unit: a column has it in its head."""
    return str(size).removesuffix(f" {size.unit}")


def _stands_on(year: Seasons, wide: Wide, standing: Standing) -> Iterator[Figure]:
    law, key = told_by(cited("fpl-gtr-282", "Eq 4-9"))
    yield Figure("Law", f"shrinks in step with its moisture below {print_mc(SHRINKAGE_START)}", law, key)
    yield Figure("How much the wood shrinks", "by its kind", *told_by(year.moves.basis))
    angle = spread(wide.c2, lambda c2: f"{100.0 * c2:.0f} %")
    yield Figure("How its rings stand", f"{angle} of the shrinkage along the rings falls on its width", *told_by(wide.c2.basis))
    yield Figure("Air outdoors", standing.climate.place, *told_by(standing.climate.basis))
    late = spread(year.lag_days, lambda days: f"{days:.0f} days late")
    yield Figure("Air of the room, and how late the wood is", late, *told_by(year.lag_days.basis))
    held = finish_conductance(standing.finish)
    if held is not None:
        yield Figure("Finish", standing.finish, *told_by(held.basis))
