"""Cautions: short sentences at the point of danger. The rows stand in `data/cautions.csv`, by step of the work."""

from __future__ import annotations

from dataclasses import dataclass

from waney.figures.tables import table

NO_SOURCE = "common practice, no source"


@dataclass(frozen=True)
class Caution:
    """One sentence for one step; `source` is a key of `data/sources.csv` or NO_SOURCE."""

    step: str
    sentence: str
    source: str


class NoCaution(LookupError):
    """A paper names a step that has no row: a fault of ours, never of the user."""


def cautions(*steps: str) -> tuple[Caution, ...]:
    """All rows of these steps, in the order asked. Raises NoCaution when one of them has none."""
    return tuple(caution for step in steps for caution in _of(step))


def _of(step: str) -> tuple[Caution, ...]:
    rows = tuple(Caution(row["step"], row["sentence"], row["source"]) for row in table("cautions") if row["step"] == step)
    if not rows:
        raise NoCaution(f"data/cautions.csv has no row for {step!r}")
    return rows
