"""Loading: the work that plans loads of a kiln: who may share, who sets the pace, who must leave early, days, water, heat."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date

from waney.drying.equalising import equalising_of, whole_days
from waney.drying.kiln import LoadNeverDry
from waney.drying.kiln_sheet import IN_AIR, Heat, KilnSheet
from waney.drying.kilns_sheet import kiln_named, read_kilns
from waney.drying.known_sides import said_of_told
from waney.drying.load import Load, Traveller
from waney.drying.load_plan import PackedLoad, Proposal, company, fewest, proposals
from waney.drying.load_sheet import AS_TYPED, NOT_SAID_HOW, TARGET, TYPED
from waney.drying.load_told import said_of_load_stress, said_of_lot_sides, touch_told
from waney.drying.lot import Lot, in_common, mass_of, not_read
from waney.drying.meter_sheet import MeterSheet, read_meter_sheet
from waney.drying.milder import milder_for
from waney.drying.moisture_told import OfDay, as_last_read
from waney.drying.pile_parts import PilePiece
from waney.drying.plate_touch import PlateTouch
from waney.drying.sun_kiln import NoWeather
from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.problem import Problem
from waney.papers.air_words import kiln_air_said
from waney.papers.load_words import (
    AIR_FIRST,
    APART_WORDS,
    VACUUM,
    all_days,
    bears_from,
    begin_at,
    counted,
    equalises,
    evens,
    heat,
    judged,
    leaves,
    middle,
    milder,
    mind,
    on_plates,
    remarks,
    shares,
    stays,
    stays_out,
)
from waney.papers.ranges import days
from waney.papers.words import INCHES, METRIC, day
from waney.units.moisture import parse_mc, print_mc
from waney.units.sheet_readers import low_to_high, text
from waney.units.temperature import Degree
from waney.web.asked.figure import Figure
from waney.web.asked.load import Expected, KilnPiece, LoadAnswer, LoadAsked, LoadShown, LotAsked, LotShown, ProposalShown
from waney.web.asked.packing import as_bytes, read_back, whole_again
from waney.web.asked.stack import moisture_told
from waney.web.works.figures import figure, mass
from waney.wood.climate import Climate, climate_of
from waney.wood.own_weather import kept_weather
from waney.wood.species import Species, species
from waney.work.apart import Progress

NO_SAPWOOD = "No piece was told to be all sapwood, so all is taken for heartwood, which lets less vapour through."
WEIGHED = Basis(Ground.READING, "weighed")


def plan_loads(given: bytes, progress: Progress) -> bytes:
    """The job. What cannot be answered is answered with its sentence."""
    asked = read_back(given, LoadAsked)
    try:
        kiln = _in_its_weather(kiln_named(read_kilns(asked.kilns), asked.kiln), asked)
        meter = read_meter_sheet(asked.meter) if asked.meter else MeterSheet()
        lots = [_lot(one, meter, date.fromisoformat(asked.on)) for one in asked.lots]
        progress(0.1, "holding lots against each other")
        sharing = company(kiln, lots)
        progress(0.3, "drying the loads in thought")
        return as_bytes(_answer(kiln, lots, tuple(shares(one.lots, one.against, _degree(asked)) for one in sharing), asked))
    except Problem as why:
        return as_bytes(LoadAnswer(asked.kiln, sentence=str(why)))


def _in_its_weather(kiln: KilnSheet, asked: LoadAsked) -> KilnSheet:
    """The kiln; one that the sun warms, in the weather of the shop from the day on which the load goes in."""
    if kiln.sun is None:
        return kiln
    climate = kiln.sun.climate or _weather_of(asked)
    if climate is None:
        raise NoWeather("A kiln that the sun warms dries by the weather: name the nearest place in the settings.")
    return replace(kiln, sun=kiln.sun.at(climate, date.fromisoformat(asked.on)))


def _weather_of(asked: LoadAsked) -> Climate | None:
    """The shop's own weather by its months, else that of the place in the settings; None where neither is settled."""
    return kept_weather(whole_again(asked.weather))[0] if asked.weather else climate_of(asked.place)


def _degree(asked: LoadAsked) -> Degree:
    return Degree.CELSIUS if asked.metric else Degree.FAHRENHEIT


def _lot(asked: LotAsked, meter: MeterSheet, on: date) -> Lot:
    wood = species(asked.species)
    target = parse_mc(asked.target) if asked.target else TARGET
    start, said = _start(asked, wood, target, meter, on)
    pieces = tuple(_piece(one, wood, start) for one in asked.pieces)
    edges, ends = all(one.known.edges_open for one in asked.pieces), all(one.known.ends_open for one in asked.pieces)
    told = (asked.name, wood, asked.thickness_m, start, target, pieces, asked.sapwood)
    touch = tuple(each for one in asked.pieces if (each := PlateTouch(one.name, one.cup_m, one.bark)).told)
    return Lot(*told, edges_open=edges, ends_open=ends, said=said, touch=touch)


