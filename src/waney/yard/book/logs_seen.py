"""Logs as they stand: what is written of each, its plans and which one is chosen."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, Select, func, literal, select

from waney.yard.book import models, truth
from waney.yard.book.book import Book
from waney.yard.book.engine import plain_rows, reading
from waney.yard.names import OF_LOG, Name

MANY_LOGS = 100
"""logs from which on the plans of all are read sooner than theirs are looked for (ours)"""


@dataclass(frozen=True)
class LogStands:
    """A log: what is written of it, its last sheet, its plans (oldest first), which one is chosen. version: of its stream."""

    id: str
    name: str
    species: str
    felled_on: str
    spot: str
    ended: str
    sheet: str
    sheets: int
    plans: tuple[str, ...]
    chosen: str
    pieces: int
    version: int
    spot_called: str
    stem: str
    from_butt_m: float | None
    mass_kg: float | None
    arrived_at: str
    sealed_on: str
    money_cents: tuple[int, ...]
    """bad, likely and good of the chosen plan, else of the last; nothing where neither counts in money"""


_PLANS = select(models.plan.c.log, models.plan.c.id, models.plan.c.money_cents).order_by(models.plan.c.seq)
_OFF = (
    select(func.count())
    .where(models.piece.c.log == models.log.c.id, models.piece.c.taken_back_seq.is_(None))
    .correlate(models.log)
    .scalar_subquery()
)
LOGS = (
    select(
        models.log,
        models.sheet.c.text.label("sheet"),
        models.chosen.c.plan.label("chosen"),
        models.spot.c.called.label("spot_called"),
        truth.event.c.recorded_at.label("arrived_at"),
        models.head.c.version,
        _OFF.label("pieces"),
    )
    .join(models.sheet, (models.sheet.c.log == models.log.c.id) & (models.sheet.c.number == models.log.c.sheets))
    .join(models.head, models.head.c.stream == literal("log:").concat(models.log.c.id))
    .join(truth.event, truth.event.c.seq == models.log.c.seq)
    .outerjoin(models.chosen, models.chosen.c.log == models.log.c.id)
    .outerjoin(models.spot, models.spot.c.id == models.log.c.spot)
    .order_by(models.log.c.seq)
)


def logs(book: Book, in_yard: bool = False, log: str = "") -> tuple[LogStands, ...]:
    """Every log, or those that are still there, or one; oldest first. Two queries, however many logs."""
    asked = LOGS.where(models.log.c.ended == "") if in_yard else LOGS
    with reading(book.engine) as at:
        return logs_of(at, asked.where(models.log.c.id == log) if log else asked)


def logs_by_id(book: Book, ids: Iterable[str]) -> tuple[LogStands, ...]:
    """These logs, oldest first. Two queries."""
    wanted = list(dict.fromkeys(ids))
    with reading(book.engine) as at:
        return logs_of(at, LOGS.where(models.log.c.id.in_(wanted))) if wanted else ()


def logs_to_saw(book: Book, but: str, most: int) -> tuple[LogStands, ...]:
    """Logs in the yard of which a plan is chosen, oldest first, so many at most; but: the id of one that is left out."""
    planned = LOGS.where(models.log.c.ended == "", models.chosen.c.plan.is_not(None), models.log.c.id != but)
    with reading(book.engine) as at:
        return logs_of(at, planned.limit(most))


def logs_of(at: Connection, asked: Select[Any]) -> tuple[LogStands, ...]:
    """The logs that a narrowed query finds."""
    rows = plain_rows(at, asked)
    plans: dict[str, dict[str, str]] = {}
    narrow = _PLANS.where(models.plan.c.log.in_([row["id"] for row in rows])) if len(rows) < MANY_LOGS else _PLANS
    for log, ident, money in at.execute(narrow):
        plans.setdefault(log, {})[ident] = money
    return tuple(_log(row, plans.get(row["id"], {})) for row in rows)


def _log(row: dict[str, Any], plans: dict[str, str]) -> LogStands:
    """plans: their money as JSON, by their ids."""
    counts = row["chosen"] or next(reversed(plans), "")
    money = tuple(json.loads(plans[counts])) if counts in plans else ()
    return LogStands(
        id=row["id"],
        name=str(Name(row["code"], OF_LOG)),
        species=row["species"],
        felled_on=row["felled_on"],
        spot=row["spot"] or "",
        ended=row["ended"],
        sheet=row["sheet"],
        sheets=row["sheets"],
        plans=tuple(plans),
        chosen=row["chosen"] or "",
        pieces=row["pieces"],
        version=row["version"],
        spot_called=row["spot_called"] or "",
        stem=row["stem"] or "",
        from_butt_m=row["from_butt_m"],
        mass_kg=row["mass_kg"],
        arrived_at=row["arrived_at"],
        sealed_on=row["sealed_on"],
        money_cents=money,
    )
