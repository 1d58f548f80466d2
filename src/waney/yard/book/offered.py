"""Looking up trees that are offered, and stems that lie there."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Any

from sqlalchemy import RowMapping, Select, func, select

from waney.yard.book import models
from waney.yard.book.book import Book
from waney.yard.book.engine import reading
from waney.yard.problems import NotInBook


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
    how: str
    yard_tree: bool | None
    way_m: float | None
    hours: float | None
    photo: str
    girth_off: float | None = None
    small_end_off: float | None = None
    length_off: float | None = None
    girth_at_m: float | None = None
    taps: str = ""
    """_off: half of a size's 90 % range over the size, where it was told; taps: what was tapped on a photo last"""


@dataclass(frozen=True)
class StemStands:
    """A stem before it is cut to length, and the tree it came from, if that was offered."""

    id: str
    species: str
    length_m: float | None
    felled_on: str
    tree: TreeStands | None
    words: str = ""
    logs: int = 0
    """how many were cut from it"""


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


def tree_at(book: Book, ident: str) -> TreeStands:
    """The tree of an id. Raises NotInBook."""
    found = tree(book, ident)
    if found is None:
        raise NotInBook("No such tree was offered; look at the list of trees.")
    return found


def stem_at(book: Book, ident: str) -> StemStands:
    """The stem of an id. Raises NotInBook."""
    found = stem(book, ident)
    if found is None:
        raise NotInBook("No such stem lies there; look at the list of what is offered.")
    return found


def stem(book: Book, ident: str) -> StemStands | None:
    """One stem; None when there is none."""
    with reading(book.engine) as at:
        row = at.execute(_stems().where(models.stem.c.id == ident)).mappings().first()
    if row is None:
        return None
    return _stem(row, tree(book, row["tree"]) if row["tree"] else None)


def stems(book: Book) -> tuple[StemStands, ...]:
    """Every stem, oldest first; its tree's readings are asked for one by one (`stem`)."""
    with reading(book.engine) as at:
        return tuple(_stem(row, None) for row in at.execute(_stems().order_by(models.stem.c.seq)).mappings())


def stems_of(book: Book, tree: str) -> tuple[str, ...]:
    """The stems that came of a tree."""
    s = models.stem
    with reading(book.engine) as at:
        return tuple(at.execute(select(s.c.id).where(s.c.tree == tree).order_by(s.c.seq)).scalars())


def _stems() -> Select[Any]:
    """Stems, and how many logs were cut from each."""
    s, log = models.stem, models.log
    cut = select(func.count()).where(log.c.stem == s.c.id).correlate(s).scalar_subquery()
    return select(s, cut.label("logs"))


def _stem(row: RowMapping, own: TreeStands | None) -> StemStands:
    return StemStands(row["id"], row["species"], row["length_m"], row["felled_on"], own, row["words"], row["logs"])


def _trees() -> Select[Any]:
    """Trees with the version of their stream."""
    t, h = models.tree, models.head
    version = select(func.coalesce(func.max(h.c.version), 0)).where(h.c.stream == "tree:" + t.c.id).scalar_subquery()
    return select(t, version.label("version"))


def _tree(row: RowMapping) -> TreeStands:
    sizes = (row["girth_m"], row["small_end_m"], row["length_m"], row["asked_cents"])
    money = tuple(json.loads(row["money_cents"])) if row["money_cents"] else ()
    yard_tree = None if row["yard_tree"] is None else bool(row["yard_tree"])
    told = (row["id"], row["species"], *sizes, row["place"], row["words"], row["reply"], row["reason"], money, row["version"])
    off = (row["girth_off"], row["small_end_off"], row["length_off"], row["girth_at_m"], row["taps"])
    return TreeStands(*told, row["how"], yard_tree, row["way_m"], row["hours"], row["photo"] or "", *off)
