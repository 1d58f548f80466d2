"""Files that somebody sends: a sentence for each that cannot be kept, no fault, nothing half-written."""

from __future__ import annotations

import asyncio
import io
import math
import random
import struct
import tomllib
import zlib
from base64 import b64encode
from collections.abc import MutableMapping
from contextlib import suppress
from datetime import UTC
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PIL import Image

from waney.logs.from_sheet import measured_of
from waney.web.headers import LARGEST_BYTES, TOO_LARGE
from waney.web.shop import Shop
from waney.yard.book.examining import examine
from waney.yard.book.files import name_of
from waney.yard.book.logs_seen import logs
from waney.yard.book.looking import pieces
from waney.yard.book.stories import log_story
from waney.yard.problems import BadPicture
from waney.yard.services.pictures import picture

from .conftest import Person
from .test_pages import EXAMPLE, photo


def bomb() -> bytes:
    """A PNG of 60,000 by 60,000 pixels in some hundred bytes."""

    def chunk(kind: bytes, body: bytes) -> bytes:
        return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))

    head = struct.pack(">IIBBBBB", 60_000, 60_000, 8, 0, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"\0" * 1000)) + chunk(b"IEND", b"")


SVG = b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'
BROKEN = {
    "empty": b"",
    "text": b"no picture at all",
    "svg with a script": SVG,
    "html": b"<html><script>alert(1)</script></html>",
    "half a jpeg": photo(400)[:300],
    "a gif": b"GIF89a" + bytes(30),
    "a bomb": bomb(),
    "a zip": b"PK\x03\x04" + bytes(40),
    "a tiff": b"II*\0" + bytes(40),
}


@pytest.mark.parametrize("content", [pytest.param(content, id=name) for name, content in BROKEN.items() if content])
def test_what_is_no_photo_is_told_and_not_kept(owner: Person, shop: Shop, content: bytes) -> None:
    owner.send("/logs/new", {"sheet": EXAMPLE})
    (log,) = logs(shop.book)
    answer = owner.send(f"/logs/{log.id}/photo", files={"photo": ("x.jpg", content, "image/jpeg")})
    assert answer.status_code == 400
    assert "photo" in answer.text or "picture" in answer.text
    assert "Traceback" not in answer.text
    assert log_story(shop.book, log.id).photos == ()
    assert examine(shop.book).unsound == ()


def test_a_photo_with_a_page_inside_comes_out_as_a_picture_only(owner: Person, shop: Shop) -> None:
    owner.send("/logs/new", {"sheet": EXAMPLE})
    (log,) = logs(shop.book)
    owner.send(f"/logs/{log.id}/photo", files={"photo": ("x.html", photo(50) + b"<script>alert(1)</script>", "text/html")})
    (kept,) = log_story(shop.book, log.id).photos
    shown = owner.get(f"/photos/{kept.file}")
    assert shown.headers["content-type"] == "image/jpeg"
    assert b"<script>" not in shown.content


def test_only_pictures_are_handed_out_as_photos(owner: Person, shop: Shop) -> None:
    name = shop.book.files.keep(SVG)
    assert owner.get(f"/photos/{name}").status_code == 404
    for other in ("../members.json", "..%2Fmembers.json", "members.json", "0" * 64):
        assert owner.get(f"/photos/{other}").status_code in (400, 404)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.integers(0, 2**32), st.sampled_from(["JPEG", "PNG", "WEBP"]))
