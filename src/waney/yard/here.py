"""Days here: the book keeps moments; what people say and read are days of the place where this machine's clock goes."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta


def day_here(moment: str | datetime) -> date:
    """The day here of a moment; one that names no zone is of here."""
    return (datetime.fromisoformat(moment) if isinstance(moment, str) else moment).astimezone().date()


def end_of(day: date) -> datetime:
    """The moment in UTC at which a day is over here."""
    return datetime.combine(day + timedelta(1), time()).astimezone(UTC)
