"""Piece sheets that a person names."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from waney.pieces.piece_sheet import SheetPiece


def piece_in(path: Path) -> SheetPiece:
    """The piece of a sheet. Raises OSError, NotText, SheetProblems."""
    from waney.cli.files import read_text
    from waney.pieces.piece_sheet import read_piece_sheet
    from waney.units.sheet import called

    with called(str(path)):
        return read_piece_sheet(read_text(path))


def picture_of(piece: SheetPiece, folder: Path) -> NDArray[np.float64] | None:
    """The picture that its photo names, beside the sheet. Raises OSError, NoPicture."""
    from waney.pieces.photo.picture import read_grey

    if piece.photo is None or not piece.photo.file:
        return None
    with (folder / piece.photo.file).open("rb") as stream:
        return read_grey(stream, piece.photo.file)
