"""From three sheets to a bench: what `plan` and `replay` start from, so that both rebuild the very same log."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from waney.logs.from_sheet import Measured, measured_of
from waney.pieces.shrinking import Shrinking
from waney.sawing.bench import Bench
from waney.sawing.flat_rolls import rolls_of
from waney.sawing.log_to_saw import LogToSaw
from waney.sawing.sheets.agreement import agreed_mill, agreement_remarks
from waney.sawing.sheets.mill_sheet import read_mill_sheet
from waney.sawing.sheets.wants_sheet import read_wants_sheet
from waney.units.number import Comma
from waney.units.sheet import called
from waney.wood.species import Group
from waney.wood.traits import Trait

MILL, WANTS = "mill", "wants"
"""Roles of the sheets in a plan file, besides the log's."""
NAMELESS = "Log"
"""What a log is called whose sheet gives it no name: its pieces are named after it."""


@dataclass(frozen=True, eq=False)
class Ready:
    """Everything a search needs, and what was filled in for what nobody typed."""

    measured: Measured
    bench: Bench
    filled_in: tuple[str, ...]
    remarks: tuple[str, ...]
    """what looks odd in any of the sheets"""


def ready(sheets: Mapping[str, str], comma: Comma = Comma.ASK) -> Ready:
    """A bench from the sheets of a log, a mill and wants. Raises the sentences of their readers."""
    with called("log sheet"):
        measured = measured_of(sheets, comma)
    rolls = rolls_of(measured.log)
    with called("wants sheet"):
        wants_sheet = read_wants_sheet(sheets[WANTS], measured.shape.length_m, comma, rolls)
    with called("mill sheet"):
        mill_sheet = read_mill_sheet(sheets[MILL], comma)
    wood, target = measured.wood, wants_sheet.wants.target_mc
    shrinking = Shrinking(wood.needed(Trait.SHRINK_RADIAL).likely, wood.needed(Trait.SHRINK_TANGENTIAL).likely, target)
    log = LogToSaw(measured.log.name or NAMELESS, wood.id, wood.group is Group.HARD, measured.shape, shrinking, measured.flats)
    mill = agreed_mill(mill_sheet, wants_sheet)
    bench = Bench.of(log, mill, wants_sheet.wants)
    filled_in = (
        *(f"log sheet, {line}" for line in measured.assumed),
        *(f"mill sheet, {default}" for default in mill_sheet.defaults),
        *(f"wants sheet, {default}" for default in wants_sheet.defaults),
    )
    remarks = (*measured.remarks, *mill_sheet.remarks, *agreement_remarks(mill, wants_sheet.wants))
    return Ready(measured, bench, filled_in, remarks)