def _start(asked: LotAsked, wood: Species, target: float, meter: MeterSheet, on: date) -> tuple[Estimate, tuple[str, ...]]:
    """Moisture of a lot as it goes in: as typed; else of the pieces that were read, by the forecast of their stack or as last
    read; else by the forecast of those that nobody read; else not known. What is to be minded of the readings."""
    if asked.moisture:
        return _typed(asked.moisture), ()
    last = {one.name: as_last_read([moisture_told(told) for told in one.reads], wood, meter) for one in asked.pieces}
    known = {one.name: one.expected for one in asked.pieces if one.expected is not None and one.expected.read}
    as_read = [found for name, found in last.items() if found is not None and name not in known]
    if known or as_read:
        words = _read_when([one for one in last.values() if one is not None], len(asked.pieces))
        of_forecast = _forecast(on, [*known.values()]) if known else ""
        basis = Basis(Ground.READING, "; ".join(filter(None, (of_forecast, words))))
        found = [*map(_expected, known.values()), *(one.mc for one in as_read)]
        return replace(in_common(found), basis=basis), tuple(dict.fromkeys(said for one in as_read for said in one.said))
    guessed = [one.expected for one in asked.pieces if one.expected is not None]
    if not guessed:
        return not_read(wood, target), ()
    basis = Basis(Ground.DEFAULT, "", f"{_forecast(on, guessed)}; nobody read it")
    return replace(in_common([_expected(one) for one in guessed]), basis=basis), ()


def _typed(moisture: str) -> Estimate:
    low, high = low_to_high(lambda value: parse_mc(text(value)))(moisture)
    if low == high:
        return Estimate(low, (1.0 - NOT_SAID_HOW) * low, (1.0 + NOT_SAID_HOW) * low, AS_TYPED, 0.0)
    return Estimate(0.5 * (low + high), low, high, TYPED, 0.0)


def _expected(one: Expected) -> Estimate:
    return Estimate(one.likely, one.low, one.high, Basis(Ground.READING, ""), 0.0)


def _forecast(on: date, found: Sequence[Expected]) -> str:
    """That a moisture is a forecast, for which day, and how far it was followed."""
    followed = [one.followed for one in found if one.followed is not None]
    only = f", followed down to {print_mc(max(followed))} and no further" if followed else ""
    return f"forecast of its stack for {day(on)}{only}"


def _read_when(read: Sequence[OfDay], pieces: int) -> str:
    """With what, of how many pieces, and on which days; empty for none."""
    if not read:
        return ""
    days = sorted(one.day for one in read)
    when = " to ".join(day(one) for one in dict.fromkeys((days[0], days[-1])))
    how = ", ".join(sorted({str(each) for one in read for each in one.how}))
    return f"{how}, {len(read)} of {pieces} pieces, {when}"


def _piece(one: KilnPiece, wood: Species, start: Estimate) -> PilePiece:
    volume = one.length_m * one.width_m * one.thickness_m
    heavy = mass_of(wood, volume, start) if one.mass_kg is None else Estimate.known(one.mass_kg, WEIGHED)
    return PilePiece(one.name, one.length_m, one.width_m, one.thickness_m, heavy)


def _answer(kiln: KilnSheet, lots: list[Lot], sharing: tuple[str, ...], asked: LoadAsked) -> LoadAnswer:
    found = proposals(kiln, lots)
    taken = tuple(figure(f"{lot.name}, {counted(len(lot.pieces), 'piece')}", lot.start, print_mc) for lot in lots)
    loads = [one for each in found for one in each.loads]
    sides = tuple(_sides(kiln, lots, asked))
    basis = None if not loads else figure("Days", loads[0].load.days, str)
    return LoadAnswer(
        f"{kiln.name}, {kiln.heat}",
        taken,
        sharing,
        tuple(_proposal(one, kiln, asked) for one in found),
        counted(fewest(kiln, lots), "load"),
        (*_minded(lots), *sides, *remarks(kiln.heat)),
        mind(kiln.heat),
        basis,
        "" if loads else "No piece fits in this kiln.",
        kiln_air_said(kiln),
        kiln.heat is Heat.AIR,
    )


def _sides(kiln: KilnSheet, lots: list[Lot], asked: LoadAsked) -> Iterator[str]:
    """Of each lot what was told of bark and ends, where they count, and what they do."""
    for lot, told in zip(lots, asked.lots, strict=True):
        as_told = said_of_told([one.known for one in told.pieces]) if kiln.heat in IN_AIR else ""
        said = " ".join(filter(None, (as_told, said_of_lot_sides(lot, kiln))))
        if said:
            yield f"{lot.name}: {said}"


