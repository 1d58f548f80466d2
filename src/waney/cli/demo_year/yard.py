"""The yard of the story while it is being written: who works there, and the ids of what the story calls by name."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from waney.cli.demo_year.diary import Diary
from waney.cli.demo_year.planned import PlannedLog
from waney.cli.demo_year.story import Story
from waney.yard.services.hand import Hand


@dataclass
class Yard:
    """Ida decides, Tom saws, Ruth looks after the racks."""

    diary: Diary
    story: Story
    ida: Hand
    tom: Hand
    ruth: Hand
    plans: Mapping[str, PlannedLog]
    spots: dict[str, str] = field(default_factory=dict)
    stems: dict[str, str] = field(default_factory=dict)
    logs: dict[str, str] = field(default_factory=dict)
    kept_plans: dict[str, str] = field(default_factory=dict)
    pieces: dict[str, list[str]] = field(default_factory=dict)
    """by the code of their log, the first off first"""
    posts: list[str] = field(default_factory=list)

    def piece(self, code: str, place: int) -> str:
        """The piece at a place in its boule, from 1."""
        return self.pieces[code][place - 1]
