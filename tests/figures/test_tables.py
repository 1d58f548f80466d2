"""Packaged tables are read once, notes are skipped, and nothing in them can be changed by accident of order."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from waney.figures.tables import table

DATA = Path(__file__).parents[2] / "src" / "waney" / "data"


def test_a_table_is_read_once() -> None:
    assert table("sources") is table("sources")


@pytest.mark.parametrize("path", sorted(DATA.glob("*.csv")), ids=lambda path: path.name)
def test_every_packaged_table_is_whole(path: Path) -> None:
    rows = table(path.stem)
    with path.open(encoding="utf-8", newline="") as stream:
        lines = [line for line in stream if not line.startswith("#")]
    header = next(csv.reader(lines[:1]))
    assert len(header) == len(set(header))
    assert all(list(row) == header for row in rows), "a row has more cells than the header"
    assert all(None not in row.values() for row in rows), "a row has fewer cells than the header"


def test_a_table_that_is_not_there_is_a_fault_of_ours() -> None:
    with pytest.raises(FileNotFoundError):
        table("no_such_table")
