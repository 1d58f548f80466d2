"""Readers of clouds and meshes: every format gives back the same points, and damaged files get a sentence."""

from __future__ import annotations

import gzip
import struct
import tracemalloc
from io import BytesIO

import laspy
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from waney.logs.cloud import BadCloud, named_by_content, read_cloud
from waney.logs.mesh import Mesh, sampled

POINTS = np.array([[0.0, 0.0, 0.0], [1.5, 0.0, 0.25], [0.0, 2.0, -1.0], [0.5, 0.5, 3.0]])
FACES = [(0, 1, 2), (0, 1, 3)]
XYZ = b"x,y,z,intensity\n# a note\n0,0,0,7\n1.5,0,0.25,8\n0,2,-1,9\n\n0.5,0.5,3,1\n"
OBJ = b"# log\nv 0 0 0\nv 1.5 0 0.25\nv 0 2 -1\nv 0.5 0.5 3\nvn 0 0 1\nf 1/1/1 2/2/1 3\nf 1 2 -1\n"
HEADER = (
    "ply\nformat {order} 1.0\ncomment made here\nelement vertex 4\nproperty float x\nproperty uchar red\nproperty double y\n"
    "property float z\nelement face 2\nproperty list uchar int vertex_indices\nend_header\n"
)
PLY = HEADER.format(order="ascii").encode() + b"0 1 0 0\n1.5 1 0 0.25\n0 1 2 -1\n0.5 1 0.5 3\n3 0 1 2\n3 0 1 3\n"


def packed(order: str, sign: str) -> bytes:
    body = b"".join(struct.pack(f"{sign}fBdf", x, 9, y, z) for x, y, z in POINTS)
    faces = b"".join(struct.pack(f"{sign}Biii", 3, *face) for face in FACES)
    return HEADER.format(order=order).encode() + body + faces


def las(name: str) -> bytes:
    header = laspy.LasHeader(point_format=0, version="1.2")
    header.scales = np.array([0.001, 0.001, 0.001])
    data = laspy.LasData(header)
    data.x, data.y, data.z = POINTS.T
    stream = BytesIO()
    data.write(stream, do_compress=name == "laz")
    return stream.getvalue()


@pytest.mark.parametrize(
    ("name", "data"),
    [
        ("a.csv", XYZ),
        ("a.XYZ", XYZ.replace(b",", b" ")),
        ("a.pts", b"4\n" + b"\n".join(XYZ.replace(b",", b" ").splitlines()[2:])),
        ("a.obj", OBJ),
        ("a.ply", PLY),
        ("a.ply", packed("binary_little_endian", "<")),
        ("a.ply", packed("binary_big_endian", ">")),
        ("a.las", las("las")),
        ("a.laz", las("laz")),
    ],
)
def test_every_format_gives_the_same_points(name: str, data: bytes) -> None:
    mesh = read_cloud(BytesIO(data), name, 2.0)
    assert mesh.points_m == pytest.approx(2.0 * POINTS, abs=1e-6)
    if name.endswith(("obj", "ply")):
        assert mesh.faces.tolist() == [list(face) for face in FACES]


def test_a_face_of_four_corners_is_cut_in_two() -> None:
    data = OBJ.split(b"vn")[0] + b"f 1 2 3 4\n"
    assert read_cloud(BytesIO(data), "a.obj", 1.0).faces.tolist() == [[0, 1, 2], [0, 2, 3]]


@pytest.mark.parametrize(
    ("name", "data", "words"),
    [
        ("a.dwg", b"", "known are"),
        ("a.csv", b"1,2,3\n4,five,6\n", "Line 2"),
        ("a.csv", b"", "no points"),
        ("a.csv", b"1,2,nan\n1,2,nan\n", "Line 2"),
        ("a.obj", b"v 0 0 0\nf 1 2 3\n", "Line 2"),
        ("a.ply", b"plyx", "end_header"),
        ("a.ply", PLY[:-8], "ends before"),
        ("a.ply", packed("binary_little_endian", "<")[:-3], "ends before"),
        ("a.ply", PLY.replace(b"3 0 1 3", b"3 0 1 4"), "corner"),
        ("a.las", b"LASFnonsense", "cannot be read"),
        ("a.csv.gz", b"not packed", "a.csv.gz"),
    ],
)
def test_a_damaged_file_gets_a_sentence(name: str, data: bytes, words: str) -> None:
    with pytest.raises(BadCloud, match=words):
        read_cloud(BytesIO(data), name, 1.0)


@given(st.sampled_from(["csv", "ply", "obj", "las", "laz"]), st.binary(max_size=300), st.integers(0, 400))
def test_no_bytes_make_a_traceback(ending: str, tail: bytes, cut: int) -> None:
    start = {"csv": XYZ, "ply": packed("binary_little_endian", "<"), "obj": OBJ}.get(ending, b"LASF")[:cut]
    try:
        mesh = read_cloud(BytesIO(start + tail), f"a.{ending}", 1.0)
        assert mesh.points_m.shape[1] == 3
    except BadCloud:
        pass  # a sentence is the other good answer


