"""What is measured on a planned piece besides its worth: widths by every rule, rectangle, board feet, weights, rings, cup."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from waney.figures.estimate import Estimate
from waney.figures.scenarios import Scenarios
from waney.logs.measured import Hidden
from waney.pieces.cup import cup_of_part_m
from waney.pieces.measures import board_feet, surface_measure_ft2
from waney.pieces.piece import FACE_A, FACE_B
from waney.pieces.rectangle import NoRectangle, usable_rectangle
from waney.pieces.ring_samples import Shares, face_shares
from waney.pieces.shrinking import Shrinking
from waney.pieces.weight import green_weight, weight_at
from waney.pieces.widths import mean_of_faces_width_m, mid_length_width_m, narrow_face_width_m, widest_width_m
from waney.pieces.windows import Window, pith_inside, spacing_m
from waney.prices.product import Edges, Product, WidthRule
from waney.sawing.bench import Bench
from waney.sawing.orders import wanted
from waney.sawing.plan import PlannedPiece
from waney.wood.species import NoFigure, Species


@dataclass(frozen=True)
class PieceFacts:
    """What is measured on one piece besides what the plan holds. Metres, kg; None: not known, or no product to measure."""

    widths_m: Mapping[WidthRule, float] = field(default_factory=dict)
    """green, by rule"""
    rectangle_m: tuple[float, float] | None = None
    """width and length of the largest usable rectangle, green"""
    board_feet_true: float | None = None
    board_feet_nominal: float | None = None
    surface_measure: int | None = None
    green_weight: Estimate | None = None
    dry_weight: Estimate | None = None
    rings_a: Shares | None = None
    rings_b: Shares | None = None
    cup_m: float | None = None
    """of the product's width, in drying"""
    holds: tuple[str, ...] = ()
    """pith, metal, rot, knots inside it"""


WIDTHS = {
    WidthRule.NARROW_FACE: narrow_face_width_m,
    WidthRule.MEAN_OF_FACES: mean_of_faces_width_m,
    WidthRule.MID_LENGTH: mid_length_width_m,
    WidthRule.WIDEST: widest_width_m,
}


def piece_facts(planned: PlannedPiece, bench: Bench, wood: Species, scenarios: Scenarios, *, with_rectangle: bool) -> PieceFacts:
    """All measures of one planned piece. The rectangle takes a while, so it is asked for."""
    piece, product = planned.piece, _product(planned, bench)
    window = _window(planned)
    true, nominal, surface = _board_measure(planned, product)
    green, dry = _weights(planned, wood, bench.wants.target_mc, scenarios)
    return PieceFacts(
        widths_m={rule: width(piece, window) for rule, width in WIDTHS.items()} if product else {},
        rectangle_m=_rectangle(planned, product) if with_rectangle else None,
        board_feet_true=true,
        board_feet_nominal=nominal,
        surface_measure=surface,
        green_weight=green,
        dry_weight=dry,
        rings_a=face_shares(piece, FACE_A),
        rings_b=face_shares(piece, FACE_B),
        cup_m=_cup(planned, product, window, bench.log.shrinking),
        holds=(*(["pith"] if pith_inside(piece) else []), *sorted({str(zone.kind) for zone in piece.zones})),
    )


def _product(planned: PlannedPiece, bench: Bench) -> Product | None:
    return next((product for product in wanted(bench.wants) if product.name == planned.worth.product), None)


def _window(planned: PlannedPiece) -> Window:
    """The stations that the product comes from."""
    piece, worth = planned.piece, planned.worth
    first = round((worth.start_m - float(piece.along_m[0])) / spacing_m(piece))
    last = first + max(1, round(worth.length_m / spacing_m(piece)))
    return Window(first, min(last, len(piece.along_m) - 1))


def _rectangle(planned: PlannedPiece, product: Product | None) -> tuple[float, float] | None:
    """Free of what the product must not hold; of salvage, all that is wood on both faces."""
    may_hold = product.may_hold if product else frozenset(Hidden)
    try:
        found = usable_rectangle(planned.piece, may_hold, pith_kept=product is None or product.pith_kept)
    except NoRectangle:
        return None
    return found.width_m, found.length_m


def _board_measure(planned: PlannedPiece, product: Product | None) -> tuple[float | None, float | None, int | None]:
    if product is None:
        return None, None, None
    width, length = planned.worth.width_m, planned.worth.length_m
    true = board_feet(width, length, product.thickness_m, thin_counts_as_inch=False)
    nominal = board_feet(width, length, product.nominal_m, thin_counts_as_inch=True)
    return true, nominal, surface_measure_ft2(width, length)


def _weights(
    planned: PlannedPiece, wood: Species, target_mc: float, scenarios: Scenarios
) -> tuple[Estimate | None, Estimate | None]:
    try:
        return green_weight(planned.piece, wood, scenarios), weight_at(planned.piece, wood, target_mc)
    except NoFigure:
        return None, None


def _cup(planned: PlannedPiece, product: Product | None, window: Window, shrinking: Shrinking) -> float | None:
    """As the worth counts it: of the whole width of a live edge, of an edged piece's own width about its middle."""
    piece, worth = planned.piece, planned.worth
    if product is None or not len(piece.pith_m):
        return None
    live = product.edges is Edges.LIVE
    half = widest_width_m(piece, window) / 2.0 if live else (worth.high_y_m - worth.low_y_m) / 2.0
    return cup_of_part_m(piece, window, half, shrinking)
