"""A kiln schedule as lines of text, in the shop's units."""

from __future__ import annotations

from collections.abc import Iterator

from waney.cli.answers import Range
from waney.cli.answers_kiln import KilnSchedule, KilnStep, StepStress
from waney.cli.ranges import degrees, moisture
from waney.cli.views import View, shop_of
from waney.figures.sources import Status, source
from waney.papers.cautions import cautions
from waney.papers.columns import aligned, headed, paragraph
from waney.papers.load_words import APART_WORDS, equalises, heat
from waney.papers.ranges import days, spread
from waney.units.direction import Direction
from waney.units.mass import print_mass
from waney.units.moisture import print_mc
from waney.units.share import print_share
from waney.units.volume import BOARD_FOOT, CUBIC_METRE

HEADS = ("moisture", "dry bulb", "depression", "wet bulb", "humidity", "EMC")
CHECK = "Codes and steps are from memory: check them against the book before a load depends on them."


def schedule_lines(found: KilnSchedule, view: View) -> Iterator[str]:
    """The table, days and water, then the sources and the cautions."""
    whose = "" if found.own_code else ", a code that you gave"
    yield f"{found.wood}, {shop_of(view).read(found.thickness_m)} as sawn: schedule {found.code}{whose}"
    yield from aligned([HEADS, *_rows(found.steps, view)])
    yield from _ends(found, view)
    yield from _days(found, view)
    yield from headed("Sources")
    yield from paragraph(f"{found.basis.key}: {source(found.basis.key)}")
    if found.days is not None:
        yield from paragraph(f"Days and water: {found.days.basis}")
    if found.stress_by_step and found.stress_basis is not None:
        stiff = f"; how stiff it is there: {found.stiffness_basis}"
        yield from paragraph(f"What it bears across the grain: {found.stress_basis}{stiff}")
    if found.evened is not None:
        yield from paragraph(f"Equalising: wengert-equalising, fpj-kiln-samples. {APART_WORDS}")
    yield from paragraph(CHECK)
    yield from (caution.sentence for caution in cautions("kiln"))


def _rows(steps: tuple[KilnStep, ...], view: View) -> Iterator[tuple[str, ...]]:
    for i, step in enumerate(steps):
        begins = "from the start" if i == 0 or step.from_mc is None else f"{print_mc(step.from_mc)} and less"
        yield (begins, *air_cells(step, view))


def air_cells(step: KilnStep, view: View) -> tuple[str, ...]:
    """Dry bulb, depression, wet bulb, humidity and EMC of a step."""
    depression = step.dry_c - step.wet_c
    apart = f"{depression * 1.8:.0f} °F" if view is View.INCHES else f"{depression:.1f} °C"
    return (degrees(step.dry_c, view), apart, degrees(step.wet_c, view), print_share(step.humidity), print_mc(step.emc))


def _ends(found: KilnSchedule, view: View) -> Iterator[str]:
    first = found.first_step
    if first > 1:
        yield f"Wood at {moisture(found.from_mc)} begins with step {first}, once it is warm."
    yield "At the end, when the driest sample is 2 % below what is wanted:"
    rows = [("  equalising, until the wettest is there", *air_cells(found.equalising, view))]
    rows.append((f"  conditioning{_hours(found.condition_h)}", *air_cells(found.conditioning, view)))
    yield from aligned(rows)


def _hours(hours: float) -> str:
    return f", {hours:g} hours" if hours else ", until the prongs stay straight"


def _days(found: KilnSchedule, view: View) -> Iterator[str]:
    yield ""
    if found.days is None:
        yield from paragraph(f"Days: not known. {found.why}")
    else:
        yield f"Days from {moisture(found.from_mc)} to {print_mc(found.target_mc)}: {days(found.days)}"
        if found.late:
            yield f"  {found.late} of {found.scenarios} runs with drawn figures were not there after 400 days"
    if found.days is not None:
        yield from paragraph(equalises(found.evened), "  ")
    if found.sides:
        yield from paragraph(found.sides, "  ")
    if found.water_m3_kg is not None:
        yield from _water(found.water_m3_kg, view)
    if found.heat_m3_j is not None:
        yield from _heat(found.heat_m3_j, view)
    if found.safe_a_day is None or found.safe_basis is None:
        yield "Safe rate: no table has one for this wood and thickness."
    else:
        key = found.safe_basis.key
        how = "as seen in" if source(key).status is Status.SEEN else "from memory of"
        yield f"Safe rate: at most {print_mc(found.safe_a_day)} a day, {how} {key}."
    yield from _stress(found)
    if found.held_days is not None:
        yield f"Held to the safe rate, in milder air where a day would lose more: {days(found.held_days)}"


def _stress(found: KilnSchedule) -> Iterator[str]:
    """As a risk: the whole way, then at its highest in each step."""
    if found.stress:
        yield from paragraph(f"Drying stress by the schedule, a risk and no promise: {found.stress}")
    if found.stress_by_step:
        worst = max(found.stress_by_step, key=_pull)
        each = "; ".join(f"{one.step} {_pulled(one)}" for one in found.stress_by_step)
        yield from paragraph(f"  by step, at its highest in step {worst.step} (to day {worst.until_day:.0f}): {each}", "  ")


def _pull(one: StepStress) -> float:
    """What steps are held against each other by: the tension of surface or core, else the strain."""
    return one.kept if one.surface is None or one.core is None else max(one.surface.most, one.core.most)


def _pulled(one: StepStress) -> str:
    if one.surface is None or one.core is None:
        return f"{one.kept * 100.0:.1f} %"
    return f"surface {one.surface.said}" if one.surface.most >= one.core.most else f"core {one.core.said}"


def _heat(found: Range, view: View) -> Iterator[str]:
    many, called = (BOARD_FOOT.in_si(1000.0), "1,000 board feet") if view is View.INCHES else (1.0, "a cubic metre")
    said = heat(Range(found.likely * many, found.low * many, found.high * many, found.basis))
    yield from paragraph(f"Heat for {called}: {said}; the high end is a kiln as built, with walls and leaks")


def _water(water: Range, view: View) -> Iterator[str]:
    of, unit = (BOARD_FOOT if view is View.INCHES else CUBIC_METRE), shop_of(view).weight
    said = spread(water, lambda kg: print_mass(of.in_si(kg), unit, Direction.READ))
    yield f"Water to take out of a {of.one} as sawn: {said}"
