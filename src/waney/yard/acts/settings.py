"""What the shop has settled once: its mill, what it wants, how it writes."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from waney.yard.acts.base import Fact, texts
from waney.yard.streams import Stream


class Setting(StrEnum):
    """What can be settled."""

    YARD = "yard"
    """what the yard is called"""
    UNITS = "units"
    """"in" or "mm" """
    PLACE = "place"
    """the place in the climate tables that is nearest"""
    MILL = "mill"
    """the mill sheet"""
    WANTS = "wants"
    """the wants sheet"""
    WEATHER = "weather"
    """weather of one's own instead of that place's: twelve months or a year of hours, as rows"""
    METER = "meter"
    """the meter sheet: what the maker of the moisture meter prints"""
    COSTS = "costs"
    """the costs sheet: what fetching takes, what wood earns"""
    KILNS = "kilns"
    """the kilns sheet: our own kilns, and those of others"""
    PRICES = "prices"
    """the prices sheet: what is asked for wood on the shelf"""
    ROOM = "room"
    """how the rooms are kept that pieces go to: one temperature, or four"""
    ROOM_HIGHEST = "room_highest"
    """most humidity that cooling or a dehumidifier leaves there"""
    PRINTER = "printer"
    """how the printer misses, by sheet or roll of labels"""
    TERMS = "terms"
    """the terms sheet: other people's logs, tax"""


@dataclass(frozen=True)
class Settled(Fact):
    """A setting is so from now on, word for word; the former ones stay in the history."""

    what: Setting
    text: str

    def __post_init__(self) -> None:
        texts(text=self.text)

    def streams(self) -> tuple[Stream, ...]:
        """The setting."""
        return (Stream(f"setting:{self.what}"),)

    def needs(self) -> tuple[str, ...]:
        """Nothing: every setting is there from the beginning, empty."""
        return ()
