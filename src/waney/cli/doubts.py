"""The scenarios over which every command runs its doubts: one seed, so that they agree with each other."""

from __future__ import annotations

from waney.figures.scenarios import Scenarios

SCENARIOS = Scenarios(seed=1)
