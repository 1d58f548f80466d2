"""Flattening a piece: the page says what the command says, from heights typed on a grid or from a scan of its faces."""

from __future__ import annotations

import html
import tomllib
from base64 import b64encode
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from tests.cli.calling import DEMO, run

from waney.pieces.piece_sheet import read_piece_sheet
from waney.pieces.scanned_faces import BadScan
from waney.web.asked.flatten import FlattenAnswer
from waney.web.asked.kinds import FLATTEN, SCAN
from waney.web.asked.packing import as_bytes, read_back
from waney.web.asked.scan import ScanAsked
from waney.web.asking import KINDS
from waney.web.measured import newest
from waney.web.shop import Shop
from waney.yard.acts.pieces import PieceCounted
from waney.yard.book.stories import piece_story
from waney.yard.services.hand import Hand
from waney.yard.services.pieces import count_piece, measure_piece

from .at_work import worked
from .conftest import Person

PIECE = DEMO / "piece.toml"
GRID = tomllib.loads(PIECE.read_text(encoding="utf-8"))["heights"]


def counted(hand: Hand, shop: Shop, thickness_m: float | None = 0.05) -> str:
    piece = shop.new_id()
    count_piece(hand, PieceCounted(piece, "black walnut", thickness_m=thickness_m, length_m=2.1, widths_m=(0.46, 0.54)))
    return piece


def sheet_of(shop: Shop, piece: str) -> str:
    last = newest(piece_story(shop.book, piece))
    assert last is not None
    return last.sheet


def typed(grid: dict[str, Any], way: str = "both") -> dict[str, Any]:
    cells = {name: [cell for row in grid[face] for cell in row] for name, face in (("upper", "upper"), ("lower", "under"))}
    return {"way": way, "at": grid["at"], "across": grid["across"], **cells}


def test_heights_that_are_typed_give_what_the_command_says_of_the_same_heights(owner: Person, shop: Shop, hand: Hand) -> None:
    page = f"/pieces/{(piece := counted(hand, shop))}/flat"
    assert "Not known yet" in owner.get(page).text
    assert owner.send(page, typed(GRID)).status_code == 303
    assert "stands in line" in owner.get(page).text
    answer = read_back(worked(shop, FLATTEN), FlattenAnswer)
    lines, shown = run("flatten", str(PIECE))[1], html.unescape(owner.get(page).text)
    assert f"{answer.left} left when both faces are flat" in lines
    assert all(cut in lines and cut[1:] in shown for cut in answer.cuts) and len(answer.cuts) == 2
    for what in ("bow", "cup", "wind"):
        assert f"{what}: {dict(answer.rows)[what]}" in lines
    assert f"{answer.left} left; off the upper face" in shown and "<svg" in shown and "dust" in shown
    assert 'value="0.28"' in shown
    told = read_piece_sheet(sheet_of(shop, piece))
    assert told.board_m is None and told.outline is None  # nobody said how it is shaped, so nothing counts its widths
    assert "Not measured yet" in owner.get(f"/pieces/{piece}/measured").text


def test_heights_go_into_the_sheet_that_is_there_and_all_else_stays(owner: Person, shop: Shop, hand: Hand) -> None:
    piece, before = counted(hand, shop), PIECE.read_text(encoding="utf-8")
    measure_piece(hand, piece, before)
    rows = {"way": "even", "thick": "1 3/4", "at": ["3", "80"], "across": ["2", "15"], "upper": ["2", "2.1", "", "2"]}
    assert owner.send(f"/pieces/{piece}/flat", rows).status_code == 303
    was, now = tomllib.loads(before), tomllib.loads(sheet_of(shop, piece))
    assert now.pop("heights")["thickness"] == [["1 3/4"] * 2] * 2
    was.pop("heights")
    assert now == was
    heights = read_piece_sheet(sheet_of(shop, piece)).heights
    assert heights is not None and np.count_nonzero(heights.wood) == 3
    assert heights.upper_m[0, 0] - heights.under_m[0, 0] == pytest.approx(1.75 * 0.0254)


