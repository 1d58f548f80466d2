"""The checker cuts flats and trims ends on its own; what differs from that is told."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from random import Random

import numpy as np
import pytest

from waney.logs.from_sheet import Measured, measured_of
from waney.logs.shape import LogShape
from waney.sawing.check.opened import Before, check_opened
from waney.sawing.check.verdict import Difference, Reason

LOG = """format = "waney-log/1"
units = "in"
species = "white oak"
length = "10 ft"
[butt]
diameter = [27, 25]
pith = { from_middle = 1, clock = 2 }
[top]
diameter = [22, 21]
[bark]
thickness = 0.75
[sweep]
depth = 1
clock = 10
[[metal]]
distance = 40
clock = 3
depth = 5
"""
HALVED = "[[flat]]\nclock = 3\nhalved = true\n"
CANT = "[[flat]]\nclock = 12.4\nfrom_pith = 8\nat_top = 7\n[[flat]]\nclock = 6.4\nthickness = 14\nat_top = 13\n"
FLITCH = "[[flat]]\nclock = 12\nfrom_pith = 8\n[[flat]]\nclock = 6\nthickness = 3\n"
SLABBED = "[[flat]]\nclock = 9\nfrom_pith = 4\n"
TRIMMED = "[trimmed]\nbutt = 12\ntop = 5\n"


def measured(text: str) -> Measured:
    return measured_of({"log": LOG + text})


@pytest.mark.parametrize("text", [HALVED, CANT, FLITCH, SLABBED, TRIMMED, TRIMMED + CANT, ""])
def test_what_the_sheet_leaves_is_found_again(text: str) -> None:
    log = measured(text)
    check_opened(Before(log.log, log.whole), log.shape)


def larger(shape: LogShape) -> LogShape:
    return replace(shape, radius_m=shape.radius_m * 1.002)


def smaller(shape: LogShape) -> LogShape:
    return replace(shape, radius_m=shape.radius_m * 0.997)


def without_a_corner(shape: LogShape) -> LogShape:
    radius = shape.radius_m.copy()
    radius[3, int(np.argmax(radius[3]))] *= 0.98
    return replace(shape, radius_m=radius)


def moved(shape: LogShape) -> LogShape:
    return replace(shape, centre_m=shape.centre_m + 0.0005)


def nail_gone(shape: LogShape) -> LogShape:
    return replace(shape, zones=())


def rings_moved(shape: LogShape) -> LogShape:
    return replace(shape, ringed=replace(shape.rings, pith_m=shape.rings.pith_m + 0.001))


@pytest.mark.parametrize(
    ("spoil", "reason"),
    [
        (larger, Reason.SHAPE),
        (smaller, Reason.SHAPE),
        (without_a_corner, Reason.SHAPE),
        (moved, Reason.SHAPE),
        (nail_gone, Reason.METAL),
        (rings_moved, Reason.RINGS),
    ],
)
def test_what_differs_is_told(spoil: Callable[[LogShape], LogShape], reason: Reason) -> None:
    log = measured(TRIMMED + SLABBED)
    with pytest.raises(Difference) as difference:
        check_opened(Before(log.log, log.whole), spoil(log.shape))
    assert difference.value.reason is reason


@pytest.mark.parametrize("seed", range(8))
def test_a_sheet_with_other_flats_is_told(seed: int) -> None:
    rng = Random(seed)
    a, b = (f"[[flat]]\nclock = {rng.uniform(1, 12):.2f}\nfrom_pith = {rng.uniform(1, 8):.2f}\n" for _ in range(2))
    log, other = measured(a), measured(b)
    with pytest.raises(Difference, match=r"flat|section|corner"):
        check_opened(Before(log.log, log.whole), other.shape)
