"""What a person asks before deciding: is a tree worth fetching, how to cut a stem.

The money of it comes from the shop's settings: the costs sheet, what the mill sheet adds to it, the wants sheet with its prices.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from waney.trade.costs_sheet import ShopCosts, read_costs_sheet, with_mill
from waney.trade.reading import How, Reading, sheet_of
from waney.wood.species import SeveralSpecies, UnknownSpecies, species
from waney.yard.acts.settings import Setting
from waney.yard.book.offered import StemStands, TreeStands


def shop_costs(settled: Mapping[str, str]) -> ShopCosts:
    """What the shop has settled about money, by the names of the settings. Raises SheetProblems."""
    return with_mill(read_costs_sheet(settled.get(Setting.COSTS, "")), settled.get(Setting.MILL, ""))


def shop_sheets(settled: Mapping[str, str]) -> Mapping[str, str] | None:
    """The shop's mill and wants sheets; None unless both are settled."""
    found = {role: settled.get(role, "") for role in (Setting.MILL.value, Setting.WANTS.value)}
    return found if all(found.values()) else None


def reading_of(found: TreeStands) -> Reading:
    """What was read off a tree of the book."""
    return Reading.told(
        (found.where, found.species),
        (found.girth_m, found.small_end_m, found.length_m),
        How(found.how),
        girth_at_m=found.girth_at_m,
        yard_tree=found.yard_tree,
        off=(found.girth_off, found.small_end_off, found.length_off),
    )


def stem_sheet(found: StemStands) -> str:
    """The log sheet of a whole stem, by what was read off its tree; without a tree by nothing but its length."""
    read = Reading(length_m=found.length_m) if found.tree is None else reading_of(found.tree)
    length = found.length_m or read.length.likely
    own = replace(read, species=_known(found.species or read.species), length_m=length)
    return sheet_of(own, length)


def _known(wood: str) -> str:
    """The wood where a table knows it; empty for any wood."""
    try:
        return species(wood).id if wood else ""
    except (UnknownSpecies, SeveralSpecies):
        return ""
