"""Columns: plain text in a face of even width."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import wrap

WIDE = 96
"""characters on a line"""


def aligned(rows: Sequence[Sequence[str]], *, gap: int = 3) -> list[str]:
    """Rows as lines: the first column to the left, the others to the right; an empty row stays an empty line."""
    across = max((len(row) for row in rows), default=0)
    widths = [max((len(row[i]) for row in rows if i < len(row)), default=0) for i in range(across)]
    return [_line(row, widths, gap) for row in rows]


def _line(row: Sequence[str], widths: Sequence[int], gap: int) -> str:
    cells = [cell.ljust(width) if i == 0 else cell.rjust(width) for i, (cell, width) in enumerate(zip(row, widths, strict=False))]
    return (" " * gap).join(cells).rstrip()


def paragraph(words: str, indent: str = "") -> list[str]:
    """Words broken into lines, those after the first set in further than the first."""
    return wrap(words, WIDE, initial_indent=indent, subsequent_indent=" " * (len(indent) + 2))


def headed(words: str) -> list[str]:
    """A heading with a rule, and an empty line before it."""
    return ["", words, "-" * len(words)]
