"""Target: our printed sheet of twelve marks, three across and four along, and where each lies on it.

A mark is a chequer of two black quarter discs, whose middle is found in a photo to a fraction of a pixel. The sheet fits A4 and
US letter. Printers shrink pages: the long row, marks 1 to 10, is measured on the print and its length typed.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

PITCH_M = 0.075
"""From mark to mark, along and across."""
MARK_RADIUS_M = 0.015
ACROSS, ALONG = 3, 4
COUNT = ACROSS * ALONG
LONG_ROW_M = PITCH_M * (ALONG - 1)
"""From the middle of mark 1 to the middle of mark 10."""


def marks_m() -> Array:
    """Middles of the marks 1 to 12, x to the right, y upwards on the sheet, mark 10 at the origin: (12, 2).

    Mark 1 is at the top left, 2 and 3 to its right, 4 below 1, as one reads.
    """
    rows, columns = np.divmod(np.arange(COUNT), ACROSS)
    marks: Array = PITCH_M * np.column_stack([columns, ALONG - 1 - rows]).astype(np.float64)
    return marks