def test_a_scan_gives_what_the_command_says_of_the_same_files(owner: Person, shop: Shop, hand: Hand, tmp_path: Path) -> None:
    rng, files = np.random.default_rng(3), {}
    for name, level in (("upper", 60.0), ("under", 5.0)):
        x, y = rng.uniform(0, 1500, 3000), rng.uniform(0, 500, 3000)
        bowed = level + 6.0 * ((x - 750) / 750) ** 2 + 4.0 * (x / 1500) * (y / 500)
        np.savetxt(tmp_path / f"{name}.xyz", np.column_stack([x, y, bowed]), fmt="%.2f")
        files[name] = (f"{name}.xyz", (tmp_path / f"{name}.xyz").read_bytes(), "text/plain")
    page = f"/pieces/{(piece := counted(hand, shop, None))}/flat"
    sent = owner.send(f"{page}/scan", {"unit": "mm"}, files)
    assert sent.status_code == 303
    where = sent.headers["location"]
    assert "stands in line" in owner.get(where).text
    worked(shop, SCAN)
    assert "The scan is read: 29 places along, 9 across." in owner.get(where).text
    kept = {"scan": where.split("scan=")[1].split("#")[0]}
    assert owner.send(f"{page}/scanned", kept).status_code == 422  # how thick it is called is not known
    assert owner.send(f"{page}/scanned", {**kept, "thickness": "8/4"}).status_code == 303
    owner.get(page)
    answer = read_back(worked(shop, FLATTEN), FlattenAnswer)
    own = tmp_path / "own.toml"
    head = 'format = "waney-piece/1"\nunits = "in"\nthickness = "8/4"\n'
    own.write_text(head + '[scan]\nupper = "upper.xyz"\nunder = "under.xyz"\nunit = "mm"\n', encoding="utf-8")
    lines = run("flatten", str(own))[1]
    assert f"{answer.left} left when both faces are flat" in lines
    assert all(cut in lines for cut in answer.cuts)
    assert "mm" in sheet_of(shop, piece)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"upper": ["2", "high", "2", "2"]}, "high"),
        ({"lower": ["0", "", "0", "0"]}, "Read this too"),
        ({"at": ["20", "3"]}, "rise from one to the next"),
        ({"lower": ["0", "3", "0", "0"]}, "upper face lies under"),
        ({"across": ["2", ""]}, "Write where it is"),
    ],
)
def test_what_cannot_be_stays_on_the_page_and_nothing_is_written(
    owner: Person, shop: Shop, hand: Hand, change: dict[str, list[str]], said: str
) -> None:
    piece = counted(hand, shop)
    grid = {"way": "both", "at": ["3", "20"], "across": ["2", "9"], "upper": ["2"] * 4, "lower": ["0"] * 4, **change}
    answer = owner.send(f"/pieces/{piece}/flat", grid)
    assert answer.status_code == 422 and said in answer.text
    assert newest(piece_story(shop.book, piece)) is None


def test_a_grid_of_another_size_is_asked_for_by_the_address_with_its_places_spread_evenly(
    owner: Person, shop: Shop, hand: Hand
) -> None:
    """2.1 m is 82.7 in: the outer places an inch inside, the middle one half way."""
    text = owner.get(f"/pieces/{counted(hand, shop)}/flat?along=3&across=2&way=calliper").text
    assert [f'value="{place}"' in text for place in ("1", "41", "81")] == [True] * 3
    assert text.count('name="upper"') == 6 + 1 and text.count('name="lower"') == 6  # one more: the file of a scan
    assert "Thickness, place 3, across 2" in text


def test_looking_needs_no_sign_in_and_the_page_of_the_piece_leads_there(anybody: Person, shop: Shop, hand: Hand) -> None:
    piece = counted(hand, shop)
    assert f'href="/pieces/{piece}/flat"' in anybody.get(f"/pieces/{piece}").text
    assert "<form" not in anybody.get(f"/pieces/{piece}/flat").text.split("<h1>")[1]


def test_a_scan_on_too_small_squares_says_so() -> None:
    points = b"\n".join(f"{x} {y} 50".encode() for x in range(0, 3000, 10) for y in range(0, 800, 10))
    asked = ScanAsked((("upper.xyz", b64encode(points).decode("ascii")),), 0.001, 0.02, 0.05)
    with pytest.raises(BadScan, match="larger squares"):
        KINDS[SCAN](as_bytes(asked), lambda *_: None)


@pytest.mark.parametrize(
    ("fields", "name", "said"),
    [
        ({"unit": "mm"}, "upper.xyz", "the under face too"),
        ({"unit": "ell", "evenly": "2"}, "upper.xyz", "what a number in it counts"),
        ({"unit": "mm", "evenly": "thick"}, "upper.xyz", "thick"),
    ],
)
def test_a_scan_of_which_something_is_missing_is_asked_for_again(
    owner: Person, shop: Shop, hand: Hand, fields: dict[str, str], name: str, said: str
) -> None:
    page = f"/pieces/{counted(hand, shop)}/flat"
    answer = owner.send(f"{page}/scan", fields, {"upper": (name, b"0 0 0", "text/plain")})
    assert answer.status_code == 422 and said in answer.text
