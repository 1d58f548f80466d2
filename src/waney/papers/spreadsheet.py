"""Spreadsheet: a list as a file for spreadsheet programs."""

from __future__ import annotations

import io
from datetime import UTC, date, datetime

import xlsxwriter

from waney.papers.listing import Listing, Value


def spreadsheet(made: Listing, printed: date) -> bytes:
    """The list as a spreadsheet (Office Open XML): headings stay in sight, words are words. Same list and day, same bytes."""
    out = io.BytesIO()
    book = xlsxwriter.Workbook(out, {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False})
    book.set_properties({"title": made.title, "created": datetime(printed.year, printed.month, printed.day, tzinfo=UTC)})
    sheet = book.add_worksheet(_sheet_name(made.title))
    bold, day = book.add_format({"bold": True, "text_wrap": True, "bottom": 1}), book.add_format({"num_format": "yyyy-mm-dd"})
    for column, heading in enumerate(made.headings):
        sheet.write_string(0, column, heading, bold)
        sheet.set_column(column, column, _wide(made, column))
    for number, row in enumerate(made.rows, 1):
        for column, value in enumerate(row):
            _write(sheet, number, column, value, day)
    sheet.freeze_panes(1, 1)
    sheet.autofilter(0, 0, max(len(made.rows), 1), len(made.headings) - 1)
    sheet.repeat_rows(0)
    book.close()
    return out.getvalue()


def _write(sheet: xlsxwriter.worksheet.Worksheet, row: int, column: int, value: Value, day: xlsxwriter.format.Format) -> None:
    if isinstance(value, str):
        sheet.write_string(row, column, value)
    elif isinstance(value, date):
        sheet.write_datetime(row, column, datetime(value.year, value.month, value.day), day)
    elif value is not None:
        sheet.write_number(row, column, value)


def _sheet_name(title: str) -> str:
    """At most 31 characters, none of those that spreadsheet programs refuse, and not the word that some keep for themselves."""
    name = "".join(each for each in title if each not in "[]:*?/\\'")[:31]
    return "List" if name.lower() in ("", "history") else name


def _wide(made: Listing, column: int) -> int:
    longest = max((len(str(row[column])) for row in made.rows if row[column] is not None), default=0)
    return min(max(longest, max(map(len, made.headings[column].split()))) + 2, 48)
