"""Tally, boule map, piece history, crayon sheet: what is known is on them, in order, tagged, with the code in its corner."""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from datetime import date
from itertools import pairwise

import numpy as np
import pypdf
import pytest
from PIL import Image

from waney.papers.boule import BoulePiece, NoBoule, boule_map
from waney.papers.boule_planned import boule_map_of_plan
from waney.papers.cautions import cautions
from waney.papers.crayon import crayon_sheet
from waney.papers.history import Happened, Known, piece_history
from waney.papers.paper import Paper, Picture, Table, paper_pdf, paper_pictures
from waney.papers.subject import Subject
from waney.papers.tally import TallyLine, blank_lines, tally_sheet
from waney.papers.words import INCHES, METRIC, Shop, plain
from waney.yard.names import Name
from waney.yard.services.pictures import names_seen

from .conftest import INCH, Case
from .test_tags import alternatives

DAY = date(2026, 5, 4)
LOG = Name("AB", 0)
NAMES = tuple(Name("AB", number) for number in range(1, 13))
PIECES = tuple(BoulePiece(str(name), (2 + i % 2) * INCH, 12 * INCH, 14 * INCH) for i, name in enumerate(NAMES))
LINES = tuple(TallyLine(str(name), "black walnut", 2.125 * INCH, 14 * INCH, 12.03 * INCH, 2.6, 0.04) for name in NAMES)


def a_tally(shop: Shop = INCHES) -> Paper:
    return tally_sheet(str(LOG), "black walnut", LINES, shop, DAY)


def a_blank() -> Paper:
    return tally_sheet(str(LOG), "black walnut", blank_lines([str(name) for name in NAMES]), METRIC, DAY)


def a_boule() -> Paper:
    return boule_map(str(LOG), "black walnut", PIECES, INCHES, DAY)


def a_history() -> Paper:
    known = (Known("thickness, green", INCHES.have(2.125 * INCH)), Known("weight", None))
    happened = (Happened(date(2026, 4, 2), "Sawn from #AB-0-L *first*", "Ann"), Happened(None, "Moved to the east shed"))
    return piece_history(str(NAMES[0]), "black walnut", known, happened, INCHES, DAY)


MADE: dict[str, Callable[[], Paper]] = {"tally": a_tally, "blank tally": a_blank, "boule map": a_boule, "history": a_history}


def tables(made: Paper) -> list[Table]:
    return [part for part in made.parts if isinstance(part, Table)]


def cells(made: Paper) -> list[list[str]]:
    """The rows of the last table as plain text."""
    return [[plain(words) for words in row] for row in tables(made)[-1].rows]


@pytest.mark.parametrize("kind", MADE)
def test_a_paper_is_a_tagged_pdf_with_its_name_day_and_page_on_every_page(kind: str) -> None:
    made = MADE[kind]()
    content = paper_pdf(made, DAY)
    assert content == paper_pdf(made, DAY)
    document = pypdf.PdfReader(io.BytesIO(content))
    root = document.trailer["/Root"].get_object()
    assert root["/MarkInfo"]["/Marked"] and "/StructTreeRoot" in root
    for number, page in enumerate(document.pages, 1):
        words = page.extract_text()
        assert made.name in words and "printed 4 May 2026" in words
        assert f"page {number} of {len(document.pages)}" in words
    pictures = [part for part in made.parts if isinstance(part, Picture)]
    assert all(picture.shows in alternatives(document) for picture in pictures)


@pytest.mark.parametrize("kind", MADE)
def test_the_code_stands_in_the_same_corner_of_every_page(kind: str) -> None:
    for picture in paper_pictures(MADE[kind](), DAY):
        (seen,) = names_seen(picture)
        assert str(seen.name) == MADE[kind]().name
        assert seen.x == pytest.approx(0.86, abs=0.02) and seen.y == pytest.approx(0.09, abs=0.02)


@pytest.mark.parametrize("kind", MADE)
def test_nothing_but_ink_on_white(kind: str) -> None:
    """Lines and letters are black: what is grey is the edge of a letter, and few dots are that."""
    for picture in paper_pictures(MADE[kind](), DAY, 300.0):
        seen = np.array(Image.open(io.BytesIO(picture)).convert("L"))
        inked = seen < 250
        assert (seen[inked] < 100).mean() > 0.6


def test_a_paper_without_a_name_of_the_yard_has_no_code(half_turn: Case) -> None:
    made = crayon_sheet(Subject(half_turn.plan, half_turn.shape, half_turn.mill, INCHES), "plan A", DAY)
    assert made.code is None
    assert not any(names_seen(picture) for picture in paper_pictures(made, DAY, 80.0))


def test_words_are_never_read_as_markup() -> None:
    words = pypdf.PdfReader(io.BytesIO(paper_pdf(a_history(), DAY))).pages[0].extract_text()
    assert "#AB-0-L" in words and "*first*" in words


def test_a_filled_tally_prints_sizes_that_are_there_rounded_down() -> None:
    first = cells(a_tally())[0]
    # 12.03 in is 12 in and less than 1/16; 2.6 m are 102.36 in: 8 ft 6 3/8 in less than another eighth
    assert first == [str(NAMES[0]), "2 1/8 in", "14 in", "12 in", "8' 6 1/4\"", ""]
    assert cells(a_tally(METRIC))[0] == [str(NAMES[0]), "53 mm", "355 mm", "305 mm", "2600 mm", ""]


