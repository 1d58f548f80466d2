"""Stacking: the work that forecasts when a stack is ready, from what the book knows of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date

from waney.drying.band import Band
from waney.drying.chamber import Dehumidified, SunChamber
from waney.drying.chamber_sheet import AIR_SPEED
from waney.drying.dry_weight import AIR_DRY, dry_by_sizes
from waney.drying.either import SHELTERS, anywhere
from waney.drying.evidence import WeightRead
from waney.drying.forecast import Spread, dates
from waney.drying.meter_sheet import MeterSheet, read_meter_sheet
from waney.drying.outdoors import PACKAGE, Exposure, NoPassage, Passage
from waney.drying.piece_read import PieceRead, called, untold
from waney.drying.sample_board import SampleBoard, Section
from waney.drying.stack import PARTICLES, BadStack, Line, Stack
from waney.drying.told_pile import across
from waney.drying.weighing import WeighingScale, Weight, coarse, gain_from, weight_of
from waney.drying.yard_stack import LineFound, YardStack, yard_dates
from waney.figures.estimate import Estimate
from waney.figures.problem import Problem
from waney.figures.scenarios import Scenarios
from waney.papers.air_words import air_said
from waney.papers.ranges import days, spread
from waney.units.direction import Direction
from waney.units.mass import KILOGRAM, POUND, print_mass
from waney.units.moisture import print_mc
from waney.web.asked.packing import as_bytes, read_back, whole_again
from waney.web.asked.stack import (
    BandAnswer,
    DryAnswer,
    LineAnswer,
    PointAnswer,
    Ready,
    SampleAsked,
    StackAnswer,
    StackAsked,
    StackPiece,
    moisture_told,
)
from waney.web.works.figures import told_by
from waney.wood.climate import Climate, HourlyYear, climate_of
from waney.wood.own_weather import kept_weather
from waney.work.apart import Progress

UNREAD = "A chamber with a dehumidifier needs what is read in it, temperature and humidity."
SCENARIOS = Scenarios(1, PARTICLES)
WORTH_TELLING = 0.9
"""what leaves more than this share of the range is not asked for (ours)"""


def forecast_stack(given: bytes, progress: Progress) -> bytes:
    """The job. Raises Problem for a stack that nothing can be said of."""
    asked = read_back(given, StackAsked)
    assumed: list[str] = []
    (climates, hours), exposures = _weather(asked, assumed), _shelters(asked, assumed)
    target = asked.wanted_mc or AIR_DRY
    if asked.wanted_mc is None:
        assumed.append(f"Nobody told to which moisture it is to come: {print_mc(AIR_DRY)}, air-dry.")
    pieces = tuple(_piece(one, assumed) for one in asked.pieces)
    assumed += untold(pieces)
    chamber = _chamber(asked, assumed)
    passage = _passage(asked, assumed)
    around = (date.fromisoformat(asked.spring), chamber, hours, passage)
    stack = YardStack(climates, exposures, target, pieces, _meter(asked, assumed), *around)
    found = yard_dates(stack, SCENARIOS, lambda share: progress(share, "drying the stack in thought"))
    lines = tuple(_line(one, target, asked) for one in found.lines)
    here = Stack(
        climates[0], date.fromisoformat(asked.spring), exposures[0], target, (), chamber=chamber, hours=hours, passage=passage
    )
    air = air_said(here) if len(climates) == 1 else ""
    return as_bytes(StackAnswer(target, air, lines, tuple(dict.fromkeys(assumed)), found.left))


def _weather(asked: StackAsked, assumed: list[str]) -> tuple[tuple[Climate, ...], HourlyYear | None]:
    """The shop's own weather, else that of the place that is settled, else several."""
    if asked.weather:
        try:
            climate, hours = kept_weather(whole_again(asked.weather))
            return (climate,), hours
        except Problem as why:
            assumed.append(f"Your own weather in the settings cannot be read, so nothing of it counts: {why}")
    return _places(asked, assumed), None


