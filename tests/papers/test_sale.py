"""Sale sheet: all that is known stands on it under its rule and day, what is not is said, and no picture or price is made up."""

from __future__ import annotations

import io
from datetime import date

import pypdf
from PIL import Image

from waney.papers.history import Known
from waney.papers.paper import Paper, Picture, paper_pdf
from waney.papers.sale import CARE, AsItLies, ForSale, Width, sale_sheet
from waney.papers.words import INCHES, METRIC

DAY = date(2026, 5, 4)
SIZES = (Known("thickness, as sawn, green", INCHES.read(0.054)), Known("length", INCHES.long(2.4384)))
STATE = (Known("moisture, core", "8 %; pin meter, 3 May 2026"), Known("heat treated", "no"))
STORY = (Known("felled", "2 September 2023"), Known("grew at", None))
LIES = AsItLies("3 May 2026", (("Upper face", "9.5 sq ft"),), (Width("narrow face", "14 1/2 in", "9", "19.33"),))


def words(made: Paper) -> str:
    return " ".join(" ".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(paper_pdf(made, DAY))).pages).split())


def test_what_is_known_of_a_piece_stands_on_its_sale_sheet() -> None:
    out = io.BytesIO()
    Image.new("RGB", (64, 40), (120, 90, 60)).save(out, "JPEG")
    piece = ForSale("AB-1-Y", "white oak (Quercus alba)", SIZES, STATE, STORY, "$400.00", LIES, out.getvalue())
    made = sale_sheet(piece, INCHES, DAY)
    said = words(made)
    for each in (
        *("AB-1-Y", "white oak (Quercus alba)", "$400.00 before tax", "as sawn, green", "Not graded for building."),
        *("8 %; pin meter, 3 May 2026", "Measured as it lies, 3 May 2026", "narrow face 14 1/2 in 9 19.33", "2 September 2023"),
        *("Wood dust can cause cancer", "grew at not known", *CARE),
    ):
        assert each in said
    assert [part.shows for part in made.parts if isinstance(part, Picture)] == ["Photo of AB-1-Y, dry"]
    assert b"/StructTreeRoot" in paper_pdf(made, DAY)


def test_a_sheet_of_which_nothing_is_known_has_no_price_no_photo_and_no_rule() -> None:
    made = sale_sheet(ForSale("AB-2-W", "wood not known", (Known("length", None),), (), ()), METRIC, DAY)
    said = words(made)
    assert "length not known" in said and "Not graded for building." in said
    assert "before tax" not in said and "by rule" not in said
    assert not [part for part in made.parts if isinstance(part, Picture)]
