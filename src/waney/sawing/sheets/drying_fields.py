"""Drying as a wants sheet knows it: what was typed, else the common-practice table by thickness."""

from __future__ import annotations

from collections.abc import Sequence

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.tables import Row, table
from waney.prices.rules import DryingAllowance
from waney.sawing.sheets.defaults import Fields
from waney.sawing.sheets.lost_fields import Lost, built_in_points, of_thickness
from waney.sawing.sheets.three_points import three_points
from waney.units.sheet import Reader

TYPED = Basis(Ground.HISTORY, "typed on the wants sheet")
SAME = 1e-6


def drying_allowance(
    fields: Fields, read_share: Reader[float], read_days: Reader[float], nominal_m: float, lost: Sequence[Lost] = ()
) -> DryingAllowance:
    """From the fields drying_days, loss and loss_with_pith of a product; blanks from what the sheet says of all boards (lost),
    else from `drying_defaults.csv`. With the pith inside no less is lost than without."""
    row, ours = _row(nominal_m), of_thickness(lost, nominal_m)
    loss, pith = built_in_points(row, "loss", 1.0), built_in_points(row, "pith_loss", 1.0)
    if ours is not None:
        loss, pith = _told(ours, loss), _told(_at_least(ours, pith), pith)
    return DryingAllowance(
        _filled(fields, "drying_days", read_days, built_in_points(row, "days"), ""),
        _filled(fields, "loss", read_share, loss, "%"),
        _filled(fields, "loss_with_pith", read_share, pith, "%"),
    )


def _at_least(ours: Estimate, other: Estimate) -> Estimate:
    """Point by point the greater one."""
    points = (max(one, two) for one, two in zip(_points(ours), _points(other), strict=True))
    low, likely, high = points
    return Estimate(likely, low, high, ours.basis, 0.0, 1.0)


def _told(ours: Estimate, built_in: Estimate) -> Estimate:
    """What the sheet says, unless that is what is built in: a class of which the shop knows nothing stands in it all the same."""
    same = all(abs(one - two) < SAME for one, two in zip(_points(ours), _points(built_in), strict=True))
    return built_in if same else ours


def _points(one: Estimate) -> tuple[float, float, float]:
    return one.low, one.likely, one.high


def _row(nominal_m: float) -> Row:
    rows = table("drying_defaults")
    return next((row for row in rows if nominal_m * 1000 <= float(row["up_to_mm"])), rows[-1])


def _filled(fields: Fields, key: str, read: Reader[float], default: Estimate, sign: str) -> Estimate:
    scale = 100 if sign else 1
    low, likely, high = (f"{round(point * scale, 6):g}" for point in (default.low, default.likely, default.high))
    says = f"{likely} {sign} ({low} to {high})".replace("  ", " ")
    return fields.fill(key, three_points(read, default.hard_max, TYPED), default, says, default.basis)
