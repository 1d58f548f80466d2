"""Point clouds and meshes read from streams: XYZ or CSV text, PLY (ascii and binary), OBJ, LAS and LAZ.

Only positions and faces are read; colours, normals and the rest are passed over. Positions come out in metres.
"""

from __future__ import annotations

import gzip
import zlib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from io import BytesIO
from typing import BinaryIO

import numpy as np
from numpy.typing import NDArray

from waney.figures.problem import Problem
from waney.logs.mesh import Mesh, fan
from waney.logs.ply import BadPly, read_ply

Array = NDArray[np.float64]


MOST_BYTES = 400_000_000
"""of a scan, unpacked: ours, far above what a hand scanner writes of one log"""


class BadCloud(Problem):
    """A file of points cannot be read."""


@dataclass(frozen=True)
class _Line:
    number: int
    words: Sequence[str]


def read_cloud(stream: BinaryIO, name: str, unit_m: float) -> Mesh:
    """Points and, where the file has them, faces.

    Args:
        stream: the opened file, binary
        name: its name; the ending says what it is: xyz, txt, csv, pts, ply, obj, las, laz; a further .gz means packed
        unit_m: metres for one unit of the file
    Raises BadCloud with the line where it can.
    """
    packed = name.lower().endswith(".gz")
    ending = name.lower().removesuffix(".gz").rpartition(".")[2]
    reader = _READERS.get(ending)
    if reader is None:
        known = ", ".join(sorted(_READERS))
        raise BadCloud(f"{name!r} does not end in a kind of scan that is known here; known are: {known}.")
    try:
        mesh = reader(_unpacked(stream, name) if packed else stream.read())
    except (BadPly, gzip.BadGzipFile, EOFError, zlib.error) as problem:
        raise BadCloud(f"{name}: {problem}") from problem
    if len(mesh.points_m) == 0:
        raise BadCloud(f"{name} holds no points.")
    return Mesh(mesh.points_m * unit_m, mesh.faces)


def _unpacked(stream: BinaryIO, name: str) -> bytes:
    """A few kilobytes can hold gigabytes of the same: it is unpacked no further than a scan can be large."""
    with gzip.open(stream) as packed:
        data = packed.read(MOST_BYTES + 1)
    if len(data) > MOST_BYTES:
        raise BadCloud(f"{name} is more than {MOST_BYTES // 1_000_000} MB when it is unpacked; thin it out first.")
    return data


def _lines(data: bytes) -> list[_Line]:
    text = data.decode("utf-8-sig", errors="replace")
    return [_Line(i, line.split()) for i, line in enumerate(text.splitlines(), 1) if line.strip()]


def _xyz(data: bytes) -> Mesh:
    """Three numbers a line, by spaces, commas or semicolons; further columns, one heading and lines from # on are passed over."""
    spaced = data.translate(bytes.maketrans(b",;", b"  "))
    lines = [line for line in _lines(spaced) if not line.words[0].startswith(("#", "//"))]
    headed = bool(lines) and (len(lines[0].words) < 3 or not _are_numbers(lines[0].words[:3]))
    rows = lines[1:] if headed else lines
    return Mesh(_positions(rows))


def _are_numbers(words: Sequence[str]) -> bool:
    try:
        return bool(np.isfinite([float(word) for word in words]).all())
    except ValueError:
        return False


def _positions(rows: Sequence[_Line]) -> Array:
    for row in rows:
        if len(row.words) < 3 or not _are_numbers(row.words[:3]):
            raise BadCloud(f"Line {row.number}: {' '.join(row.words)[:40]!r} does not begin with three numbers x, y, z.")
    return np.array([[float(word) for word in row.words[:3]] for row in rows], dtype=float).reshape(-1, 3)


def _obj(data: bytes) -> Mesh:
    """`v` and `f` lines; a face of more than three corners is cut into a fan."""
    lines = _lines(data)
    vertices = [_Line(line.number, line.words[1:]) for line in lines if line.words[0] == "v"]
    faces = [face for line in lines if line.words[0] == "f" for face in _fan(line, len(vertices))]
    return Mesh(_positions(vertices), np.array(faces, dtype=np.int64).reshape(-1, 3))


def _fan(line: _Line, count: int) -> list[tuple[int, int, int]]:
    try:
        corners = [int(word.split("/")[0]) for word in line.words[1:]]
    except ValueError:
        raise BadCloud(f"Line {line.number}: a face must name its corners by whole numbers.") from None
    corners = [c - 1 if c > 0 else count + c for c in corners]
    if len(corners) < 3 or not all(0 <= c < count for c in corners):
        raise BadCloud(f"Line {line.number}: a face needs three or more corners that are in the file.")
    return fan(corners)


def _las(data: bytes) -> Mesh:
    import laspy

    try:
        with laspy.open(BytesIO(data)) as file:
            promised = file.header.point_count * file.header.point_format.size
            if promised > (MOST_BYTES if file.header.are_points_compressed else len(data)):
                raise ValueError("its header announces more points than it can hold")
            points = file.read()
    except Exception as problem:  # laspy and its decoder raise many kinds for a damaged file
        raise BadCloud(f"The LAS or LAZ file cannot be read: {problem}.") from problem
    return Mesh(np.column_stack([points.x, points.y, points.z]).astype(float))


_READERS: Mapping[str, Callable[[bytes], Mesh]] = {
    "xyz": _xyz,
    "txt": _xyz,
    "csv": _xyz,
    "pts": _xyz,
    "ply": read_ply,
    "obj": _obj,
    "las": _las,
    "laz": _las,
}