def test_damaged_pictures_are_kept_whole_or_told(seed: int, form: str) -> None:
    rng = random.Random(seed)
    content = bytearray(photo(90, form))
    for _ in range(rng.randint(1, 20)):
        content[rng.randrange(len(content))] = rng.randrange(256)
    del content[rng.randrange(len(content) // 2, len(content) + 1) :]
    with suppress(BadPicture):
        Image.open(io.BytesIO(picture(bytes(content), UTC).content)).verify()


def test_a_scan_that_the_sheet_does_not_fit_is_told(owner: Person, shop: Shop) -> None:
    sheet = 'format = "waney-log/1"\nunits = "in"\nspecies = "white oak"\n[scan]\nfile = "log.ply"\n'
    for content in (b"", b"ply\nnonsense", b"\0" * 500):
        answer = owner.send("/logs/new", {"sheet": sheet}, files={"scan": ("log.ply", content, "application/octet-stream")})
        assert answer.status_code in (303, 422)
        assert "Traceback" not in answer.text
    for log in logs(shop.book):
        assert owner.get(f"/logs/{log.id}").status_code == 200


def points(count: int = 4000) -> bytes:
    """A log of 8 ft that lies along x with y up, thick end first, as text."""
    rng = random.Random(2)
    told = []
    for _ in range(count):
        along, turn = rng.uniform(0.0, 2.44), rng.uniform(0.0, 2 * math.pi)
        radius = 0.21 - 0.02 * along
        told.append(f"{3 - along:.4f} {1.2 + radius * math.cos(turn):.4f} {radius * math.sin(turn):.4f}")
    return "\n".join(told).encode()


@pytest.mark.parametrize("named", ["log.xyz", "scan.ply", "IMG_0007", "C:\\fakepath\\log.txt"])
def test_a_scan_is_sent_like_a_photo_and_the_log_is_measured_by_it(owner: Person, shop: Shop, named: str) -> None:
    owner.send("/logs/new", {"sheet": EXAMPLE})
    (log,) = logs(shop.book)
    told = {"scan_unit": "m", "scan_up": "y", "scan_over": "bark"}
    assert (
        owner.send(f"/logs/{log.id}/scan", told, files={"scan": (named, points(), "application/octet-stream")}).status_code == 303
    )
    first, second = log_story(shop.book, log.id).sheets
    assert not first.scan and shop.book.files.read(second.scan) == points()
    assert second.text.startswith(first.text.rstrip("\n"))
    measured = measured_of({"log": second.text, "scan": b64encode(points()).decode()})
    assert measured.scan is not None
    assert measured.log.length_m == pytest.approx(2.44, abs=0.03)
    assert measured.scan.radius_m[0].mean() == pytest.approx(0.21, abs=0.004)  # the thick end is the butt
    page = owner.get(f"/logs/{log.id}").text
    assert "Its shape comes from the scan" in page and "Another scan" in page
    again = second.text.replace("[scan]", "# looked at again\n[scan]")
    assert owner.send(f"/logs/{log.id}/sheet", {"sheet": again}).status_code == 303
    assert log_story(shop.book, log.id).sheets[-1].scan == second.scan, "it needs not be sent again"


def test_a_log_is_booked_in_by_its_wood_and_a_scan_alone(owner: Person, shop: Shop) -> None:
    told = {"species": "white oak", "scan_unit": "m", "scan_up": "y", "scan_butt": "3 1.2 0", "scan_top": "0.56 1.2 0"}
    told |= {"scan_mark": "1.5 1.2 -0.19", "scan_mark_clock": "3"}
    answer = owner.send("/logs/new", told, files={"scan": ("log.xyz", points(), "text/plain")})
    assert answer.status_code == 303
    (log,) = logs(shop.book)
    sheet = tomllib.loads(log_story(shop.book, log.id).sheets[-1].text)
    assert sheet["scan"] == {
        "file": "log.xyz",
        "unit": "m",
        "butt": [3, 1.2, 0],
        "top": [0.56, 1.2, 0],
        "mark": [1.5, 1.2, -0.19],
        "mark_clock": 3,
    }


NO_SCANS = {
    "nothing in it": (b"", "empty"),
    "a photo": (photo(60), "a picture, no scan"),
    "a zip": (b"PK\x03\x04" + bytes(60), "unpack it first"),
    "an svg": (SVG, "no scan"),
    "half a ply": (
        b"ply\nformat binary_little_endian 1.0\nelement vertex 900\nproperty float x\nproperty float y\n",
        "end_header",
    ),
    "a ply of more than there is": (
        b"ply\nformat ascii 1.0\nelement vertex 4000000000\nproperty float x\nproperty float y\nproperty float z\nend_header\n",
        "",
    ),
    "three points": (b"0 0 0\n1 1 1\n2 2 2\n", "3 points"),
    "a ball": (b"\n".join(f"{n % 7} {n % 11} {n % 13}".encode() for n in range(1001)), "hardly longer"),
    "a word among the points": (points(300) + b"\n1 2 three\n", "Line 301"),
    "las of nothing": (b"LASF" + bytes(400), "LAS"),
}


@pytest.mark.parametrize(("content", "says"), [pytest.param(*case, id=name) for name, case in NO_SCANS.items()])
def test_what_is_no_scan_is_told_and_nothing_is_kept(owner: Person, shop: Shop, content: bytes, says: str) -> None:
    owner.send("/logs/new", {"sheet": EXAMPLE})
    (log,) = logs(shop.book)
    for address, fields in ((f"/logs/{log.id}/scan", {}), ("/logs/new", {"species": "white oak"})):
        answer = owner.send(address, {**fields, "scan_up": "y"}, files={"scan": ("log.ply", content, "image/jpeg")})
        assert answer.status_code == 422
        assert says in answer.text
        assert "Traceback" not in answer.text
    assert len(log_story(shop.book, log.id).sheets) == 1 and len(logs(shop.book)) == 1
    assert not shop.book.files.has(name_of(content))
    assert owner.send(f"/logs/{log.id}/scan", {}).status_code == 422, "and without a file"


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.integers(0, 2**32), st.sampled_from(["scan_butt", "scan_top", "scan_mark", "scan_mark_clock", "scan_reach", "scan_unit"])
)
def test_damaged_scans_and_what_cannot_be_a_point_are_sentences(owner: Person, shop: Shop, seed: int, field: str) -> None:
    rng = random.Random(seed)
    content = bytearray(points(300))
    for _ in range(rng.randint(0, 6)):
        content[rng.randrange(len(content))] = rng.randrange(256)
    typed = rng.choice(["", "1 2", "1 2 3", "nan 0 0", "1e400 0 0", "x y z", '"]', "-1", "0;0;0", "13", "9" * 400, "\u0661 0 0"])
    answer = owner.send("/logs/new", {"species": "oak", field: typed}, files={"scan": ("a.xyz", bytes(content), "text/plain")})
    assert answer.status_code in (303, 422)
    for log in logs(shop.book):
        assert owner.get(f"/logs/{log.id}").status_code == 200


def test_more_than_the_limit_is_refused_before_it_is_read(owner: Person, shop: Shop) -> None:
    answer = owner.client.post("/logs/new", content=b"x", headers={"content-length": str(LARGEST_BYTES + 1)})
    assert answer.status_code == 413
    assert "smaller" in answer.text


@pytest.mark.parametrize(
    ("address", "form"),
    [
        ("/logs/new", "multipart/form-data; boundary=x"),
        ("/logs/new", "application/x-www-form-urlencoded"),
        ("/api/commands", "application/json"),
    ],
)
def test_a_body_that_does_not_say_how_long_it_is_is_refused_at_the_limit(
    owner: Person, shop: Shop, monkeypatch: pytest.MonkeyPatch, address: str, form: str
) -> None:
    monkeypatch.setattr("waney.web.headers.LARGEST_BYTES", 100_000)
    head = b'--x\r\ncontent-disposition: form-data; name="scan"; filename="log.ply"\r\n\r\n'

    async def asked() -> tuple[int, str, int]:
        sent, status, told = 0, 0, b""

        async def receive() -> dict[str, object]:
            nonlocal sent
            sent += 1
            return {"type": "http.request", "body": head if sent == 1 else b"x" * 10_000, "more_body": True}  # without an end

        async def send(message: MutableMapping[str, Any]) -> None:
            nonlocal status, told
            status, told = message.get("status", status), told + message.get("body", b"")

        cookie = "; ".join(f"{name}={value}" for name, value in owner.client.cookies.items())
        headers = {"host": "testserver", "content-type": form, "transfer-encoding": "chunked", "cookie": cookie}
        headers["x-waney-token"] = owner.token()
        scope = {
            "type": "http",
            "method": "POST",
            "path": address,
            "raw_path": address.encode(),
            "query_string": b"",
            "root_path": "",
            "scheme": "http",
            "server": ("testserver", 80),
            "headers": [(name.encode(), value.encode()) for name, value in headers.items()],
        }
        await asyncio.wait_for(owner.client.app(scope, receive, send), 20)
        return status, told.decode(), sent

    status, told, sent = asyncio.run(asked())
    assert (status, told) == (413, TOO_LARGE)
    assert sent <= 12  # no more was taken in
    assert logs(shop.book) == ()


def test_a_form_with_thousands_of_fields_is_a_sentence(owner: Person, shop: Shop) -> None:
    answer = owner.send("/pieces/count", {f"field{n}": "x" for n in range(2500)})
    assert answer.status_code == 400
    assert pieces(shop.book) == ()
