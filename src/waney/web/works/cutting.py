"""Cutting: the work that holds ways to cut a stem or a log to length side by side."""

from __future__ import annotations

from collections.abc import Iterator

from waney.figures.problem import Problem
from waney.figures.scenarios import Scenarios
from waney.trade.crosscut import CutLog, CutWay, compared, lengths_said
from waney.units.share import print_share
from waney.web.asked.cuts import CutsAnswer, CutsAsked, WayShown
from waney.web.asked.figure import Figure
from waney.web.asked.packing import as_bytes, read_back
from waney.web.works.figures import bad_likely_good, board_feet, figure, mass, own_money, wood
from waney.work.apart import Progress
from waney.yard.acts.settings import Setting
from waney.yard.services.worth import shop_sheets

SCENARIOS = Scenarios(seed=1)


def compare_ways(given: bytes, progress: Progress) -> bytes:
    """The job. What cannot be compared is answered with its sentence."""
    asked = read_back(given, CutsAsked)
    progress(0.1, "cutting it in thought")
    try:
        found = compared(asked.sheet, asked.ways, SCENARIOS, shop_sheets({Setting.MILL: asked.mill, Setting.WANTS: asked.wants}))
    except Problem as why:
        return as_bytes(CutsAnswer(sentence=str(why)))
    ways = tuple(_way(way, found.currency, asked.metric) for way in found.ways)
    bases = tuple(Figure(each.what, each.basis, "", each.source, each.own) for each in ways[0].logs[0])
    return as_bytes(CutsAnswer(found.answer, ways, bases))


def _way(way: CutWay, currency: str, metric: bool) -> WayShown:
    logs = tuple(tuple(_log(log, currency, metric)) for log in way.logs)
    figures = [figure("Log scale, International 1/4-inch", way.board_feet, board_feet)]
    if way.cents is not None and currency:
        figures.append(own_money("It would earn", way.cents, currency))
    return WayShown(lengths_said(way), tuple(figures), print_share(way.ahead), logs)


def _log(log: CutLog, currency: str, metric: bool) -> Iterator[Figure]:
    yield figure("Weighs, green", log.weight_kg, mass(metric), "no table has its density")
    yield figure("Wood inside bark", log.wood_m3, wood(metric))
    yield figure("Scale", log.board_feet, board_feet)
    if log.cents is not None and currency:
        yield Figure("Earns", bad_likely_good(log.cents, currency), "a quick plan by the mill and wants sheets", own=True)
