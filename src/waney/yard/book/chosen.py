"""The plan that a log is sawn by."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import select

from waney.yard.book import models
from waney.yard.book.book import Book
from waney.yard.book.engine import reading


@dataclass(frozen=True)
class ChosenPlan:
    """A chosen plan: its id, its file by SHA-256, the sheet of the log that it was made for."""

    id: str
    file: str
    pattern: str
    sheet_number: int


def chosen_plan(book: Book, log: str) -> ChosenPlan | None:
    """The plan chosen for a log; None while none is."""
    c, p = models.chosen, models.plan
    asked = select(p.c.id, p.c.file, p.c.pattern, p.c.sheet_number).join(c, c.c.plan == p.c.id).where(c.c.log == log)
    with reading(book.engine) as at:
        row = at.execute(asked).first()
    return None if row is None else ChosenPlan(row.id, row.file, row.pattern, row.sheet_number)
