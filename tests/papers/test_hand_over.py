"""Hand-over sheet, load sheet, end of load: what is known is on them, what is not is left or said, the file needs no other."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from datetime import date
from html.parser import HTMLParser

import pypdf
import pytest
from PIL import Image

from waney.papers.hand_over import Handed, HandOver, hand_over_file, hand_over_sheet, wishes
from waney.papers.load_sheets import InLoad, LoadOf, end_sheet, load_sheet
from waney.papers.paper import Paper, Picture, paper_pdf
from waney.papers.words import INCHES, METRIC

DAY = date(2026, 5, 4)
SIDES = "bark off, ends bare"
OAK = Handed("AB-1-Y", "white oak", "Ann", 0.054, 2.4, 41.0, "core 22 %; pin meter", "butt end", "", "", 0.07, 0.08, 60.0)
BARE = Handed("AB-2-W", "<oak> & co", heat_treat=True)


def photo() -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (64, 40), (120, 90, 60)).save(out, "JPEG")
    return out.getvalue()


def load_over(*pieces: Handed) -> HandOver:
    return HandOver("Alder Hollow", "plate kiln", "Bo", DAY, pieces, "a sum for the load", "thick ones in the middle")


def words(made: Paper) -> str:
    return " ".join(" ".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(paper_pdf(made, DAY))).pages).split())


def test_the_sheet_says_what_is_known_and_has_room_for_the_rest() -> None:
    made = hand_over_sheet(load_over(replace(OAK, photo=photo(), sides=SIDES), BARE), INCHES, DAY)
    said = words(made)
    for each in (
        "AB-1-Y",
        "white oak, Ann",
        "core 22 %",
        SIDES,
        "butt end",
        "7 %",
        "8 %",
        "140 °F",
        "yes, with a core record",
        "a sum for",
    ):
        assert each in said
    assert said.count("Handed over by") == said.count("Taken over by") == 1 and "When it comes back" in said
    assert [part.shows for part in made.parts if isinstance(part, Picture)] == ["Photos of AB-1-Y"]
    assert b"/StructTreeRoot" in paper_pdf(made, DAY)


def test_every_wish_stands_once_with_its_pieces() -> None:
    assert wishes([OAK, replace(OAK, name="AB-3-U")], METRIC) == (("all pieces", "7 %", "8 %", "60 °C", "not asked for"),)
    assert [wish[0] for wish in wishes([OAK, BARE, replace(OAK, name="AB-3-U")], METRIC)] == ["AB-1-Y, AB-3-U", "AB-2-W"]


def test_the_file_needs_nothing_else_and_reads_nothing_as_markup() -> None:
    text = hand_over_file(load_over(replace(OAK, photo=photo(), sides=SIDES), BARE), METRIC)
    assert SIDES in text
    assert not re.search(r"<script|https?:|<link|@import|url\(", text) and text.count("data:image/jpeg") == 1
    assert "&lt;oak&gt; &amp; co" in text and "<oak>" not in text and "not known" in text
    tags: list[str] = []

    class Balanced(HTMLParser):
        def handle_starttag(self, tag: str, attrs: object) -> None:
            tags.extend([tag] if tag not in ("meta", "img") else [])

        def handle_endtag(self, tag: str) -> None:
            assert tags.pop() == tag

    Balanced().feed(text)
    assert tags == []


def cells_of(text: str) -> list[list[str]]:
    """The rows of all tables of the file, by their words."""
    rows = re.findall(r"<tr>(.*?)</tr>", text)
    return [re.findall(r"<td>(.*?)</td>", row) for row in rows if "<td>" in row]


def test_the_file_says_whose_wood_is_and_that_an_open_wish_is_to_be_asked_about() -> None:
    own, theirs, _, wished = cells_of(hand_over_file(load_over(BARE, OAK), METRIC))[:4]
    assert (own[2], theirs[2]) == ("Alder Hollow", "Ann"), "whom nobody names, the shop: it hands over"
    assert wished == ["AB-1-Y", "7 %", "8 %", "60 °C", "not asked for"]
    asked = "not told: ask before it is done"
    assert cells_of(hand_over_file(load_over(BARE), METRIC))[1] == ["all pieces", asked, asked, asked, "yes, with a core record"]


@pytest.mark.parametrize("shop", [INCHES, METRIC])
def test_an_owner_reads_what_came_out_and_what_is_owed(shop: object) -> None:
    piece = InLoad("AB-1-Y", "white oak", 0.054, 2.4, 41.0, "22 %", 0.07, 0.08, 36.0, "", "ready: core 8 %", "cupped", "$12.00")
    load = LoadOf("plate kiln, Bo", "Ann", DAY, (piece,), DAY, 12.0, "no", "", "$30.00", "$12.00", "By volume.")
    said = words(end_sheet(load, shop, DAY))  # type: ignore[arg-type]
    for each in ("Ann: $12.00 of $30.00", "12 days in the kiln", "Heat treated: no", "ready: core 8 %", "cupped", "By volume."):
        assert each in said
    bare = words(end_sheet(LoadOf("kiln", "our own", DAY, (InLoad("AB-2-W", "oak"),)), shop, DAY))  # type: ignore[arg-type]
    for each in (
        "not all out yet",
        "days in the kiln not known",
        "Heat treated: not known",
        "Fee: not known",
        "No damage was told",
    ):
        assert each in bare
    assert "shell 7 %, core 8 %" in words(load_sheet(load, shop, DAY))  # type: ignore[arg-type]
