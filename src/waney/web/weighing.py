"""Weighing: what is known of a piece before it is weighed, what a weight is asked about, and the act that comes of it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from waney.drying.dry_weight import dry_by_sizes
from waney.drying.weighing import WeighingScale, coarse, gain_from, lightest, weight_of
from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.problem import Problem
from waney.units.mass import parse_mass
from waney.web.asked.stack import DryAnswer, LineAnswer, StackAnswer
from waney.web.forms import Fields
from waney.web.ready import MARK_KG
from waney.web.shop import Shop, unit_of, writes
from waney.web.showing import Figures
from waney.wood.species import species
from waney.yard.acts.people_places import Scales, Weighed
from waney.yard.book.looking import PieceStands
from waney.yard.book.stack_seen import ReadOf
from waney.yard.book.tares import Tares
from waney.yard.here import day_here

READINGS = Basis(Ground.READING, "the readings")
GAINED = "That is more than the {last} of {on}. Is it this piece, and are sling and stickers taken off? Rain can do it too."
LIGHT = "That is less than the {least} that it weighs oven dry. Is it this piece, and was all of it weighed?"
UNITS = {"in": "lb", "mm": "kg"}
"""what a bare weight counts in"""


@dataclass(frozen=True)
class Before:
    """What is known of a piece before it is weighed [kg]: its last weight with its day, above what it is asked about as a gain,
    below what as too light, its likely oven-dry weight. None: not known."""

    last_kg: float | None = None
    last_on: str = ""
    gain_above_kg: float | None = None
    least_kg: float | None = None
    dry_kg: float | None = None


def before(shop: Shop, piece: PieceStands, read: ReadOf, answer: StackAnswer | None = None) -> Before:
    """From its last weight, from what its stack's forecast says of its oven-dry weight, else from its sizes."""
    dry = _dry(piece, read, answer)
    least = None if dry is None else lightest(dry)
    likely = None if dry is None else dry.likely
    last = read.last_weight
    if last is None:
        return Before(None, "", None, least, likely)
    mark = MARK_KG[unit_of(shop.settled())] if last.mark_kg is None else last.mark_kg
    above = gain_from(weight_of(last.mass_kg, WeighingScale(mark), ends=last.ends))
    return Before(last.mass_kg, day_here(last.told.happened_at).isoformat(), above, least, likely)


def line_of(answer: StackAnswer | None, name: str) -> LineAnswer | None:
    """The line of a stack's forecast that a piece is in."""
    return next((line for line in answer.lines if name in line.pieces), None) if answer else None


def dry_of(line: LineAnswer | None, name: str) -> DryAnswer | None:
    """Its oven-dry weight in that forecast."""
    return next((one for one in line.pieces_dry if one.name == name), None) if line else None


def _dry(piece: PieceStands, read: ReadOf, answer: StackAnswer | None) -> Estimate | None:
    found = dry_of(line_of(answer, piece.name), piece.name)
    if found is not None:
        return Estimate(found.likely, found.low, found.high, READINGS, 0.0)
    wide = piece.mean_width_m
    if read.sample is not None or not (wide and piece.thickness_m and piece.length_m):
        return None  # the sizes are those from before it was cut to a sample board
    try:
        return dry_by_sizes(species(piece.species), piece.thickness_m * piece.length_m * wide).estimate
    except Problem:
        return None


def expected(line: LineAnswer, dry: DryAnswer, on: date) -> tuple[float, float, float]:
    """What a piece weighs on a day [kg]: low, likely, high."""
    day = float((on - date.fromisoformat(line.since)).days)
    if line.kg is not None:
        return line.kg.on(day)
    low, likely, high = line.band.on(day)
    return dry.low * (1.0 + low), dry.likely * (1.0 + likely), dry.high * (1.0 + high)


def typed(fields: Fields, shop: Shop, piece: str) -> Weighed | None:
    """The weighing of a form: a weight or both ends, tare, mark, scales. What cannot be read is in `fields.wrong`."""
    unit = UNITS[unit_of(shop.settled())]
    first, other, tare, mark = (
        fields.read(name, lambda text: parse_mass(text, unit)) for name in ("mass", "other_end", "tare", "mark")
    )
    if first is None:
        fields.wrong.setdefault("mass", "Write what the weighing scale says, for instance 41 kg or 90 lb.")
        return None
    by = fields.sent.choice("scales", Scales) if fields.sent.text("scales") else None
    ends = () if other is None else (first, other)
    wood_kg = round(sum(ends or (first,)) - (tare or 0.0), 6)
    if wood_kg <= 0.0:
        fields.wrong["tare"] = "The tare is as heavy as all: weigh sling and stickers alone."
        return None
    return Weighed(f"piece:{piece}", wood_kg, by, ends, tare, mark)


def tare_offered(shop: Shop, spot: str, told: Tares) -> str:
    """The tare that a form begins with, in the unit of a bare number: as it was told last, there or anywhere; empty for none."""
    kg = told.of(spot)
    return "" if kg is None else f"{kg / parse_mass(f'1 {UNITS[unit_of(shop.settled())]}'):.2f}".rstrip("0").rstrip(".")


class Doubt(StrEnum):
    """What a weight is asked about before it is written down; whoever is sure writes it down all the same."""

    GAIN = "gain"
    LIGHT = "light"
    COARSE = "coarse"


def doubts(mass_kg: float, mark_kg: float, known: Before) -> tuple[Doubt, ...]:
    """The page's module asks about the same (client/src/round/weight.ts); a test holds the two against each other."""
    gain = known.last_kg is not None and known.gain_above_kg is not None and mass_kg > known.gain_above_kg
    light = known.least_kg is not None and mass_kg < known.least_kg
    rough = known.dry_kg is not None and bool(coarse(WeighingScale(mark_kg), known.dry_kg))
    return tuple(one for one, so in ((Doubt.GAIN, gain), (Doubt.LIGHT, light), (Doubt.COARSE, rough)) if so)


def questions(act: Weighed, known: Before, shop: Shop) -> tuple[str, ...]:
    """The same as sentences."""
    weighed = writes(shop.settled()).weighed
    mark = MARK_KG[unit_of(shop.settled())] if act.mark_kg is None else act.mark_kg
    said = {
        Doubt.GAIN: lambda: GAINED.format(last=weighed(known.last_kg or 0.0), on=Figures.day(known.last_on)),
        Doubt.LIGHT: lambda: LIGHT.format(least=weighed(known.least_kg or 0.0)),
        Doubt.COARSE: lambda: coarse(WeighingScale(mark), known.dry_kg or 0.0),
    }
    return tuple(said[one]() for one in doubts(act.mass_kg, mark, known))
