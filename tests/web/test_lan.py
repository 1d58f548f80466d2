"""Lan: the address as a code that a phone reads off the terminal; what a phone is to trust can be fetched, its key cannot."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import zxingcpp
from starlette.testclient import TestClient

from waney.web.app import make_app
from waney.web.authority import certified, fingerprint
from waney.web.serving import as_code
from waney.web.shop import Shop

from .conftest import Person

ADDRESS = "http" + "://192.0.2.7:8731/"
HALVES = {"█": (1, 1), "▀": (1, 0), "▄": (0, 1), " ": (0, 0)}


def seen(code: str) -> list[str]:
    """What a camera reads off a terminal with light letters on black, or with dark ones on white."""
    lines = [line for line in code.splitlines() if line]
    across = max(map(len, lines))
    rows = np.array([[HALVES[one][half] for one in line.ljust(across)] for line in lines for half in (0, 1)], np.uint8)
    picture = np.kron(np.pad(rows, 4, constant_values=rows[0, 0]), np.ones((6, 6), np.uint8)) * 255
    return [one.text for each in (picture, 255 - picture) for one in zxingcpp.read_barcodes(each)]


def test_the_code_in_the_terminal_says_the_address() -> None:
    assert ADDRESS in seen(as_code(ADDRESS, "utf-8"))


def test_a_terminal_that_cannot_write_it_shows_none() -> None:
    assert as_code(ADDRESS, "ascii") == ""


def test_the_certificate_that_phones_trust_is_handed_out_without_its_key(owner: Person, shop: Shop, tmp_path: Path) -> None:
    assert owner  # until there is one, every address leads to the first page
    files = certified(tmp_path / "authority", ["localhost"], datetime.now(UTC))
    client = TestClient(make_app(replace(shop, authority=str(files.authority))))
    answer = client.get("/authority.pem")
    assert answer.content == files.authority.read_bytes()
    assert b"PRIVATE" not in answer.content
    assert len(fingerprint(files.authority).split(":")) == 32


def test_without_an_authority_there_is_nothing_to_fetch(owner: Person) -> None:
    assert owner.get("/authority.pem").status_code == 404