def test_sampling_spreads_points_by_area() -> None:
    small_and_big = Mesh(
        np.array([[0, 0, 0], [0.1, 0, 0], [0, 0.1, 0], [0.3, 0, 0], [0, 0.3, 0]]), np.array([[0, 1, 2], [0, 3, 4]])
    )
    points = sampled(small_and_big)
    # the big triangle has 9 times the area, so of 10 parts of points 2 lie in the corner that both share
    corner = points[(points[:, 0] + points[:, 1]) < 0.1]
    assert len(corner) == pytest.approx(0.2 * len(points), rel=0.05)
    centre = (0.1 / 3 + 9 * 0.3 / 3) / 10
    assert points.mean(axis=0) == pytest.approx([centre, centre, 0.0], abs=0.002)


def test_a_packed_file_that_would_swell_without_end_is_left_packed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("waney.logs.cloud.MOST_BYTES", 1_000_000)
    with pytest.raises(BadCloud, match=r"more than 1 MB when it is unpacked"):
        read_cloud(BytesIO(gzip.compress(b"0 0 0\n" * 500_000)), "log.xyz.gz", 1.0)


PROMISES = (
    b"ply\nformat binary_little_endian 1.0\nelement vertex %d\n"
    b"property float x\nproperty float y\nproperty float z\n%send_header\n"
)
ENDLESS_FACES = b"element face 1000000000\nproperty list uchar int vertex_indices\n"


@pytest.mark.parametrize(
    "content",
    [PROMISES % (1_000_000_000, b"") + bytes(24), PROMISES % (1, ENDLESS_FACES) + bytes(12)],
    ids=["points", "faces"],
)
def test_a_header_that_promises_a_thousand_million_is_not_believed(content: bytes) -> None:
    with pytest.raises(BadCloud, match="ends before all that its header announces"):
        read_cloud(BytesIO(content), "log.ply", 1.0)


@pytest.mark.parametrize("name", ["log.las", "log.laz"])
def test_a_las_header_that_promises_more_than_the_file_holds_is_not_believed(name: str) -> None:
    lying = bytearray(las(name))
    lying[107:111] = (1_000_000_000).to_bytes(4, "little")  # number of point records, LAS 1.2 header
    with pytest.raises(BadCloud, match="announces more points than it can hold"):
        read_cloud(BytesIO(bytes(lying)), name, 1.0)


@pytest.mark.parametrize(
    ("name", "content", "right"),
    [
        ("log.ply", b"ply\nformat ascii 1.0\n", "log.ply"),
        ("log.las", b"ply\nformat ascii 1.0\n", "log.las.ply"),
        ("scan", b"LASF" + bytes(40), "scan.las"),
        ("log.LAZ", b"LASF" + bytes(40), "log.LAZ"),
        ("log.obj", b"# from a phone\nmtllib a.mtl\nv 0 0 1\n", "log.obj"),
        ("log.txt", b"v 0 0 1\nf 1 2 3\n", "log.txt.obj"),
        ("log.csv", b"x;y;z\n0;0;1\n", "log.csv"),
        ("log", b"# points\n1 2 3 255 255 255\n", "log.xyz"),
        ("log.bin", gzip.compress(b"1 2 3\n"), "log.bin.xyz.gz"),
        ("log.ply.gz", gzip.compress(b"ply\nformat ascii 1.0\n"), "log.ply.gz"),
    ],
)
def test_the_content_says_what_a_scan_is_and_not_its_name(name: str, content: bytes, right: str) -> None:
    assert named_by_content(name, content) == right


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"\xff\xd8\xff\xe0" + bytes(40), "a picture, no scan"),
        (b"PK\x03\x04" + bytes(40), "unpack it first"),
        (b"solid log\nfacet normal", "an STL file"),
        (b"<html>", "a page"),
        (b"", "no scan that can be read"),
        (bytes(300), "no scan that can be read"),
        (b"Dear Ruth, the scan is with the log.", "no scan that can be read"),
        (gzip.compress(b"hello"), "no scan that can be read"),
        (b"\x1f\x8b" + bytes(20), "no scan that can be read"),
    ],
)
def test_what_is_no_scan_is_told_by_what_it_is(content: bytes, words: str) -> None:
    with pytest.raises(BadCloud, match=words):
        named_by_content("log.ply", content)


def test_a_text_of_many_points_is_read_without_a_list_of_its_words() -> None:
    """Each of its lines was kept as words before: some hundred bytes for a number."""
    data = b"0.25 0.5 1.125\r\n" * 20_000
    tracemalloc.start()
    mesh = read_cloud(BytesIO(data), "log.xyz", 1.0)
    most = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert mesh.points_m.shape == (20_000, 3) and mesh.points_m[-1].tolist() == [0.25, 0.5, 1.125]
    assert most < 6 * len(data)
