"""Moistures of the book as the physics takes them: with the meter sheet of the shop."""

from __future__ import annotations

from waney.drying.meter_sheet import MeterSheet, read_meter_sheet
from waney.drying.moisture_told import How, MoistureTold, Where
from waney.figures.problem import Problem
from waney.yard.acts.settings import Setting
from waney.yard.book.book import Book
from waney.yard.book.looking import settings
from waney.yard.book.stack_seen import MoistureTold as InBook
from waney.yard.here import day_here


def moisture_read(one: InBook) -> MoistureTold:
    """A moisture as it was written down."""
    told = (How(one.read_by), Where(one.depth), one.wood_c, one.corrected, one.set_to)
    return MoistureTold(day_here(one.told.happened_at), one.mc, *told)


def meter_of(book: Book) -> MeterSheet:
    """The meter sheet of the shop; one without tables where none is settled, or where it cannot be read."""
    text = settings(book).get(Setting.METER, "")
    try:
        return read_meter_sheet(text) if text else MeterSheet()
    except Problem:
        return MeterSheet()
