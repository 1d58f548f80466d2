"""Equalising as it goes out in an answer: the same of a schedule and of a load."""

from __future__ import annotations

from waney.cli.answers import ranged
from waney.cli.answers_kiln import Evened
from waney.drying.equalising import Equalising


def evened(found: Equalising) -> Evened:
    """The values of the model as an answer."""
    return Evened(
        ranged(found.begins), ranged(found.days), ranged(found.whole), found.at_begin, found.at_end, found.late, found.scenarios
    )
