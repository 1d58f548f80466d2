"""Packaged tables: `table(name)` reads `data/name.csv` once."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from functools import cache
from importlib.resources import files

Row = Mapping[str, str]


@cache
def table(name: str) -> tuple[Row, ...]:
    """All rows of a packaged table, as text, in file order. Lines starting with # above the header are notes.

    Raises FileNotFoundError when the package holds no such table (a fault of ours, not of the user).
    """
    text = (files("waney") / "data" / f"{name}.csv").read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if not line.startswith("#")]
    return tuple(csv.DictReader(lines))
