"""Looking up trees that are offered, and stems that lie there."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Any

from sqlalchemy import RowMapping, Select, func, select

from waney.yard.book import models
from waney.yard.book.book import Book
from waney.yard.book.engine import reading


@dataclass(frozen=True)
class TreeStands:
    """A tree as it was offered and answered. None, empty: not known. version: of its stream."""

    id: str
    species: str
    girth_m: float | None
    small_end_m: float | None
    length_m: float | None
    asked_cents: int | None
    where: str
    words: str
    reply: str
    reason: str
    money_cents: tuple[int, ...]
    version: int


@dataclass(frozen=True)
class StemStands:
    """A stem before it is cut to length, and the tree it came from, if that was offered."""

    id: str
    species: str
    length_m: float | None
    felled_on: str
    tree: TreeStands | None


def trees(book: Book, unanswered: bool = False) -> tuple[TreeStands, ...]:
    """Every tree that was offered, oldest first; or those that nobody answered yet."""
    t = models.tree
    asked = _trees().where(t.c.reply == "") if unanswered else _trees()
    with reading(book.engine) as at:
        return tuple(_tree(row) for row in at.execute(asked.order_by(t.c.seq)).mappings())


def tree(book: Book, ident: str) -> TreeStands | None:
    """One tree; None when there is none."""
    with reading(book.engine) as at:
        row = at.execute(_trees().where(models.tree.c.id == ident)).mappings().first()
    return None if row is None else _tree(row)


def stem(book: Book, ident: str) -> StemStands | None:
    """One stem; None when there is none."""
    s = models.stem
    with reading(book.engine) as at:
        row = at.execute(select(s).where(s.c.id == ident)).mappings().first()
    if row is None:
        return None
    own = tree(book, row["tree"]) if row["tree"] else None
    return StemStands(row["id"], row["species"], row["length_m"], row["felled_on"], own)


def _trees() -> Select[Any]:
    """Trees with the version of their stream."""
    t, h = models.tree, models.head
    version = select(func.coalesce(func.max(h.c.version), 0)).where(h.c.stream == "tree:" + t.c.id).scalar_subquery()
    return select(t, version.label("version"))


def _tree(row: RowMapping) -> TreeStands:
    sizes = (row["girth_m"], row["small_end_m"], row["length_m"], row["asked_cents"])
    money = tuple(json.loads(row["money_cents"])) if row["money_cents"] else ()
    return TreeStands(
        row["id"], row["species"], *sizes, row["place"], row["words"], row["reply"], row["reason"], money, row["version"]
    )
