"""waney kiln-load: lots that ask for one kiln -> loads: who may share, who sets the pace, who must leave early, how long."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from waney.cli.app import AnswerIsNo, WrittenWrong, answering
from waney.cli.days import parse_day
from waney.cli.views import Json, Units, View

if TYPE_CHECKING:
    from collections.abc import Sequence

    from waney.cli.answers_kiln import (
        Begun,
        BorneFrom,
        Evened,
        KilnLoads,
        LoadProposed,
        LoadsProposed,
        LotAsked,
        LotTravels,
        OnPlates,
    )
    from waney.drying.kiln_sheet import KilnSheet
    from waney.drying.load import Load, Traveller
    from waney.drying.load_plan import PackedLoad, Proposal
    from waney.drying.lot import Lot


@answering
def kiln_load(
    kilns: Annotated[Path, typer.Argument(help="A kilns sheet: room inside, what it bears, how heat gets in.")],
    lots: Annotated[Path, typer.Argument(help="A load sheet: lots of like pieces, with their moisture and what is wanted.")],
    kiln: Annotated[str, typer.Option(metavar="<name>", help="Which kiln, where the sheet has several.")] = "",
    start: Annotated[
        str | None, typer.Option(metavar="<date>", help="Of a kiln that the sun warms: the day on which the load goes in.")
    ] = None,
    state: Annotated[
        str | None, typer.Option(help="Of the same: two letters; with --place, for the weather, where its sheet does not say it.")
    ] = None,
    place: Annotated[str | None, typer.Option(help="Of the same: the nearest station; `waney emc --state` lists them.")] = None,
    rows: Annotated[
        Path | None, typer.Option(help="Of the same: your own weather instead, as `waney emc` takes it; counted by its months.")
    ] = None,
    meter: Annotated[
        Path | None,
        typer.Option(
            metavar="<meter sheet>",
            help="What the maker of the meter prints for each wood, for lots that say `meter`; without it they count as read.",
        ),
    ] = None,
    units: Units = View.INCHES,
    json: Json = None,
) -> None:
    """Loads of a kiln, several proposals side by side: who may share, who sets the pace, who must leave early, water, heat, days.

    A mixed load is never averaged: the slowest lot rules by its own moisture, the others follow its air. Pieces are packed one
    by one. Equalising is told beside the days; without conditioning; heat without walls and vented air.
    """
    from waney.cli.files import can_be_written, meter_of, read_text
    from waney.cli.kiln_load_words import kiln_load_lines
    from waney.cli.progress import working
    from waney.cli.saying import say
    from waney.drying.kilns_sheet import kiln_named, read_kilns
    from waney.drying.load_sheet import read_load_sheet
    from waney.papers.load_words import stays_out
    from waney.units.sheet import called

    can_be_written(json)
    with called(str(kilns)):
        chosen = _in_its_weather(kiln_named(read_kilns(read_text(kilns)), kiln), start, state, place, rows)
    by_maker = meter_of(meter)
    with called(str(lots)):
        asking = read_load_sheet(read_text(lots), by_maker)
    with working("Drying the loads in thought"):
        found = _answer(chosen, asking)
    if not any(one.loads for one in found.proposals):
        raise AnswerIsNo(f"No piece fits in {found.kiln}: {' '.join(stays_out(found.proposals[0].left_out))}")
    say(found, json, lambda: kiln_load_lines(found, units))


def _in_its_weather(kiln: KilnSheet, start: str | None, state: str | None, place: str | None, rows: Path | None) -> KilnSheet:
    """The kiln; one that the sun warms, with its weather from the day on which the load goes in."""
    from waney.cli.files import weather_of
    from waney.wood.climate import station

    if kiln.sun is None:
        if start or state or place or rows:
            raise WrittenWrong(f"{kiln.name} does not dry by the weather: leave out --start, --state, --place and --rows.")
        return kiln
    if start is None:
        raise WrittenWrong("Say with --start on which day the load goes in: the sun dries it by the weather.")
    there = weather_of(rows)[0] if rows is not None else station(state, place) if state and place else None
    if there is None and kiln.sun.climate is None:
        raise WrittenWrong("The weather needs --state and --place, or --rows, or [kiln.sun] with them in the kilns sheet.")
    return replace(kiln, sun=kiln.sun.at(there, parse_day(start, "--start")))


def _answer(kiln: KilnSheet, lots: Sequence[Lot]) -> KilnLoads:
    from waney.cli.answers_kiln import KilnLoads, TwoLots
    from waney.drying.load_plan import company, fewest, proposals
    from waney.drying.load_told import said_of_lot_sides
    from waney.papers.air_words import kiln_air_said

    asked = tuple(_asked(lot, said_of_lot_sides(lot, kiln)) for lot in lots)
    sharing = tuple(TwoLots(one.lots, one.against) for one in company(kiln, lots))
    offered = tuple(_proposal(one) for one in proposals(kiln, lots))
    return KilnLoads(kiln.name, str(kiln.heat), kiln_air_said(kiln), asked, sharing, fewest(kiln, lots), offered)


def _asked(lot: Lot, sides: str) -> LotAsked:
    from waney.cli.answers import ranged
    from waney.cli.answers_kiln import LotAsked

    return LotAsked(
        lot.name, lot.owner, lot.wood.common, lot.thickness_m, len(lot.pieces), lot.volume_m3, ranged(lot.start), lot.target,
        sides, lot.said,
    )  # fmt: skip


def _proposal(one: Proposal) -> LoadsProposed:
    from waney.cli.answers import Range
    from waney.cli.answers_kiln import LoadsProposed
    from waney.drying.equalising import whole_days
    from waney.drying.pace import MODEL

    left = tuple((piece.name, why) for piece, why in one.out)
    even = whole_days([each.load for each in one.loads])
    evened = None if even is None else Range(*even, MODEL)
    return LoadsProposed(tuple(map(str, one.aims)), Range(*one.days, MODEL), evened, tuple(map(_load, one.loads)), left)


def _load(one: PackedLoad) -> LoadProposed:
    from waney.cli.answers import ranged
    from waney.cli.answers_kiln import LoadProposed
    from waney.drying.load_told import said_of_load_stress

    load = one.load
    return LoadProposed(
        None if load.plan is None else load.plan.code, load.pace.name, ranged(load.days), ranged(load.water_kg),
        ranged(load.heat_j), one.kg, len(one.pile.layers), one.pile.height_m, tuple(map(_traveller, load.travellers)),
        load.scenarios, said_of_load_stress(load), _evened(load), *_milder(load),
        "" if load.goes_in is None else load.goes_in.isoformat(), _on_plates(one),
    )  # fmt: skip


def _on_plates(one: PackedLoad) -> OnPlates | None:
    from waney.cli.answers_kiln import OnPlates
    from waney.drying.load_told import touch_told
    from waney.papers.load_words import on_plates
    from waney.papers.words import METRIC

    within = one.load.kiln.within_m
    cups, bark = touch_told(one.load, {piece.name for piece in one.pile.pieces})
    said = tuple(on_plates(cups, bark, within, METRIC.read))
    return OnPlates(within, tuple(cups.items()), bark, said) if said else None


def _milder(load: Load) -> tuple[tuple[BorneFrom, ...], Begun | None]:
    """What helps where the chamber is too hard."""
    from waney.cli.answers_kiln import Begun, BorneFrom
    from waney.drying.milder import milder_for

    found = milder_for(load)
    if found is None:
        return (), None
    begin = found.begin
    begun = None if begin is None else Begun(begin.temperature_c, begin.kiln.pressure_pa, *begin.days)
    return tuple(BorneFrom(*one) for one in found.from_mc), begun


def _evened(load: Load) -> Evened | None:
    from waney.cli.evened import evened
    from waney.drying.equalising import equalising_of
    from waney.drying.kiln import LoadNeverDry

    try:
        found = equalising_of(load)
    except LoadNeverDry:
        return None
    return None if found is None else evened(found)


def _traveller(one: Traveller) -> LotTravels:
    from waney.cli.answers import ranged
    from waney.cli.answers_kiln import LotTravels

    return LotTravels(
        one.lot.name, len(one.lot.pieces), ranged(one.ready_days), one.early, ranged(one.mc_at_end),
        ranged(one.inside.core), ranged(one.inside.face), one.late, one.against,
        one.judged.hard, one.judged.unjudged,
    )  # fmt: skip
