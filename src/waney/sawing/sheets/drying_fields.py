"""Drying as a wants sheet knows it: what was typed, else the common-practice table by thickness."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.tables import Row, table
from waney.prices.rules import DryingAllowance
from waney.sawing.sheets.defaults import COMMON_PRACTICE, Fields
from waney.sawing.sheets.lost_fields import OF_SHEET, Lost, of_thickness
from waney.sawing.sheets.three_points import three_points
from waney.units.sheet import Reader

TYPED = Basis(Ground.HISTORY, "typed on the wants sheet")


def drying_allowance(
    fields: Fields, read_share: Reader[float], read_days: Reader[float], nominal_m: float, lost: Sequence[Lost] = ()
) -> DryingAllowance:
    """From the fields drying_days, loss and loss_with_pith of a product; blanks from what the sheet says of all boards (lost),
    else from `drying_defaults.csv`. With the pith inside no less is lost than without."""
    row, ours = _row(nominal_m), of_thickness(lost, nominal_m)
    pith, with_pith = _default(row, "pith_loss", most=1.0), COMMON_PRACTICE
    if ours is not None:
        likely, low, high = max(ours.likely, pith.likely), max(ours.low, pith.low), max(ours.high, pith.high)
        pith, with_pith = Estimate(likely, low, high, OF_SHEET, 0.0, 1.0), OF_SHEET
    loss, basis = (_default(row, "loss", most=1.0), COMMON_PRACTICE) if ours is None else (ours, OF_SHEET)
    return DryingAllowance(
        _filled(fields, "drying_days", read_days, _default(row, "days"), "", COMMON_PRACTICE),
        _filled(fields, "loss", read_share, loss, "%", basis),
        _filled(fields, "loss_with_pith", read_share, pith, "%", with_pith),
    )


def _row(nominal_m: float) -> Row:
    rows = table("drying_defaults")
    return next((row for row in rows if nominal_m * 1000 <= float(row["up_to_mm"])), rows[-1])


def _default(row: Mapping[str, str], what: str, most: float = float("inf")) -> Estimate:
    low, likely, high = (float(row[f"{what}_{point}"]) for point in ("low", "likely", "high"))
    return Estimate(likely, low, high, COMMON_PRACTICE, 0.0, most)


def _filled(fields: Fields, key: str, read: Reader[float], default: Estimate, sign: str, basis: Basis) -> Estimate:
    scale = 100 if sign else 1
    low, likely, high = (f"{round(point * scale, 6):g}" for point in (default.low, default.likely, default.high))
    says = f"{likely} {sign} ({low} to {high})".replace("  ", " ")
    return fields.fill(key, three_points(read, default.hard_max, TYPED), default, says, basis)
