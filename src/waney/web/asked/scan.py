"""A scan of a piece's faces: what is asked of a worker, and what it answers."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class ScanAsked:
    """files: name and content (base64) of the scan of the upper face, and of the under face if there is one; unit_m: metres for
    one unit in them; every_m: side of the squares, None: the usual; thickness_m: of a piece that is as thick everywhere."""

    files: tuple[tuple[str, str], ...]
    unit_m: float
    every_m: float | None
    thickness_m: float


@dataclass(frozen=True)
class ScanAnswer:
    """lines: the table of heights for the sheet; grid: how many there are, in words."""

    lines: tuple[str, ...]
    grid: str
