"""The printed target: its marks lie where the core says, black and white, on both papers, and the page can be printed."""

from __future__ import annotations

from datetime import date
from io import BytesIO

import numpy as np
import pytest
from PIL import Image
from pypdf import PdfReader

from waney.papers.target import PAGES_MM, target_pdf, target_picture
from waney.papers.words import INCHES, METRIC, Shop
from waney.pieces.photo.refine import drawn_to_mark
from waney.pieces.photo.target import LONG_ROW_M, MARK_RADIUS_M, PITCH_M, marks_m

DAY = date(2026, 11, 26)
DPI = 144.0


@pytest.mark.parametrize("shop", [INCHES, METRIC], ids=lambda shop: shop.paper)
def test_the_marks_are_printed_where_the_core_takes_them_to_be(shop: Shop) -> None:
    grey = np.asarray(Image.open(BytesIO(target_picture(shop, DAY, DPI))).convert("L"), dtype=np.float64)
    wide, high = PAGES_MM[shop.paper]
    dots = DPI / 25.4
    assert grey.shape == pytest.approx((high * dots, wide * dots), abs=1.0)
    corner = np.array([(wide / 1000 - 2 * PITCH_M) / 2, (high / 1000 + LONG_ROW_M) / 2])
    for x, y in marks_m():
        at = (corner + np.array([x, -y])) * 1000 * dots - 0.5  # the middle of a dot lies at its whole number
        found = drawn_to_mark(grey, (float(at[0] + 2), float(at[1] - 1)), MARK_RADIUS_M * 1000 * dots)
        assert found is not None
        # the typesetter's pictures lay edges on whole dots: half a dot up or down, a tenth of a millimetre
        assert np.hypot(*(np.array(found) - at)) < 0.7


@pytest.mark.parametrize("shop", [INCHES, METRIC], ids=lambda shop: shop.paper)
def test_the_sheet_is_one_page_with_margins_that_printers_can_print(shop: Shop) -> None:
    pages = PdfReader(BytesIO(target_pdf(shop, DAY))).pages
    assert len(pages) == 1
    for side, of in zip(PAGES_MM[shop.paper], (2 * PITCH_M, LONG_ROW_M), strict=True):
        assert (side - 1000 * (of + 2 * MARK_RADIUS_M)) / 2 > 10.0
