"""Lists: what goes out as CSV or spreadsheet comes back the same, numbers are numbers, and no cell of words is a formula."""

from __future__ import annotations

import csv
import io
from datetime import date

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl.worksheet.worksheet import Worksheet

from waney.papers.listing import Field, Listing, Value, csv_text, guarded, length, listing, size, unguarded
from waney.papers.lists import LogLine, PieceLine, logs_list, pieces_list
from waney.papers.spreadsheet import spreadsheet
from waney.papers.words import INCHES, METRIC, Shop

DAY = date(2026, 5, 4)
EVIL = (
    "=1+1",
    "+1",
    "-1",
    "@SUM(A1)",
    "\t=1+1",
    "\r=1+1",
    "\n=1+1",
    '=HYPERLINK("x")',
    "  =1+1",
    "＝1+1",
    "'=1+1",
    "=cmd|' /C x'!A0",
)
WORDS = st.one_of(st.sampled_from(EVIL), st.text(st.characters(codec="utf-8", exclude_categories=("Cs", "Cc")), max_size=20))
PIECE = PieceLine(
    *(
        "AB-12-P",
        "black walnut",
        "AB-0-L",
        "stacked",
        2.14 * 0.0254,
        0.31,
        0.37,
        2.6,
        0.0472,
        31.4159,
        0.3,
        0.5,
        0.42,
        "east shed",
    ),
    DAY,
    "=1+1",
)


def read_csv(text: str) -> list[list[str]]:
    return list(csv.reader(io.StringIO(text, newline="")))


def opened(content: bytes) -> Worksheet:
    sheet = openpyxl.load_workbook(io.BytesIO(content)).active
    assert isinstance(sheet, Worksheet)
    return sheet


@given(st.lists(st.tuples(WORDS, st.floats(-1e9, 1e9), st.dates()), max_size=8))
def test_a_list_comes_back_from_csv_as_it_went_out(rows: list[tuple[str, float, date]]) -> None:
    made = Listing("t", ("words", "number [mm]", "day"), tuple(rows))
    header, *back = read_csv(csv_text(made))
    assert tuple(header) == made.headings
    assert [(unguarded(words), float(number), date.fromisoformat(day)) for words, number, day in back] == rows


@given(WORDS)
def test_no_cell_of_words_begins_like_a_formula(words: str) -> None:
    written = guarded(words)
    assert unguarded(written) == words
    assert not written.lstrip(" ").startswith(("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠"))


@pytest.mark.parametrize("words", EVIL)
def test_a_spreadsheet_takes_no_words_for_a_formula(words: str) -> None:
    sheet = opened(spreadsheet(Listing("t", ("a",), ((words,),)), DAY))
    cell = sheet["A2"]
    assert cell.data_type == "s"
    # a carriage return is kept as the format's own escape, all else to the letter
    assert str(cell.value).replace("_x000D_", "\r").strip("\r\n") == words.strip("\r\n")


def test_a_minus_before_a_number_stays_a_number() -> None:
    rows: tuple[tuple[Value, ...], ...] = ((-2.5, "-2.5"),)
    assert read_csv(csv_text(Listing("t", ("a", "b"), rows)))[1] == ["-2.5", "'-2.5"]
    sheet = opened(spreadsheet(Listing("t", ("a", "b"), rows), DAY))
    assert (sheet["A2"].value, sheet["A2"].data_type, sheet["B2"].value) == (-2.5, "n", "-2.5")


@pytest.mark.parametrize(
    ("shop", "units", "figures"),
    [
        # 2.14 in is 2 1/8 in and less than 1/16; 0.37 m 14.567 in, 0.31 m 12.205 in; 2.6 m 102.36 in, so 102 1/4 in
        # or 8.520833 ft;
        # 0.0472 m3 / 0.002359737 m3 is 20.00 board feet; 31.4159 kg / 0.45359237 is 69.26 lb
        (INCHES, ("in", "ft", "board feet", "lb"), (2.125, 12.1875, 14.5625, 8.520833, 20.0, 69.26, 30.0, 50.0, 42.0)),
        # 2.14 in is 54.356 mm
        (METRIC, ("mm", "m", "m3", "kg"), (54.0, 310.0, 370.0, 2.6, 0.0472, 31.42, 30.0, 50.0, 42.0)),
    ],
)
def test_pieces_are_listed_in_the_units_of_the_shop(shop: Shop, units: tuple[str, ...], figures: tuple[float, ...]) -> None:
    made = pieces_list([PIECE], shop)
    small, long, volume, mass = units
    assert made.headings[4:13] == (
        *(f"thickness [{small}]", f"width at narrowest [{small}]", f"width at widest [{small}]", f"length [{long}]"),
        *(f"volume by the middle of both widths [{volume}]", f"weight [{mass}]", "moisture of shell [% of dry mass]"),
        *("moisture of core [% of dry mass]", "moisture, depth not told [% of dry mass]"),
    )
    assert made.rows[0][4:13] == pytest.approx(figures, abs=1e-6)
    sheet = opened(spreadsheet(made, DAY))
    row = next(sheet.iter_rows(min_row=2))
    assert [cell.data_type for cell in row] == [*"ssss", *"nnnnnnnnn", "s", "d", "s"]
    assert row[15].value == "=1+1"
    assert [cell.value for cell in next(sheet.iter_rows())] == list(made.headings)


def test_what_is_not_known_stays_empty() -> None:
    for made in (pieces_list([PieceLine("AB-1-J", "oak")], INCHES), logs_list([LogLine("AB-0-L", "oak")], METRIC)):
        filled = [heading for heading, value in zip(made.headings, made.rows[0], strict=True) if value not in (None, "")]
        assert filled == ["name", "species"]
        assert "nan" not in csv_text(made).lower() and "None" not in csv_text(made)
        opened(spreadsheet(made, DAY))


def test_logs_have_their_own_columns() -> None:
    logs = logs_list([LogLine("AB-0-L", "oak", 0.5, 0.4, 3.0, 0.48, 500.0, DAY, "yard", "")], METRIC)
    assert logs.rows[0] == ("AB-0-L", "oak", 500.0, 400.0, 3.0, 0.48, 500.0, DAY, "yard", "")


@given(st.floats(0, 30))
def test_a_size_that_is_listed_is_there_and_both_views_agree(metres: float) -> None:
    inches, millimetres = size(metres, INCHES), size(metres, METRIC)
    assert inches is not None and millimetres is not None
    assert -1e-9 <= metres - inches * 0.0254 < 0.0254 / 16
    assert -1e-9 <= metres * 1000 - millimetres < 1
    feet = length(metres, INCHES)
    assert feet is not None
    assert -1e-6 <= metres - feet * 0.3048 < 0.0254 / 8 + 1e-6


def test_the_same_list_and_day_give_the_same_bytes() -> None:
    made = pieces_list([PIECE], METRIC)
    assert spreadsheet(made, DAY) == spreadsheet(made, DAY)


@pytest.mark.parametrize("title", ["", "a/b:c*?[x]", "x" * 40, "'quoted'", "History"])
def test_any_title_gives_a_spreadsheet_that_opens(title: str) -> None:
    made = listing(title, [Field[str]("name", lambda row: row)], ["AB-1-J"])
    sheet = opened(spreadsheet(made, DAY))
    assert sheet["A2"].value == "AB-1-J"
    assert 1 <= len(sheet.title) <= 31 and sheet.title != "History"


def test_an_empty_list_still_has_its_headings() -> None:
    made = pieces_list([], INCHES)
    assert read_csv(csv_text(made)) == [list(made.headings)]
    assert opened(spreadsheet(made, DAY)).max_row == 1
