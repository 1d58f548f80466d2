"""Photos of pieces: opened here, handed on as grey values; what was tapped on them becomes an outline."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from waney.figures.problem import Problem

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from waney.figures.scenarios import Scenarios
    from waney.pieces.photo.photo_sheet import SheetPhoto
    from waney.pieces.photo.traced import Traced


class NoPicture(Problem):
    """A file that is no picture."""


def traced_in(photo: SheetPhoto, folder: Path, scenarios: Scenarios) -> Traced:
    """The outline; where the sheet names its picture, taps on the targets are drawn to what is printed there.

    Raises NoPicture, BadTaps, BadPhoto, BadEdge.
    """
    from dataclasses import replace

    from waney.pieces.photo.refine import drawn_targets
    from waney.pieces.photo.traced import traced

    if not photo.file:
        return traced(photo.photo, scenarios)
    grey = _grey(folder / photo.file)
    size = (grey.shape[1], grey.shape[0])
    return traced(replace(photo.photo, size_px=size, targets=drawn_targets(grey, size, photo.photo.targets)), scenarios)


def _grey(path: Path) -> NDArray[np.float64]:
    """Rows and columns of grey, the way up that viewers show it."""
    import numpy as np
    from PIL import Image, ImageOps, UnidentifiedImageError

    try:
        with Image.open(path) as opened:
            return np.asarray(ImageOps.exif_transpose(opened).convert("L"), dtype=np.float64)
    except UnidentifiedImageError:
        raise NoPicture(f"{path} is no picture that can be read; name a JPEG, PNG or WebP.") from None