def _chamber(asked: StackAsked, assumed: list[str]) -> SunChamber | Dehumidified | None:
    """As it was read where it stands; one that the sun warms need not be. Raises BadStack for one with a dehumidifier."""
    read = asked.chamber
    if asked.shelter == Exposure.SUN:
        if read is None or not read.of_sun:
            assumed.append("Nobody read the air of the chamber, so the range holds a dull, a usual and a good one.")
            return None
        by_day, by_night = (read.day_inside_c, read.day_outside_c), (read.night_inside_c, read.night_outside_c)
        return SunChamber.read(_both(by_day), _both(by_night), read.day_humidity, read.speed_m_s or AIR_SPEED)
    if asked.shelter == Exposure.DEHUMIDIFIER:
        if read is None or read.inside_c is None or read.humidity is None:
            raise BadStack(UNREAD)
        return Dehumidified(read.inside_c, read.humidity, read.speed_m_s or AIR_SPEED)
    return None


def _passage(asked: StackAsked, assumed: list[str]) -> Passage:
    """What its air goes through: its width as told or its widest told layer, its stickers."""
    wide = asked.wide_m or across((one.layer, one.width_m) for one in asked.pieces)
    if wide is None:
        assumed.append(
            "Not all pieces have a layer and a width, so the stack counts as 4 ft wide: tell it, a wider one dries slower."
        )
    try:
        return Passage(wide or PACKAGE.wide_m, asked.sticker_m or PACKAGE.sticker_m)
    except NoPassage as why:
        assumed.append(f"It counts as 4 ft wide, on stickers of 7/8 in. {why}")
        return PACKAGE


def _both(read: tuple[float | None, float | None]) -> tuple[float, float]:
    inside, outside = read
    if inside is None or outside is None:
        raise BadStack("Two thermometers tell what the sun makes of a chamber: one inside, one outside.")
    return inside, outside


def _places(asked: StackAsked, assumed: list[str]) -> tuple[Climate, ...]:
    try:
        settled = climate_of(asked.place)
    except Problem as why:
        assumed.append(f"The nearest place in the settings: {why}")
        settled = None
    if settled is not None:
        return (settled,)
    tried = anywhere()
    assumed.append(f"No place is settled, so the range holds the weather of {', '.join(one.place for one in tried)}.")
    return tried


def _shelters(asked: StackAsked, assumed: list[str]) -> tuple[Exposure, ...]:
    if asked.shelter:
        return (Exposure(asked.shelter),)
    assumed.append(f"Nobody told under what it stands, so the range holds both: {' and '.join(SHELTERS)}.")
    return SHELTERS


def _meter(asked: StackAsked, assumed: list[str]) -> MeterSheet:
    if not asked.meter:
        return MeterSheet()
    try:
        return read_meter_sheet(asked.meter)
    except Problem as why:
        assumed.append(f"The meter sheet cannot be read, so nothing of it counts: {why}")
        return MeterSheet()


def _piece(asked: StackPiece, assumed: list[str]) -> PieceRead:
    weights = tuple(
        (date.fromisoformat(one.day), weight_of(one.kg, WeighingScale(one.mark_kg), ends=one.ends)) for one in asked.weights
    )
    board, cut = _board(asked, assumed)
    sizes = (asked.thickness_m, asked.length_m, asked.width_m)
    since = date.fromisoformat(asked.since)
    moistures = tuple(map(moisture_told, asked.moistures))
    return PieceRead(asked.name, asked.wood, *sizes, since, weights, moistures, board, cut, asked.before_cut, asked.known)


def _board(asked: StackPiece, assumed: list[str]) -> tuple[SampleBoard | None, date | None]:
    """Board and day of the cut; no board while the sections are in the oven, and none where they do not count."""
    sample: SampleAsked | None = asked.sample
    if sample is None:
        return None, None
    cut = date.fromisoformat(sample.day)
    if not sample.dry_kg:
        return None, cut
    try:
        sections = tuple(Section(*pair) for pair in zip(sample.wet_kg, sample.dry_kg, strict=True))
        board = SampleBoard(weight_of(sample.kg, WeighingScale(sample.mark_kg)), sections)
    except Problem as why:
        assumed.append(f"{asked.name}: its sections do not count. {why}")
        return None, cut
    return board, cut


