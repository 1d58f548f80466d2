"""Words about the air that a stack is taken to stand in: the same on pages and in commands."""

from __future__ import annotations

from waney.drying.stack import Stack


def air_said(stack: Stack) -> str:
    """A sentence on what is taken for the air about a stack."""
    if not stack.outdoors:
        return "Air: what the chamber is held at, all the time; check it with a thermometer and a hygrometer of your own."
    by = "the hours of the year given" if stack.by_hour else "normal months"
    return f"Weather: {stack.climate.place}, {by} and how far months stray from them."
