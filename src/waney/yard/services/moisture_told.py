"""Moistures of the book as the physics takes them: with the meter sheet of the shop."""

from __future__ import annotations

from waney.drying.meter_sheet import MeterSheet, read_meter_sheet
from waney.drying.moisture_told import How, MoistureTold, OfDay, Where, as_last_read, days_read
from waney.figures.problem import Problem
from waney.yard.acts.settings import Setting
from waney.yard.book.book import Book
from waney.yard.book.looking import settings
from waney.yard.book.stack_seen import MoistureTold as InBook
from waney.yard.book.stack_seen import ReadOf
from waney.yard.here import day_here
from waney.yard.services.woods import wood_of


def moisture_read(one: InBook) -> MoistureTold:
    """A moisture as it was written down."""
    told = (How(one.read_by), Where(one.depth), one.wood_c, one.corrected, one.set_to)
    return MoistureTold(day_here(one.told.happened_at), one.mc, *told)


def last_held(read: ReadOf, wood: str, meter: MeterSheet) -> OfDay | None:
    """What a piece of a wood held when it was read last; None for not read, or for a reading that no meter is made for."""
    try:
        return as_last_read([moisture_read(one) for one in read.moistures], wood_of(wood), meter)
    except Problem:
        return None


def held_by_day(read: ReadOf, wood: str, meter: MeterSheet) -> tuple[OfDay, ...]:
    """What a piece of a wood held on each day that tells it; nothing where a reading is one that no meter is made for."""
    try:
        return days_read([moisture_read(one) for one in read.moistures], wood_of(wood), meter)
    except Problem:
        return ()


def meter_of(book: Book) -> MeterSheet:
    """The meter sheet of the shop; one without tables where none is settled, or where it cannot be read."""
    text = settings(book).get(Setting.METER, "")
    try:
        return read_meter_sheet(text) if text else MeterSheet()
    except Problem:
        return MeterSheet()
