"""Somebody's logs quoted three ways: what is asked of a worker, and what it answers, as it is written."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class CustomQuoteAsked:
    """logs: name and sheet; terms: the sheet; paces, yields: the shop's own record, one a log."""

    logs: tuple[tuple[str, str], ...]
    terms: str
    way_km: float
    way_hours: float
    paces: tuple[float, ...]
    yields: tuple[float, ...]


@dataclass(frozen=True)
class LogRow:
    """A log by every rule. read: what the rules were read at; scales: rule and board feet with their range."""

    name: str
    wood: str
    read: str
    scales: tuple[tuple[str, str], ...]
    remarks: tuple[str, ...]


@dataclass(frozen=True)
class WayRow:
    """A way to be paid. paid: by the customer; hourly: the sawyer's own figure, which no customer is shown."""

    how: str
    paid: str
    keeps: str
    hourly: str
    missing: tuple[str, ...]


@dataclass(frozen=True)
class CustomQuoteAnswer:
    """rule: what the whole scale goes by; sentence: why there is no answer at all; learned: what pace and yield stand on."""

    rule: str = ""
    scale: str = ""
    tally: str = ""
    hours: str = ""
    logs: tuple[LogRow, ...] = ()
    ways: tuple[WayRow, ...] = ()
    must_earn: str = ""
    not_counted: tuple[str, ...] = ()
    learned: tuple[str, ...] = ()
    sentence: str = ""
