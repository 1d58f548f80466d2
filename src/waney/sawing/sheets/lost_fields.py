"""Lost: what a shop loses in drying, by thickness, where its wants sheet says so; for products that say nothing of their own."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import inf

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.tables import Row, table
from waney.sawing.sheets.defaults import COMMON_PRACTICE
from waney.sawing.sheets.three_points import three_points
from waney.units.sheet import Table
from waney.units.sheet_measures import Measures

LOST = "lost"
OF_SHEET = Basis(Ground.HISTORY, "[[lost]] of the wants sheet")
SLACK_M = 1e-9


@dataclass(frozen=True)
class Lost:
    """Share of the boards [-] that drying spoils, of those not thicker than `up_to_m` and thicker than the one before it."""

    up_to_m: float
    share: Estimate


def built_in() -> tuple[Lost, ...]:
    """What counts where nothing was typed: common practice, no source."""
    return tuple(Lost(_up_to(row["up_to_mm"]), built_in_points(row, "loss", 1.0)) for row in table("drying_defaults"))


def _up_to(text: str) -> float:
    """The last class has no end."""
    metres = float(text) / 1000.0
    return inf if metres > 1.0 else metres


def built_in_points(row: Row, what: str, most: float = inf) -> Estimate:
    """Low, likely and high of a row of `drying_defaults.csv`."""
    low, likely, high = (float(row[f"{what}_{point}"]) for point in ("low", "likely", "high"))
    return Estimate(likely, low, high, COMMON_PRACTICE, 0.0, most)


def read_lost(sheet: Table, m: Measures) -> tuple[Lost, ...]:
    """The rows of [[lost]], thinnest first."""
    found = []
    for row in sheet.entries(LOST):
        share = row.need("share", three_points(m.percent, 1.0, OF_SHEET), Estimate(0.0, 0.0, 0.0, OF_SHEET, 0.0, 1.0))
        found.append(Lost(row.take("up_to", m.length_from(0.001, 1.0)) or inf, share))
    return tuple(sorted(found, key=lambda one: one.up_to_m))


def of_thickness(some: Sequence[Lost], nominal_m: float) -> Estimate | None:
    """What is lost of boards of a thickness; None where no row tells."""
    return next((one.share for one in some if nominal_m <= one.up_to_m + SLACK_M), None)


def lost_lines(some: Iterable[Lost]) -> Iterator[tuple[str, ...]]:
    """Rows as a wants sheet holds them, one by one; they are read back as they were, to a tenth of one per cent."""
    for one in some:
        points = ", ".join(f'"{100.0 * point:.1f} %"' for point in (one.share.low, one.share.likely, one.share.high))
        up_to = () if one.up_to_m == inf else (f'up_to = "{1000.0 * one.up_to_m:.0f} mm"',)
        yield (*up_to, f"share = [{points}]")
