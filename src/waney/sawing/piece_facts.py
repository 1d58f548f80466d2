"""What is measured on a planned piece besides its worth: widths by every rule, board feet, weights, rings, cup."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from waney.figures.estimate import Estimate
from waney.figures.scenarios import Scenarios
from waney.pieces.measures import board_feet, surface_measure_ft2
from waney.pieces.piece import FACE_A, FACE_B
from waney.pieces.ring_samples import Shares, face_shares
from waney.pieces.weight import green_weight, weight_at
from waney.pieces.widths import mean_of_faces_width_m, mid_length_width_m, narrow_face_width_m, widest_width_m
from waney.pieces.windows import Window, pith_inside, spacing_m
from waney.prices.product import Product, WidthRule
from waney.sawing.bench import Bench
from waney.sawing.orders import wanted
from waney.sawing.plan import Plan, PlannedPiece
from waney.wood.species import Species


@dataclass(frozen=True)
class MeasuredPiece:
    """Metres, kilograms; None where there is no product to measure."""

    widths_m: Mapping[WidthRule, float]
    board_feet_true: float | None
    board_feet_nominal: float | None
    surface_measure: int | None
    green_weight: Estimate
    dry_weight: Estimate
    rings_a: Shares
    rings_b: Shares
    holds: tuple[str, ...]


@dataclass(frozen=True)
class MeasuredPlan:
    """What a whole plan gives: board feet (nominal) and dry finished volume [m3]."""

    board_feet: float
    usable_m3: float


WIDTHS = {
    WidthRule.NARROW_FACE: narrow_face_width_m,
    WidthRule.MEAN_OF_FACES: mean_of_faces_width_m,
    WidthRule.MID_LENGTH: mid_length_width_m,
    WidthRule.WIDEST: widest_width_m,
}


def measured_piece(planned: PlannedPiece, bench: Bench, wood: Species, scenarios: Scenarios) -> MeasuredPiece:
    """All measures of one planned piece."""
    piece, worth = planned.piece, planned.worth
    product = next((p for p in wanted(bench.wants) if p.name == worth.product), None)
    window = _window(planned)
    true, nominal, surface = _board_measure(planned, product)
    return MeasuredPiece(
        widths_m={rule: width(piece, window) for rule, width in WIDTHS.items()} if product else {},
        board_feet_true=true,
        board_feet_nominal=nominal,
        surface_measure=surface,
        green_weight=green_weight(piece, wood, scenarios),
        dry_weight=weight_at(piece, wood, bench.wants.target_mc),
        rings_a=face_shares(piece, FACE_A),
        rings_b=face_shares(piece, FACE_B),
        holds=(*(["pith"] if pith_inside(piece) else []), *sorted({str(zone.kind) for zone in piece.zones})),
    )


def _window(planned: PlannedPiece) -> Window:
    """The stations that the product comes from."""
    piece, worth = planned.piece, planned.worth
    first = round((worth.start_m - float(piece.along_m[0])) / spacing_m(piece))
    last = first + max(1, round(worth.length_m / spacing_m(piece)))
    return Window(first, min(last, len(piece.along_m) - 1))


def _board_measure(planned: PlannedPiece, product: Product | None) -> tuple[float | None, float | None, int | None]:
    if product is None:
        return None, None, None
    width, length = planned.worth.width_m, planned.worth.length_m
    true = board_feet(width, length, product.thickness_m, thin_counts_as_inch=False)
    nominal = board_feet(width, length, product.nominal_m, thin_counts_as_inch=True)
    return true, nominal, surface_measure_ft2(width, length)


def measured_plan(plan: Plan, pieces: Mapping[str, MeasuredPiece]) -> MeasuredPlan:
    """Sums over the pieces that are products."""
    kept = [p for p in plan.pieces if p.worth.product is not None]
    feet = sum(pieces[p.piece.name].board_feet_nominal or 0.0 for p in kept)
    return MeasuredPlan(feet, sum(p.worth.width_m * p.worth.length_m * p.worth.thickness_m for p in kept))
