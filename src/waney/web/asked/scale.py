"""The volume of a log on every scale: what is asked of a worker, and what it answers."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class ScaleAsked:
    """A log sheet, and its scan in base64 where it names one."""

    log: str
    scan: str = ""
    metric: bool = False


@dataclass(frozen=True)
class ScaleAnswer:
    """rows: what, and how much; notes: what looks odd, and what was filled in."""

    rows: tuple[tuple[str, str], ...]
    next: str
    notes: tuple[str, ...]
