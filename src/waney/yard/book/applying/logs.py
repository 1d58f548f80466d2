"""Logs and their plans."""

from __future__ import annotations

from waney.yard.acts.logs import EndsSealed, LogArrived, LogEnded, LogMeasured, PlanChosen, PlanMade
from waney.yard.book import models
from waney.yard.book.applying.pen import Contradicts, Pen, TaskKind, begin_code, free_code
from waney.yard.book.truth import Event, packed
from waney.yard.names import OF_LOG, Name

_STANDS = {"ended": "", "ended_seq": None}


def log_arrived(pen: Pen, event: Event, act: LogArrived) -> None:
    """A log with its first sheet."""
    code = _code_for_log(pen, event, act.code)
    about = {"code": code, "species": act.species, "felled_on": act.felled_on, "spot": act.spot or None}
    cut = {"stem": act.stem or None, "from_butt_m": act.from_butt_m}
    pen.insert(models.log, id=act.log, **about, **cut, sheets=0, mass_kg=None, sealed_on="", **_STANDS, seq=event.seq)
    _add_sheet(pen, event, act.log, 1, act.sheet, act.scan)


def _code_for_log(pen: Pen, event: Event, wanted: str) -> str:
    """The wanted code, or the next free one; a code that already stands on tags without a log may get its log."""
    code = wanted or free_code(pen)
    others = pen.shelf.find(models.log, code=code)
    if others:
        clash, code = Name(code, OF_LOG), free_code(pen)
        words = f"{clash} stands on two logs; the later one is {Name(code, OF_LOG)} now: write its tag again."
        pen.open_task(TaskKind.RETAG, event, words, others[0]["seq"])
    begin_code(pen, code)
    pen.change(models.code, code, shed=0)
    return code


def log_measured(pen: Pen, event: Event, act: LogMeasured) -> None:
    """One more sheet; the last one says the species."""
    number = pen.row(models.log, act.log).sheets + 1
    pen.change(models.log, act.log, species=act.species)
    _add_sheet(pen, event, act.log, number, act.sheet, act.scan)


def _add_sheet(pen: Pen, event: Event, log: str, number: int, text: str, scan: str) -> None:
    pen.insert(models.sheet, log=log, number=number, text=text, scan=scan, seq=event.seq)
    pen.change(models.log, log, sheets=number)


def ends_sealed(pen: Pen, event: Event, act: EndsSealed) -> None:
    """Coated ends; what was told last is so."""
    pen.change(models.log, act.log, sealed_on=(act.on or event.happened_at[:10]) if act.sealed else "")


def log_ended(pen: Pen, event: Event, act: LogEnded) -> None:
    """No more; two different ends cannot both be so."""
    row = pen.row(models.log, act.log)
    if row.ended and row.ended != act.how and not pen.believed:
        raise Contradicts(row.ended_seq, f"The log is said to be {row.ended}, and to be {act.how}.")
    if not row.ended or pen.believed:
        pen.change(models.log, act.log, ended=str(act.how), ended_seq=event.seq)


def plan_made(pen: Pen, event: Event, act: PlanMade) -> None:
    """A plan; all of them are kept."""
    about = {"log": act.log, "sheet_number": act.sheet_number, "file": act.file, "pattern": act.pattern}
    told = {"pieces": act.pieces, "written_by": act.written_by, "money_cents": packed(act.money_cents)}
    pen.insert(models.plan, id=act.plan, **about, **told, seq=event.seq)


def plan_chosen(pen: Pen, event: Event, act: PlanChosen) -> None:
    """The plan to saw by."""
    pen.insert(models.chosen, log=act.log, plan=act.plan, seq=event.seq)
