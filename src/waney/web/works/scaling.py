"""Scaling: the work that measures a log: volume with its range, every log scale beside it, weight, what to measure next."""

from __future__ import annotations

from collections.abc import Iterator

from waney.figures.scenarios import Scenarios
from waney.logs.from_sheet import measured_of
from waney.logs.scaled import ScaledLog, scaled
from waney.papers.ranges import spread
from waney.units.direction import Direction
from waney.units.mass import KILOGRAM, POUND, print_mass
from waney.units.share import print_share
from waney.units.volume import CUBIC_FOOT, CUBIC_METRE, print_volume
from waney.web.asked.packing import as_bytes, read_back
from waney.web.asked.scale import ScaleAnswer, ScaleAsked
from waney.work.apart import Progress

SCENARIOS = Scenarios(seed=1)


def scale_log(given: bytes, _progress: Progress) -> bytes:
    """The job. Raises the sentences of the readers of sheets."""
    asked = read_back(given, ScaleAsked)
    found = scaled(measured_of({"log": asked.log, **({"scan": asked.scan} if asked.scan else {})}), SCENARIOS)
    one = found.next_measurement
    advice = f"{one.what}; it narrows the range of the volume by {print_share(one.saved)}" if one else ""
    answer = ScaleAnswer(tuple(_rows(found, asked.metric)), advice, (*found.remarks, *found.assumed))
    return as_bytes(answer)


def _rows(found: ScaledLog, metric: bool) -> Iterator[tuple[str, str]]:
    cubic, heavy = (CUBIC_METRE, KILOGRAM) if metric else (CUBIC_FOOT, POUND)

    def volume(cubic_metres: float) -> str:
        return print_volume(cubic_metres, cubic, Direction.READ)

    def mass(kilograms: float) -> str:
        return print_mass(kilograms, heavy, Direction.READ)

    yield "Wood inside bark", spread(found.volume_m3, volume)
    by = found.formulas
    yield from (("by Smalian", volume(by.smalian_m3)), ("by Huber", volume(by.huber_m3)), ("by Newton", volume(by.newton_m3)))
    for one in (*found.nearest, *found.down):
        yield f"{one.rule}, {one.diameter_in} in ({one.diameter_rounding}), {one.length_ft} ft", f"{one.board_feet} board feet"
    yield "Hoppus inside bark", f"{found.hoppus.feet:.1f} Hoppus feet"
    yield "Hoppus over bark", f"{found.hoppus_over_bark.feet:.1f} Hoppus feet"
    yield "Green weight with bark", spread(found.with_bark_kg, mass)
    yield "Green weight without bark", spread(found.without_bark_kg, mass)
