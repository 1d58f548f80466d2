"""Whether a decision may be written: what was read still stands, and the book allows it."""

from __future__ import annotations

from sqlalchemy import Connection, func, select

from waney.yard.acts.base import Decision
from waney.yard.acts.logs import PlanChosen
from waney.yard.acts.mending import TaskSettled
from waney.yard.acts.pieces import NamesTaken
from waney.yard.book import models, truth
from waney.yard.commands import Command, Read
from waney.yard.problems import NotInBook, NotPossible, Since, Stale


def allow(at: Connection, command: Command) -> None:
    """Raises Stale, NotInBook, NotPossible for a decision that must not be written; facts always may."""
    if not isinstance(command.act, Decision):
        return
    for read in command.read:
        _still_as_read(at, command.device, read)
    for needed in command.act.needs():
        if at.execute(select(models.head.c.made).where(models.head.c.stream == needed)).scalar() != 1:
            raise NotInBook(f"{needed} is not in the book; send first what made it.")
    _possible(at, command.act)


def _still_as_read(at: Connection, device: str, read: Read) -> None:
    """Every event beyond the version read is the sender's own, up to the command it names."""
    e, t = truth.event, models.touched
    if read.after and at.execute(select(e.c.seq).where(e.c.device == device, e.c.count == read.after)).first() is None:
        raise NotInBook(f"Your command {read.after}, after which this was decided, is not in the book; send it first.")
    now = at.execute(select(func.coalesce(func.max(t.c.number), 0)).where(t.c.stream == read.stream)).scalar_one()
    if read.version > now:
        raise NotInBook(f"{read.stream} stands at number {now}; there is no number {read.version}. Look again, then decide.")
    told = (e.c.device, e.c.count.label("sent"), e.c.kind, e.c.person, e.c.recorded_at, t.c.number.label("place"))
    beyond = select(*told).join(t, t.c.seq == e.c.seq)
    beyond = beyond.where(t.c.stream == read.stream, t.c.number > read.version).order_by(t.c.number)
    rows = [row for row in at.execute(beyond) if row.device != device or row.sent > read.after]
    if rows:
        since = tuple(Since(read.stream, row.place, row.kind, row.person, row.recorded_at) for row in rows)
        raise Stale(read.stream, read.version, now, since)


def _possible(at: Connection, act: Decision) -> None:
    """What this kind of decision asks of the book."""
    if isinstance(act, PlanChosen):
        if at.execute(select(models.plan.c.log).where(models.plan.c.id == act.plan)).scalar() != act.log:
            raise NotPossible("This plan was made for another log; choose one of this log's plans.")
    elif isinstance(act, NamesTaken):
        free = at.execute(select(models.code.c.next_number).where(models.code.c.code == act.code)).scalar() or 1
        if act.first < free:
            raise NotPossible(f"Numbers of {act.code} are free from {free} on; take a block that begins there.")
    elif isinstance(act, TaskSettled):
        row = at.execute(select(models.task.c.settled_by).where(models.task.c.id == act.task)).first()
        if row is None or row.settled_by is not None:
            raise NotPossible(f"{act.task} is no open task; look at the list again.")
