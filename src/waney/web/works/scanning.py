"""Scanning: the work that lays a scan of a piece's faces on squares and writes their heights down for its sheet."""

from __future__ import annotations

from base64 import b64decode
from collections.abc import Iterator
from io import BytesIO

from waney.pieces.flattening import Heights
from waney.pieces.scanned_faces import EVERY_M, BadScan, heights_of_files
from waney.web.asked.packing import as_bytes, read_back
from waney.web.asked.scan import ScanAnswer, ScanAsked
from waney.web.heights_form import grid, listed
from waney.work.apart import Progress

MOST_SQUARES = 2_000
"""that are kept: planes are laid through so many in some seconds"""


def read_scan(given: bytes, _progress: Progress) -> bytes:
    """The job. Heights are kept to a hundredth of a millimetre, over the lowest of them. Raises BadCloud, BadScan, BadHeights."""
    asked = read_back(given, ScanAsked)
    files = [(name, BytesIO(b64decode(content))) for name, content in asked.files]
    heights = heights_of_files(files, asked.thickness_m, asked.unit_m, asked.every_m or EVERY_M)
    n, k = heights.wood.shape
    if n * k > MOST_SQUARES:
        raise BadScan(f"{n} by {k} heights are more than a sheet keeps ({MOST_SQUARES}); write larger squares.")
    return as_bytes(ScanAnswer(tuple(_lines(heights)), f"{n} places along, {k} across"))


def _lines(heights: Heights) -> Iterator[str]:
    lowest = float(heights.under_m[heights.wood].min())
    for name, places in (("at", heights.x_m), ("across", heights.y_m)):
        yield f"{name} = {listed([_millimetres(float(one)) for one in places])}"
    for name, face in (("upper", heights.upper_m), ("under", heights.under_m)):
        rows = zip(face, heights.wood, strict=True)
        said = [[_millimetres(float(z) - lowest) if wood else "" for z, wood in zip(*row, strict=True)] for row in rows]
        yield f"{name} = {grid(said)}"


def _millimetres(metres: float) -> str:
    return f"{max(0.0, metres) * 1000.0:.2f} mm"
