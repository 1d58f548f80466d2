"""Words about the air that a stack is taken to stand in: the same on pages and in commands."""

from __future__ import annotations

from waney.drying.kiln_sheet import KilnSheet
from waney.drying.stack import Stack
from waney.figures.estimate import Ground
from waney.papers.words import day
from waney.units.direction import Direction
from waney.units.length import FOOT_NM, to_nanometres

BY_MONTHS = "the means of the months of the hours given (a chamber that the sun warms is not told by the hour)"


def air_said(stack: Stack) -> str:
    """A sentence on what is taken for the air about a stack."""
    if not stack.outdoors:
        held = "Air: what the chamber is held at, all the time; check it with a thermometer and a hygrometer of your own."
        return f"{held} {_across(stack)}"
    assert stack.climate is not None, "a stack outdoors has a climate"
    given = stack.climate.basis.ground is Ground.READING
    if stack.hours is not None:
        by = "the hours of the year given" if stack.by_hour else BY_MONTHS
    else:
        by = "the twelve months given, taken for normal ones," if given else "normal months"
    return f"Weather: {stack.place}, {by} and how far months stray from them. {_across(stack)}"


def kiln_air_said(kiln: KilnSheet) -> str:
    """What is taken for the weather about a kiln that the sun warms; empty for any other."""
    sun = kiln.sun
    if sun is None or sun.climate is None or sun.start is None:
        return ""
    chamber = "as its two thermometers say" if sun.chamber else "from dull over usual to good, because nobody read its air"
    when = f"normal months from {day(sun.start)} on and how far they stray"
    return (
        f"Weather: {sun.climate.place}, {when}; the chamber {chamber}. A load goes in when the one before it is dry. What it "
        "does to the air is not counted: the first days are told too fast; towards the end the model is slow."
    )


def _across(stack: Stack) -> str:
    """What the air goes through: the wider and the closer, the damper it leaves."""
    feet = to_nanometres(stack.passage.wide_m, Direction.READ) / FOOT_NM
    return f"The air crosses a stack {feet:.1f} ft ({stack.passage.wide_m:.1f} m) wide."
