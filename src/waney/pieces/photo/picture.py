"""Picture: grey values of a photo, read from a stream, the way up that viewers show it."""

from __future__ import annotations

from typing import BinaryIO

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageOps, UnidentifiedImageError

from waney.figures.problem import Problem

Array = NDArray[np.float64]


class NoPicture(Problem):
    """A file that is no picture."""


def read_grey(stream: BinaryIO, name: str) -> Array:
    """Rows and columns of grey, 0 to 255. Raises NoPicture."""
    try:
        with Image.open(stream) as opened:
            return np.asarray(ImageOps.exif_transpose(opened).convert("L"), dtype=np.float64)
    except (UnidentifiedImageError, OSError, Image.DecompressionBombError):
        raise NoPicture(f"{name} is no picture that can be read; name a JPEG, PNG or WebP.") from None