def _minded(lots: Sequence[Lot]) -> Iterator[str]:
    """What is to be minded of readings, each sentence once, with the lots that it is of."""
    whose: dict[str, list[str]] = {}
    for lot in lots:
        for said in lot.said:
            whose.setdefault(said, []).append(lot.name)
    yield from (f"{', '.join(names)}: {said}" for said, names in whose.items())


def _proposal(one: Proposal, kiln: KilnSheet, asked: LoadAsked) -> ProposalShown:
    aims = "; ".join(one.aims)
    left = tuple(stays_out((piece.name, why) for piece, why in one.out))
    evened = whole_days([each.load for each in one.loads])
    all_of_it = all_days(_points(one.days), None if evened is None else _points(evened))
    return ProposalShown(aims[:1].upper() + aims[1:], all_of_it, tuple(_load(each, kiln, asked) for each in one.loads), left)


def _points(days_of: tuple[float, float, float]) -> Estimate:
    return Estimate(*days_of, Basis(Ground.DEFAULT, ""))


def _load(one: PackedLoad, kiln: KilnSheet, asked: LoadAsked) -> LoadShown:
    load, write = one.load, METRIC if asked.metric else INCHES
    by = f", by schedule {load.plan.code}" if load.plan is not None else ""
    figures = (
        *_goes_in(load),
        Figure("Days", days(load.days)),
        Figure("Sets the pace", f"{load.pace.name}{by}"),
        *_evened(load),
        Figure("Water to take out", figure("", load.water_kg, mass(asked.metric)).says),
        Figure("Heat into wood and water", heat(load.heat_j)),
        Figure("Drying stress, a risk", f"worst in {said_of_load_stress(load)}"),
        Figure("Pile", f"{counted(len(one.pile.layers), 'layer')}, {write.need(one.pile.height_m)} high"),
        Figure("Weighs up to", write.heavy(one.kg)),
    )
    return LoadShown(figures, tuple(_lots(one, asked)), tuple(_notes(one, kiln, asked)))


def _goes_in(load: Load) -> Iterator[Figure]:
    """By the sun, the day: what follows goes in when the load before it is dry."""
    if load.goes_in is not None:
        yield Figure("Goes in about", day(load.goes_in))


def _evened(load: Load) -> Iterator[Figure]:
    """How long evening out takes, where air is held for it."""
    try:
        found = equalising_of(load)
    except LoadNeverDry:
        yield Figure("Equalising", equalises(None))
        return
    if found is not None:
        yield Figure("Equalising", f"{days(found.days)}, {evens(found)}", APART_WORDS, "wengert-equalising")


def _notes(one: PackedLoad, kiln: KilnSheet, asked: LoadAsked) -> Iterator[str]:
    """What plates ask of its pieces; of sapwood, what was taken of it."""
    write = METRIC if asked.metric else INCHES
    yield from on_plates(*touch_told(one.load, {piece.name for piece in one.pile.pieces}), kiln.within_m, write.read)
    if kiln.heat in VACUUM and not any(lot.sapwood for lot in asked.lots):
        yield NO_SAPWOOD
    if any(each.judged.hard for each in one.load.travellers):
        yield milder(kiln.heat)
        yield from _helps(one.load, asked)


def _helps(load: Load, asked: LoadAsked) -> Iterator[str]:
    """From where on the lots bear the chamber, and what brings them there."""
    found = milder_for(load)
    if found is None:
        return
    yield bears_from(found.from_mc)
    begin = found.begin
    if load.kiln.sun is not None:
        return
    yield AIR_FIRST if begin is None else begin_at(begin.temperature_c, begin.kiln.pressure_pa, *begin.days, _degree(asked))


def _lots(one: PackedLoad, asked: LoadAsked) -> Iterator[LotShown]:
    laid = [piece.name for piece in one.pile.pieces]
    for each in one.load.travellers:
        own = {piece.name for piece in each.lot.pieces}
        yield LotShown(each.lot.name, _says(each, one, asked), tuple(name for name in laid if name in own))


def _says(one: Traveller, packed: PackedLoad, asked: LoadAsked) -> str:
    late = 0 if one.lot is packed.load.pace else one.late
    heated = packed.load.kiln.heat
    said = leaves(one.ready_days, one.mc_at_end, heated) if one.early else stays(one.mc_at_end, late, packed.load.scenarios)
    why = judged(one.against, one.judged.hard, one.judged.unjudged, _degree(asked))
    return " ".join((said, middle(one.inside.core), *why))
