"""Prices of pieces on the shelf: worked by hand, and what stands in the sheet."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from waney.prices.price_sheet import read_price_sheet
from waney.prices.product import WidthRule
from waney.prices.shelf import NotPriced, OnShelf, ShelfPrices, Way, three_ways
from waney.units.sheet import SheetProblems

IN, FT = 0.0254, 0.3048
SHEET = """
format = "waney-prices/1"
units = "in"
currency = "USD"
width = "mean of faces"
set_whole = 1.2
[[wood]]
species = "black walnut"
board_foot = 15
square_foot = 32.50
piece = 240
[[wood]]
species = "white oak"
board_foot = 9
[[thicker]]
from_thickness = 2
factor = 1.25
[[wider]]
from_width = 20
factor = 1.1
[[wider]]
from_width = 24
factor = 1.5
[[older]]
from_months = 12
factor = 0.9
[[figure]]
word = "Curl"
factor = 1.4
"""
PIECE = OnShelf("A-1", "walnut_black", 2 * IN, 8 * FT, 18 * IN)


@pytest.fixture(scope="module")
def prices() -> ShelfPrices:
    return read_price_sheet(SHEET)


def test_three_ways_stand_side_by_side(prices: ShelfPrices) -> None:
    """2 in x 18 in x 8 ft: 24 board feet, 12 square feet; the thickness factor is on all three."""
    volume, area, piece = three_ways(PIECE, prices)
    assert [one.way for one in (volume, area, piece)] == [Way.VOLUME, Way.AREA, Way.PIECE]
    assert (volume.measure, area.measure, piece.measure) == (pytest.approx(24.0), pytest.approx(12.0), 1.0)
    assert [one.cents for one in (volume, area, piece)] == [450_00, 487_50, 300_00]  # 24 x 15, 12 x 32.50, 240; each x 1.25
    assert volume.factors == (("thickness", 1.25),) and prices.width_rule is WidthRule.MEAN_OF_FACES


def test_every_factor_counts_and_is_named(prices: ShelfPrices) -> None:
    piece = replace(PIECE, width_m=24 * IN, figure="curl", days=400, set_whole=True)
    [volume, *_] = three_ways(piece, prices)
    assert volume.factors == (
        ("thickness", 1.25), ("width", 1.5), ("figure", 1.4), ("time on the shelf", 0.9), ("set stays whole", 1.2),
    )  # fmt: skip
    assert volume.cents == 1360_80  # 32 board feet x 15 = 480; x 1.25 x 1.5 x 1.4 x 0.9 x 1.2


def test_what_is_missing_is_said_and_nothing_stands_in(prices: ShelfPrices) -> None:
    assert [one.why for one in three_ways(replace(PIECE, width_m=None), prices)] == ["width not known", "width not known", ""]
    oak = three_ways(replace(PIECE, species="oak_white"), prices)
    assert [one.cents for one in oak] == [270_00, None, None] and "none for this wood by area" in oak[1].why
    with pytest.raises(NotPriced, match=r'no factor for the figure "burl"; it has curl'):
        three_ways(replace(PIECE, figure="burl"), prices)
    assert all(one.cents is None for one in three_ways(PIECE, ShelfPrices()))


@settings(max_examples=40, deadline=None)
@given(width=st.floats(0.05, 1.2), more=st.floats(0.0, 0.5))
def test_a_wider_piece_never_costs_less(width: float, more: float) -> None:
    rising = read_price_sheet(SHEET)
    narrow, wide = (three_ways(replace(PIECE, width_m=w), rising)[0].cents or 0 for w in (width, width + more))
    assert wide >= narrow


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ('[[wood]]\nspecies = "unobtainium"', "unobtainium"),
        ('[[wood]]\nspecies = "ash"\nboard_foot = 1\ncubic_metre = 2', "say the same price twice"),
        ("[[thicker]]\nfactor = 1.5", "from_thickness"),
        ('width = "by eye"', "none of the words"),
    ],
)
def test_a_slip_in_the_sheet_is_told_with_its_line(line: str, told: str) -> None:
    head = 'format = "waney-prices/1"\nunits = "in"\ncurrency = "USD"\n'
    with pytest.raises(SheetProblems, match=told):
        read_price_sheet(head + line + "\n")


def test_a_metric_sheet_prices_by_cubic_metre() -> None:
    sheet = 'format = "waney-prices/1"\nunits = "mm"\ncurrency = "EUR"\n'
    sheet += '[[wood]]\nspecies = "white oak"\ncubic_metre = 3000\nsquare_metre = 150\n'
    volume, area, _ = three_ways(OnShelf("A-1", "oak_white", 0.05, 2.0, 0.5), read_price_sheet(sheet))
    assert (volume.cents, area.cents) == (150_00, 150_00)  # 0.05 m3 x 3000, 1 m2 x 150
