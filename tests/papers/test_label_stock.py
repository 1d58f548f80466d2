"""Label stock: what is sold everywhere fits on its sheet, what is typed is read, what cannot be is refused with a sentence."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from waney.figures.tables import table
from waney.papers.label_stock import DUST_MM, PAGES, BadStock, LabelStock, label_stock, sold_everywhere

GRIDS = st.tuples(st.integers(1, 8), st.integers(1, 20))
SIZES = st.tuples(st.floats(8, 200), st.floats(8, 200))


def inside(stock: LabelStock) -> bool:
    """Every label is on its sheet."""
    return all(
        place.x >= 0
        and place.y >= 0
        and place.x + place.width <= stock.page[0] + DUST_MM
        and place.y + place.height <= stock.page[1] + DUST_MM
        for place in stock.places()
    )


def apart(stock: LabelStock) -> bool:
    """No label lies on another, looked at pair by pair."""
    places = stock.places()
    return all(
        one.x + one.width <= other.x + DUST_MM
        or other.x + other.width <= one.x + DUST_MM
        or one.y + one.height <= other.y + DUST_MM
        or other.y + other.height <= one.y + DUST_MM
        for i, one in enumerate(places)
        for other in places[:i]
    )


@pytest.mark.parametrize("name", sold_everywhere())
def test_a_common_size_fits_on_its_sheet_and_no_label_lies_on_another(name: str) -> None:
    stock = label_stock(name)
    assert inside(stock) and apart(stock)
    assert len(stock.places()) == stock.each_sheet


@pytest.mark.parametrize("name", [row["name"] for row in table("label_stock") if row["kind"] == "sheet"])
def test_a_sheet_of_labels_is_as_much_free_on_the_right_as_on_the_left(name: str) -> None:
    # feeders take a sheet by either edge, so makers centre the labels; half a millimetre for sizes in whole fractions
    stock = label_stock(name)
    for way in (0, 1):
        reach = stock.first[way] + (stock.grid[way] - 1) * stock.pitch[way] + stock.label[way]
        assert stock.page[way] - reach == pytest.approx(stock.first[way], abs=0.5)


def test_the_table_says_for_every_size_that_it_has_no_source() -> None:
    assert {(row["source"], row["seen"]) for row in table("label_stock")} == {("common practice, no source", "memory")}
    assert len({row["name"] for row in table("label_stock")}) == len(table("label_stock"))


@given(GRIDS, SIZES, st.sampled_from(sorted(PAGES)))
def test_a_typed_sheet_fits_or_is_refused(grid: tuple[int, int], size: tuple[float, float], page: str) -> None:
    try:
        stock = label_stock(f"{page}, {grid[0]} x {grid[1]} of {size[0]:.2f} mm x {size[1]:.2f} mm")
    except BadStock:
        stock = None
    wide = zip(grid, (round(size[0], 2), round(size[1], 2)), PAGES[page], strict=True)
    # a label may stand over by 0.02 mm, so what fills the sheet to that is neither here nor there
    if stock is None:
        assert any(count * label > whole - DUST_MM for count, label, whole in wide)
        return
    assert inside(stock) and apart(stock)
    # in the middle: as much free on the left as on the right
    assert stock.first[0] == pytest.approx((stock.page[0] - grid[0] * stock.label[0]) / 2, abs=1e-5)


@given(GRIDS, SIZES, st.tuples(st.floats(0, 40), st.floats(0, 40)), st.tuples(st.floats(0, 60), st.floats(0, 60)))
def test_no_stock_that_is_made_leaves_its_sheet_or_overlaps(
    grid: tuple[int, int], size: tuple[float, float], first: tuple[float, float], more: tuple[float, float]
) -> None:
    try:
        stock = LabelStock("drawn", (210.0, 297.0), grid, size, first, (size[0] + more[0] - 30, size[1] + more[1] - 30))
    except BadStock:
        return
    assert inside(stock) and apart(stock)


def test_the_typed_form_is_read_in_inches_and_in_millimetres() -> None:
    stock = label_stock("Letter, 2 x 5 of 4 in x 2 in, from 5/32 in x 1/2 in, every 4 3/16 in x 2 in")
    known = label_stock("letter 4 x 2")
    assert (stock.page, stock.grid, stock.label, stock.pitch) == (known.page, known.grid, known.label, known.pitch)
    assert stock.first == pytest.approx(known.first)
    bare = label_stock("8 1/2 x 11, 2 x 4 of 4 x 2 1/2", "in")
    assert bare.page == (215.9, 279.4) and bare.label == (101.6, 63.5)
    assert label_stock("roll, 70 mm × 40 mm").page == (70.0, 40.0)


def test_rows_go_from_left_to_right_and_then_down() -> None:
    places = label_stock("a4 64 x 38").places()
    assert all((one.y, one.x) < (other.y, other.x) for one, other in pairwise(places))


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("postage", "no sheet or roll"),
        ("letter, 3 x 5 of 4 in x 2 in", "do not fit"),
        ("a4, 2 x 2 of 60 mm x 60 mm, every 50 mm x 60 mm", "over each other"),
        ("a4, 2 x 2 of 60 mm x 60 mm, from 100 mm x 10 mm", "reach"),
        ("a4, 0 x 2 of 60 mm x 60 mm", "no sheet has"),
    ],
)
def test_what_cannot_be_is_refused_with_a_sentence(typed: str, says: str) -> None:
    with pytest.raises(BadStock, match=says):
        label_stock(typed)
