"""What every read model is made of: one list of tables, and columns as this book writes them."""

from __future__ import annotations

from sqlalchemy import CheckConstraint, Column, Double, ForeignKey, Index, Integer, MetaData, Table, Text, UniqueConstraint, text
from sqlalchemy.types import REAL, TypeEngine

from waney.yard.book.truth import WHOLE

MODELS = MetaData()
SIZE: TypeEngine[float] = Double().with_variant(REAL, "sqlite")
"""metres, kilograms"""


def table(name: str, *parts: Column[object] | UniqueConstraint | Index) -> Table:
    """A read model."""
    return Table(name, MODELS, *parts, sqlite_strict=True)


def ident() -> Column[object]:
    """The id of a thing."""
    return Column("id", Text, CheckConstraint("length(id) = 36"), primary_key=True)


def number(name: str = "seq", may_be_missing: bool = False) -> Column[object]:
    """The number of an event."""
    return Column(name, WHOLE, nullable=may_be_missing)


def words(name: str) -> Column[object]:
    """A text, empty where there is none."""
    return Column(name, Text, nullable=False)


def to(name: str, other: str) -> Column[object]:
    """A reference that may be missing."""
    return Column(name, Text, ForeignKey(other), index=True)


def of_those_there(name: str, *columns: str) -> Index:
    """An index of what was not taken back, in SQLite; elsewhere of all. As a first column that would look choosier than a log
    or a day, and is not. (What PostgreSQL is told of an index loads all that SQLAlchemy has for it, in every yard.)"""
    there = text("taken_back_seq IS NULL")
    return Index(name, *columns, sqlite_where=there)


def yes_no(name: str, may_be_missing: bool = False) -> Column[object]:
    """1 or 0."""
    return Column(name, Integer, CheckConstraint(f"{name} IN (0, 1)"), nullable=may_be_missing)
