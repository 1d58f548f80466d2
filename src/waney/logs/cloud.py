"""Point clouds and meshes read from streams: XYZ or CSV text, PLY (ascii and binary), OBJ, LAS and LAZ.

Only positions and faces are read; colours, normals and the rest are passed over. Positions come out in metres.
"""

from __future__ import annotations

import gzip
import zlib
from array import array
from codecs import BOM_UTF8
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from io import BytesIO
from itertools import chain
from math import isfinite
from typing import BinaryIO

import numpy as np
from numpy.typing import NDArray

from waney.figures.problem import Problem
from waney.logs.mesh import Mesh, fan
from waney.logs.ply import BadPly, read_ply

Array = NDArray[np.float64]


MOST_BYTES = 400_000_000
"""of a scan, unpacked: ours, far above what a hand scanner writes of one log"""
GZIP, HEAD = b"\x1f\x8b", 4096
"""what a packed file begins with, and how much of a file says what it is [bytes]"""
SIGNS = {b"ply": "ply", b"LASF": "las"}
OBJ_LINES = ("v", "vn", "vt", "mtllib", "usemtl", "o", "g")
NO_SCAN = {
    b"\xff\xd8\xff": "a picture",
    b"\x89PNG": "a picture",
    b"RIFF": "a picture or a sound",
    b"GIF8": "a picture",
    b"PK\x03\x04": "a zip file (unpack it first)",
    b"%PDF": "a PDF",
    b"glTF": "a glTF file, which is not read here",
    b"solid ": "an STL file, which is not read here",
    b"<": "a page of the web",
}


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


def named_by_content(name: str, content: bytes) -> str:
    """The name with the ending that says what the content is, whatever it was called. Raises BadCloud for what is no scan.

    Text is told apart by its first lines: `v` and three numbers is OBJ, three numbers are points.
    """
    bare, packed = name, content.startswith(GZIP)
    if packed:
        with suppress(EOFError, OSError, zlib.error), gzip.open(BytesIO(content)) as inner:
            content = inner.read(HEAD)
        bare = name[:-3] if name.lower().endswith(".gz") else name
    kind, called = _kind_of(content[:HEAD]), bare.lower().rpartition(".")[2]
    right = bare if _READERS.get(called) is _READERS[kind] else f"{bare}.{kind}"
    return f"{right}.gz" if packed else right


def _kind_of(head: bytes) -> str:
    for sign, what in NO_SCAN.items():
        if head.startswith(sign):
            raise BadCloud(f"That is {what}, no scan. Save the scan as PLY, OBJ, LAS, LAZ or points in text, and send that file.")
    for sign, kind in SIGNS.items():
        if head.startswith(sign):
            return kind
    told = [line.words for line in _lines(head) if not line.words[0].startswith(("#", "//"))]
    if any(words[0] in OBJ_LINES for words in told):
        return "obj"
    spaced = [line.words for line in _lines(head.translate(bytes.maketrans(b",;", b"  ")))]
    if any(len(words) >= 3 and _are_numbers(words[:3]) for words in spaced):
        return "xyz"
    raise BadCloud("This file is no scan that can be read here. Save the scan as PLY, OBJ, LAS, LAZ or points in text.")


def _unpacked(stream: BinaryIO, name: str) -> bytes:
    """A few kilobytes can hold gigabytes of the same: it is unpacked no further than a scan can be large."""
    with gzip.open(stream) as packed:
        data = packed.read(MOST_BYTES + 1)
    if len(data) > MOST_BYTES:
        raise BadCloud(f"{name} is more than {MOST_BYTES // 1_000_000} MB when it is unpacked; thin it out first.")
    return data


def _lines(data: bytes) -> Iterator[_Line]:
    """Line by line: a scan has millions of them."""
    for i, line in enumerate(BytesIO(data.removeprefix(BOM_UTF8)), 1):
        for words in line.decode("utf-8", errors="replace").splitlines():  # some end their lines by a carriage return alone
            if words.strip():
                yield _Line(i, words.split())


def _xyz(data: bytes) -> Mesh:
    """Three numbers a line, by spaces, commas or semicolons; further columns, one heading and lines from # on are passed over."""
    spaced = data.translate(bytes.maketrans(b",;", b"  "))
    lines = (line for line in _lines(spaced) if not line.words[0].startswith(("#", "//")))
    first = next(lines, None)
    if first is None:
        return Mesh(_positions(()))
    headed = len(first.words) < 3 or not _are_numbers(first.words[:3])
    return Mesh(_positions(lines if headed else chain((first,), lines)))


def _are_numbers(words: Sequence[str]) -> bool:
    try:
        return all(isfinite(float(word)) for word in words)
    except ValueError:
        return False


def _positions(rows: Iterable[_Line]) -> Array:
    found = array("d")
    for row in rows:
        if len(row.words) < 3 or not _are_numbers(row.words[:3]):
            raise BadCloud(f"Line {row.number}: {' '.join(row.words)[:40]!r} does not begin with three numbers x, y, z.")
        found.extend(map(float, row.words[:3]))
    return np.array(found, dtype=float).reshape(-1, 3)


def _obj(data: bytes) -> Mesh:
    """`v` and `f` lines; a face of more than three corners is cut into a fan."""
    points = _positions(_Line(line.number, line.words[1:]) for line in _lines(data) if line.words[0] == "v")
    faces = array("q")
    for line in _lines(data):
        if line.words[0] == "f":
            for corners in _fan(line, len(points)):
                faces.extend(corners)
    return Mesh(points, np.array(faces, dtype=np.int64).reshape(-1, 3))


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
