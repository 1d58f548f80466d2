"""A sample board as lines of text, in the shop's units."""

from __future__ import annotations

from collections.abc import Iterator

from waney.cli.answers_sample import BoardDates, Sample, SampleBoards
from waney.cli.ranges import degrees, moisture, weight
from waney.cli.views import View, shop_of
from waney.papers.cautions import cautions
from waney.papers.columns import aligned, paragraph
from waney.papers.ranges import days
from waney.units.direction import Direction
from waney.units.mass import GRAM, print_mass
from waney.units.moisture import print_mc

KEEP = "Weigh on the same scale each time; put the board back in its place, where the air is as for the rest."


def sample_lines(found: SampleBoards, view: View) -> Iterator[str]:
    """Each board by itself, then which sets the pace, then how it is done and the cautions."""
    for one in found.boards:
        yield from _board(one, view)
    if found.wettest is not None:
        yield f"Wettest by its last weight: {found.wettest}. Driest: {found.driest}."
        yield "The wetter half sets the pace of a kiln's steps; the driest begins its equalising."
    yield from paragraph(KEEP)
    yield from (caution.sentence for caution in cautions("oven"))


def _board(one: Sample, view: View) -> Iterator[str]:
    yield ", ".join((one.board, *_what(one, view)))
    for at, section in enumerate(one.sections, 1):
        wet, dry = (print_mass(kg, GRAM, Direction.READ) for kg in (section.wet_kg, section.dry_kg))
        yield f"  section {at}: {wet} wet, {dry} oven dry: {print_mc(section.mc)}"
    yield f"  oven dry, estimated: {weight(one.dry_kg, view)}"
    yield f"  on the tag: at {print_mc(one.target)} it weighs {weight(one.target_kg, view)}"
    if one.coarse:
        yield from paragraph(one.coarse, "  ")
    rows = [("day", "weight", "moisture", "lost a day")]
    rows += [
        (read.day or "when cut", print_mass(read.kg, shop_of(view).weight, Direction.READ), moisture(read.moisture), read.losing)
        for read in one.reads
    ]
    yield from (f"  {line}" for line in aligned(rows))
    yield from _steps(one, view)
    if one.dates is not None:
        yield from _dates(one.dates, print_mc(one.target))


def _what(one: Sample, view: View) -> Iterator[str]:
    if one.wood is not None:
        yield one.wood
    if one.thickness_m is not None:
        yield f"{shop_of(view).read(one.thickness_m)} as sawn"
    if one.cut is not None:
        yield f"cut {one.cut}"


def _steps(one: Sample, view: View) -> Iterator[str]:
    if one.code is None:
        return
    yield f"  schedule {one.code}: the next step begins when this board, among the wetter half, weighs"
    for step in one.steps:
        air = f"dry bulb {degrees(step.dry_c, view)}, wet bulb {degrees(step.wet_c, view)}"
        yield f"    {weight(step.kg, view)} ({print_mc(step.from_mc)}): {air}"


def _dates(found: BoardDates, target: str) -> Iterator[str]:
    first, likely, last = found.ready
    yield f"  down to {target}, {found.exposure}, {found.place}: {first} to {last}, likely about {likely}"
    now, before = map(days, (found.days, found.before_days))
    yield f"    {now}; before any weight: {before}"
    if found.moisture is not None:
        yield f"    at the last weight, by all weights and the drying model: {moisture(found.moisture)}"
    yield from (f"    {remark}" for remark in found.remarks)
