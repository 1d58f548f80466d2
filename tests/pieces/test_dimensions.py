"""Dimension checks: a piece enlarged as a whole has lengths, areas and volumes of the first, second and third power."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from unittest.mock import patch

import pytest
from tests.pieces.elastic import dried_warp

from waney.pieces import ring_samples
from waney.pieces.cup import cup_of_part_m
from waney.pieces.measures import board_feet
from waney.pieces.piece import FACE_B, Piece
from waney.pieces.rectangle import usable_rectangle
from waney.pieces.ring_samples import samples
from waney.pieces.shrinking import Shrinking
from waney.pieces.sizes import green_sizes
from waney.pieces.volume import volume_m3
from waney.pieces.widths import face_area_m2
from waney.pieces.windows import Window

Maker = Callable[..., Piece]
OAK = Shrinking(0.04, 0.086, 0.08)
WHOLE = Window(0, 32)


def enlarged(piece: Piece, k: float) -> Piece:
    assert piece.rings is not None
    assert piece.to_log is not None
    rings, shift = piece.rings, piece.to_log.shift
    return replace(
        piece,
        thickness_m=piece.thickness_m * k,
        along_m=piece.along_m * k,
        low_y_m=piece.low_y_m * k,
        high_y_m=piece.high_y_m * k,
        pith_m=piece.pith_m * k,
        rings=replace(rings, z_m=rings.z_m * k, pith_m=rings.pith_m * k, reach_m=rings.reach_m * k),
        to_log=replace(piece.to_log, shift=(shift[0] * k, shift[1] * k, shift[2] * k)),
    )


POWERS: dict[str, tuple[int, Callable[[Piece], float]]] = {
    "ring angles": (0, lambda p: samples(p).mean_c2),
    "thickness": (1, lambda p: green_sizes(p, WHOLE).thickness_m),
    "width": (1, lambda p: green_sizes(p, WHOLE).mid_length_m),
    "cup": (1, lambda p: cup_of_part_m(p, WHOLE, float(p.high_y_m[0, 32]), OAK)),
    "face": (2, lambda p: face_area_m2(p, WHOLE, FACE_B)),
    "rectangle": (2, lambda p: usable_rectangle(p).area_m2),
    "volume": (3, volume_m3),
    "board feet": (3, lambda p: board_feet(p.thickness_m, p.length_m, p.thickness_m, thin_counts_as_inch=False)),
}


@pytest.mark.parametrize("what", POWERS)
@pytest.mark.parametrize("k", [0.1, 3.0])
def test_enlarged_as_a_whole(round_log_slice: Maker, what: str, k: float) -> None:
    """To 0.01 %: the rectangle is searched to that, all others are exact but for rounding."""
    power, measured = POWERS[what]
    piece = round_log_slice(0.1, 0.03, top_radius=0.22, pith=(0.02, -0.05))
    assert measured(piece) > 0
    with patch.object(ring_samples, "LATTICE_M", ring_samples.LATTICE_M * k):
        large = measured(enlarged(piece, k))
    assert large == pytest.approx(measured(piece) * k**power, rel=1e-4)


def test_an_elastic_section_enlarged_cups_in_proportion() -> None:
    small, large = dried_warp(0.3, 0.05, (0.01, 0.01), OAK), dried_warp(3.0, 0.5, (0.1, 0.1), OAK)
    assert large.hollow_mid_m == pytest.approx(10 * small.hollow_mid_m)