def _line(found: LineFound, target: float, asked: StackAsked) -> LineAnswer:
    line, since, dates_ = found.lined.line, found.lined.since, found.dates
    forecast = dates_.forecast
    heavy = _heavy(asked.metric)
    last = _last_weight(found, asked)
    return LineAnswer(
        line.name, called(found.lined.woods), line.thickness_m, found.lined.pieces, since.isoformat(),
        _ready(since, forecast.before), _ready(since, forecast.after), len(line.reads),
        spread(forecast.mc, print_mc) if forecast.mc else "", spread(forecast.dry, heavy) if forecast.dry else "",
        spread(dates_.tag_kg, heavy) if dates_.tag_kg else "", _one_mark(forecast.dry, found, asked),
        dates_.losing, dates_.losing_most, dates_.stress, dates_.core, dates_.core_now,
        dates_.remarks,
        _band(forecast.unread), _band(forecast.band),
        tuple(PointAnswer(day, mc.likely, mc.low, mc.high) for day, mc in found.points),
        _band(forecast.kg) if forecast.kg else None,
        tuple(_dry(name, found, asked) for name in found.lined.pieces if _sizes(name, found, asked) or forecast.dry),
        None if last is None else gain_from(last),
        tuple(_telling(found)), _weighed(line), dates_.too_fast,
    )  # fmt: skip


def _weighed(line: Line) -> str:
    """The day of its last weight."""
    days = [day for day, read in line.reads if isinstance(read, WeightRead)]
    return max(days).isoformat() if days else ""


def _telling(found: LineFound) -> Iterator[str]:
    """What to tell first, and how much narrower the answer would be; what narrows it by less than a tenth is left out."""
    for number, one in enumerate(found.telling):
        if one.told < WORTH_TELLING * one.now:
            first = "Tell this first" if number == 0 and len(found.telling) > 1 else "Tell this too" if number else "Tell this"
            yield f"{first}: {one.what}. The {one.now:.0f} days between the first and the last would be about {one.told:.0f}."


def _dry(name: str, found: LineFound, asked: StackAsked) -> DryAnswer:
    weighed = found.dates.forecast.dry
    dry = weighed or _sizes(name, found, asked)
    assert dry is not None, "asked for pieces with a weight or sizes only"
    return DryAnswer(name, dry.low, dry.likely, dry.high, weighed is not None)


def _sizes(name: str, found: LineFound, asked: StackAsked) -> Estimate | None:
    """Oven-dry weight by the sizes of a piece; None where one is not known, or where it was cut since."""
    piece = next(one for one in asked.pieces if one.name == name)
    if piece.sample is not None or not (piece.thickness_m and piece.length_m and piece.width_m):
        return None
    by_sizes = dry_by_sizes(found.lined.line.wood, piece.thickness_m * piece.length_m * piece.width_m)
    return by_sizes.estimate


def _heavy(metric: bool) -> Callable[[float], str]:
    return lambda kg: print_mass(kg, KILOGRAM if metric else POUND, Direction.READ)


def _ready(since: date, found: Spread) -> Ready:
    words, key = told_by(found.days.basis)
    said = days(found.days)
    first, likely, last = (day.isoformat() for day in dates(since, found.days))
    return Ready(first, likely, last, said, words, key)


def _weights(found: LineFound, asked: StackAsked) -> Iterator[tuple[str, Weight, float]]:
    for piece in asked.pieces:
        if piece.name == found.lined.line.name:
            for one in piece.weights:
                yield one.day, weight_of(one.kg, WeighingScale(one.mark_kg), ends=one.ends), one.mark_kg


def _last_weight(found: LineFound, asked: StackAsked) -> Weight | None:
    return max(_weights(found, asked), key=lambda one: one[0], default=("", None, 0.0))[1]


def _one_mark(dry: Estimate | None, found: LineFound, asked: StackAsked) -> str:
    """What one mark of the weighing scale means for this piece."""
    marks = [mark for _, _, mark in _weights(found, asked)]
    if dry is None or not marks:
        return ""
    scale = WeighingScale(marks[-1])
    mark = f"{_heavy(asked.metric)(marks[-1])}, is {scale.mark_in_mc(dry.likely) * 100:.1f} % moisture."
    return coarse(scale, dry.likely) or f"One mark of the weighing scale, {mark}"


def _band(band: Band) -> BandAnswer:
    return BandAnswer(*(tuple(round(float(each), 4) for each in one) for one in (band.days, band.low, band.likely, band.high)))
