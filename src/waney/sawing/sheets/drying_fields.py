"""Drying as a wants sheet knows it: what was typed, else the common-practice table by thickness."""

from __future__ import annotations

from collections.abc import Mapping

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.tables import Row, table
from waney.prices.rules import DryingAllowance
from waney.sawing.sheets.defaults import COMMON_PRACTICE, Fields
from waney.units.sheet import Reader
from waney.units.sheet_readers import NotThat, list_of, shown

TYPED = Basis(Ground.HISTORY, "typed on the wants sheet")


def drying_allowance(fields: Fields, read_share: Reader[float], read_days: Reader[float], nominal_m: float) -> DryingAllowance:
    """From the fields drying_days, loss and loss_with_pith of a product; blanks from `drying_defaults.csv`."""
    row = _row(nominal_m)
    return DryingAllowance(
        _filled(fields, "drying_days", read_days, _default(row, "days"), ""),
        _filled(fields, "loss", read_share, _default(row, "loss", most=1.0), "%"),
        _filled(fields, "loss_with_pith", read_share, _default(row, "pith_loss", most=1.0), "%"),
    )


def _row(nominal_m: float) -> Row:
    rows = table("drying_defaults")
    return next((row for row in rows if nominal_m * 1000 <= float(row["up_to_mm"])), rows[-1])


def _default(row: Mapping[str, str], what: str, most: float = float("inf")) -> Estimate:
    low, likely, high = (float(row[f"{what}_{point}"]) for point in ("low", "likely", "high"))
    return Estimate(likely, low, high, COMMON_PRACTICE, 0.0, most)


def _filled(fields: Fields, key: str, read: Reader[float], default: Estimate, sign: str) -> Estimate:
    scale = 100 if sign else 1
    low, likely, high = (f"{round(point * scale, 6):g}" for point in (default.low, default.likely, default.high))
    return fields.fill(
        key, _three_points(read, default.hard_max), default, f"{likely} {sign} ({low} to {high})".replace("  ", " ")
    )


def _three_points(read: Reader[float], most: float) -> Reader[Estimate]:
    """One figure, or three: low, likely, high."""

    def estimate(value: object) -> Estimate:
        points = list_of(read)(value)
        if len(points) not in (1, 3) or list(points) != sorted(points):
            raise NotThat(f"{shown(value)} is neither one figure nor three that rise: low, likely, high, as in [30, 60, 120].")
        return Estimate(points[len(points) // 2], points[0], points[-1], TYPED, 0.0, most)

    return estimate
