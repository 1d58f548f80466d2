"""PLY files: a header that names elements and their properties, then the elements as text or as binary in either order.

Format as its header says it: element NAME COUNT; property TYPE NAME; property list COUNT-TYPE ITEM-TYPE NAME.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from waney.figures.problem import Problem
from waney.logs.mesh import Mesh, fan

Array = NDArray[np.float64]
Whole = NDArray[np.int64]

TYPES = {
    "char": "i1", "int8": "i1", "uchar": "u1", "uint8": "u1", "short": "i2", "int16": "i2", "ushort": "u2", "uint16": "u2",
    "int": "i4", "int32": "i4", "uint": "u4", "uint32": "u4", "float": "f4", "float32": "f4", "double": "f8", "float64": "f8",
}  # fmt: skip
ORDER = {"ascii": "", "binary_little_endian": "<", "binary_big_endian": ">"}


class BadPly(Problem):
    """A PLY file's header or body does not say what it should."""


@dataclass(frozen=True)
class _Property:
    name: str
    kind: str
    count_kind: str = ""
    """type of the count of a list; "" for a single number"""


@dataclass
class _Element:
    name: str
    count: int
    properties: list[_Property] = field(default_factory=list)


def read_ply(data: bytes) -> Mesh:
    """Vertices and faces, in the file's own unit; faces of more than three corners are cut into fans. Raises BadPly."""
    head, end, body = data.partition(b"end_header")
    if not head.startswith(b"ply") or not end:
        raise BadPly("a PLY file begins with the line ply and has a line end_header.")
    order, elements = _header(head.decode("ascii", errors="replace"))
    body = body[body.index(b"\n") + 1 :] if b"\n" in body else b""
    try:
        read = _ascii(body, elements) if order == "" else _binary(body, elements, order)
    except (ValueError, IndexError) as problem:
        raise BadPly("the file ends before all that its header announces, or holds something else.") from problem
    points = _columns(elements, read)
    return Mesh(points, _faces(read.get("face"), len(points)))


def _header(text: str) -> tuple[str, list[_Element]]:
    order, elements = "", list[_Element]()
    known = False
    for words in (line.split() for line in text.splitlines()[1:]):
        match words:
            case ["format", kind, _] if kind in ORDER:
                order, known = ORDER[kind], True
            case ["element", name, count] if count.isdigit():
                elements.append(_Element(name, int(count)))
            case ["property", "list", count_kind, kind, name] if elements and {count_kind, kind} <= TYPES.keys():
                elements[-1].properties.append(_Property(name, TYPES[kind], TYPES[count_kind]))
            case ["property", kind, name] if elements and kind in TYPES:
                elements[-1].properties.append(_Property(name, TYPES[kind]))
            case [] | ["comment", *_] | ["obj_info", *_]:
                pass
            case _:
                raise BadPly(f"the header line {' '.join(words)[:50]!r} is not understood.")
    if not known:
        raise BadPly("the header says no format that is known: ascii, binary_little_endian or binary_big_endian.")
    return order, elements


def _columns(elements: list[_Element], read: dict[str, Array | list[Whole]]) -> Array:
    element = next((e for e in elements if e.name == "vertex"), None)
    names = [p.name for p in element.properties] if element else []
    if not {"x", "y", "z"} <= set(names):
        raise BadPly("the header names no vertices with x, y and z.")
    rows = np.asarray(read["vertex"], dtype=float).reshape(-1, len(names))
    return rows[:, [names.index(axis) for axis in "xyz"]]


def _faces(lists: Array | list[Whole] | None, count: int) -> Whole:
    fans = [triangle for face in lists for triangle in fan(face.tolist())] if isinstance(lists, list) else []
    faces = np.array(fans, dtype=np.int64).reshape(-1, 3)
    if len(faces) and (faces.min() < 0 or faces.max() >= count):
        raise BadPly("a face names a corner that is not in the file.")
    return faces


def _ascii(body: bytes, elements: list[_Element]) -> dict[str, Array | list[Whole]]:
    words = iter(body.split())
    return {e.name: _ascii_element(words, e) for e in elements}


def _ascii_element(words: Iterator[bytes], element: _Element) -> Array | list[Whole]:
    rows = [_ascii_row(words, element) for _ in range(element.count)]
    if any(p.count_kind for p in element.properties):
        return [np.array(row, dtype=np.int64) for row in rows]
    return np.array(rows, dtype=float)


def _ascii_row(words: Iterator[bytes], element: _Element) -> list[float]:
    """The numbers of a row, or of its first list alone."""
    single, first = list[float](), None
    for prop in element.properties:
        if not prop.count_kind:
            single.append(float(_next(words)))
            continue
        items = [float(_next(words)) for _ in range(int(_next(words)))]
        first = items if first is None else first
    return single if first is None else first


def _next(words: Iterator[bytes]) -> bytes:
    word = next(words, None)
    if word is None:
        raise IndexError("end of file")
    return word


def _binary(body: bytes, elements: list[_Element], order: str) -> dict[str, Array | list[Whole]]:
    read: dict[str, Array | list[Whole]] = {}
    at = 0
    for element in elements:
        rows: Array | list[Whole]
        if any(p.count_kind for p in element.properties):
            rows, at = _binary_lists(body, at, element, order)
        else:
            kind = np.dtype([(p.name, order + p.kind) for p in element.properties])
            packed = np.frombuffer(body, kind, element.count, at)
            rows = np.column_stack([packed[p.name].astype(float) for p in element.properties])
            at += kind.itemsize * element.count
        read[element.name] = rows
    return read


def _binary_lists(body: bytes, at: int, element: _Element, order: str) -> tuple[list[Whole], int]:
    """The first list of every row, and where the next element begins."""
    rows: list[Whole] = []
    for _ in range(element.count):
        first: Whole | None = None
        for prop in element.properties:
            count = 1
            if prop.count_kind:
                counter = np.dtype(order + prop.count_kind)
                count, at = int(np.frombuffer(body, counter, 1, at)[0]), at + counter.itemsize
            kind = np.dtype(order + prop.kind)
            items, at = np.frombuffer(body, kind, count, at), at + kind.itemsize * count
            first = items.astype(np.int64) if prop.count_kind and first is None else first
        rows.append(np.zeros(0, dtype=np.int64) if first is None else first)
    return rows, at
