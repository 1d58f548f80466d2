"""Piece sheets that a person names."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from waney.pieces.piece_sheet import SheetPiece


def piece_in(path: Path) -> SheetPiece:
    """The piece of a sheet. Raises OSError, NotText, SheetProblems."""
    from waney.cli.files import read_text
    from waney.pieces.piece_sheet import read_piece_sheet
    from waney.units.sheet import called

    with called(str(path)):
        return read_piece_sheet(read_text(path))