def test_a_blank_tally_has_the_names_ahead_and_room_for_a_pencil() -> None:
    rows = cells(a_blank())
    assert [row[0] for row in rows[:13]] == [*map(str, NAMES), ""]
    assert not any("".join(row[1:]) for row in rows)
    assert len(rows) == 30 and tables(a_blank())[-1].tall_mm >= 10


@pytest.mark.parametrize(
    ("kind", "steps"),
    [("tally", ("heavy piece", "at the blade")), ("boule map", ("stack", "straps")), ("history", ("sale",))],
)
def test_a_paper_carries_its_cautions(kind: str, steps: tuple[str, ...]) -> None:
    words = " ".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(paper_pdf(MADE[kind](), DAY))).pages)
    for caution in cautions(*steps):
        assert re.sub(r"\s", "", caution.sentence) in re.sub(r"\s", "", words)


def drawn(made: Paper) -> list[tuple[float, str]]:
    """Words of the drawings with their heights on the sheet, in the order drawn."""
    svg = "".join(part.svg for part in made.parts if isinstance(part, Picture))
    return [(float(y), words) for y, words in re.findall(r'<text x="[^"]*" y="([^"]*)"[^>]*>([^<]*)</text>', svg)]


@pytest.mark.parametrize("count", [1, 2, 12, 40])
@pytest.mark.parametrize("width", [None, 0.3])
def test_a_boule_map_has_every_name_once_from_the_top_down_and_none_on_another(count: int, width: float | None) -> None:
    pieces = [BoulePiece(str(Name("AB", i)), (0.02, 0.06)[i % 2], width, width) for i in range(1, count + 1)]
    made = boule_map(str(LOG), "", pieces, METRIC, DAY)
    written = [(y, words) for y, words in drawn(made) if words in {piece.name for piece in pieces}]
    assert [words for _, words in written] == [piece.name for piece in pieces]
    heights = [y for y, _ in written]
    assert all(below - above > 6 or below < above for above, below in pairwise(heights))  # a new drawing begins at its top
    assert [row[:3] for row in cells(made)] == [
        [str(i), piece.name, str(METRIC.have(piece.thickness_m))] for i, piece in enumerate(pieces, 1)
    ]


def test_pieces_of_a_boule_map_stand_on_each_other_to_one_scale() -> None:
    made = boule_map(str(LOG), "", PIECES, METRIC, DAY)
    (picture,) = [part for part in made.parts if isinstance(part, Picture)]
    strokes = re.findall(r'<path d="M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)"[^>]*stroke-width="0.8"', picture.svg)
    across = sorted({(float(y0), round(float(x1) - float(x0), 1)) for x0, y0, x1, y1 in strokes if y0 == y1})
    tops = sorted({y for y, _ in across})
    steps = np.diff(tops)
    scale = steps[0] / 2  # mm for an inch: the first piece is 2 in
    assert steps == pytest.approx([scale * (2 + i % 2) for i in range(12)], abs=0.03)
    assert sorted({wide for _, wide in across}) == pytest.approx([12 * scale, 14 * scale], abs=0.2)


def test_a_boule_without_pieces_or_thickness_is_refused() -> None:
    with pytest.raises(NoBoule):
        boule_map("AB-0-L", "", [], INCHES, DAY)
    with pytest.raises(NoBoule):
        boule_map("AB-0-L", "", [BoulePiece("AB-1-J", 0.0)], INCHES, DAY)


def test_a_planned_boule_has_every_kept_piece_in_the_order_it_comes_off(half_turn: Case) -> None:
    subject = Subject(half_turn.plan, half_turn.shape, half_turn.mill, INCHES)
    made = boule_map_of_plan(subject, "plan A", DAY)
    kept = [planned.piece.name for planned in half_turn.plan.pieces if subject.kept(planned.piece.name)]
    assert [row[1] for row in cells(made)] == kept
    words = [words for _, words in drawn(made)]
    assert all(subject.short(name) in words for name in kept)


def test_the_crayon_sheet_says_where_the_line_goes_and_what_to_write(through: Case) -> None:
    subject = Subject(through.plan, through.shape, through.mill, INCHES)
    made = crayon_sheet(subject, "plan A", DAY)
    words = paper_words(made)
    # rolled by 70 degrees clockwise seen from the butt: what was 70 degrees short of 12, at 9:40, goes up
    assert "to 9:40." in words and "WriteW12." in words.replace(" ", "")
    assert [row[1] for row in cells(made)] == [p.piece.name for p in through.plan.pieces if subject.kept(p.piece.name)]
    assert "metal" in [said for _, said in drawn(made)]


def paper_words(made: Paper) -> str:
    document = pypdf.PdfReader(io.BytesIO(paper_pdf(made, DAY)))
    return " ".join(" ".join(page.extract_text() for page in document.pages).split())


def test_what_nobody_knows_is_said_to_be_not_known() -> None:
    facts, events = tables(a_history())
    assert [plain(words) for words in facts.rows[1]] == ["weight", "not known"]
    assert [plain(words) for words in events.rows[1]] == ["not known", "Moved to the east shed", ""]
    assert "Nothing is written down." in paper_words(piece_history("AB-1-J", "oak", (), (), INCHES, DAY))
