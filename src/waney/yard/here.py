"""The place of the shop: the book keeps moments; what people type and read are days and times where this machine's clock goes."""

from __future__ import annotations

from datetime import date, datetime


def here(moment: str | datetime) -> datetime:
    """A moment by the clock here; one that names no zone is of here."""
    return (datetime.fromisoformat(moment) if isinstance(moment, str) else moment).astimezone()


def day_here(moment: str | datetime) -> date:
    """The day here of a moment."""
    return here(moment).date()


def clock_here(moment: str) -> str:
    """Day and time here, to the minute: 2026-05-04 21:30."""
    return here(moment).isoformat(" ", "minutes")[:16]


def kept(moment: datetime) -> str:
    """As the book keeps it: a moment with the distance from UTC that the clock has here, so that its day here can be read off it
    on any machine."""
    return here(moment).isoformat(timespec="milliseconds")
