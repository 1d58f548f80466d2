"""A piece traced on its photo: what is tapped becomes its sheet, a job measures it, the page shows it with its range."""

from __future__ import annotations

import json
import re
from functools import cache
from html import unescape
from io import BytesIO

import numpy as np
import pytest
from PIL import Image
from pypdf import PdfReader
from tests.pieces.photo_scene import Scene, scene

from waney.pieces.photo.photo_sheet import LIES
from waney.web.asked.kinds import MEASURE
from waney.web.asked.measure import MeasureAnswer
from waney.web.asked.packing import read_back
from waney.web.asking import KINDS
from waney.web.shop import Shop
from waney.web.sizing import Sizing
from waney.yard.acts.pieces import PieceCounted, PieceMeasured
from waney.yard.book import jobs
from waney.yard.book.examining import examine
from waney.yard.book.looking import pieces_by_id
from waney.yard.services.hand import Hand
from waney.yard.services.pieces import count_piece

from .conftest import Person

CORNERS = (1, 3, 12, 10)


@pytest.fixture
def piece(hand: Hand, shop: Shop) -> str:
    piece = shop.new_id()
    count_piece(hand, PieceCounted(piece, "walnut_black", thickness_m=0.054))
    return f"/pieces/{piece}/measured"


def tapped(seen: Scene, rng: np.random.Generator, **more: object) -> str:
    targets = [[(marks[n - 1] + rng.normal(0, 3, 2)).tolist() for n in CORNERS] for marks in seen.marks_px]
    return json.dumps({"first": targets[0], "second": targets[1], "edge": seen.edge_px.tolist(), "hole": [], **more})


@cache
def picture_of(seed: int) -> bytes:
    """The photo of a scene."""
    picture = BytesIO()
    Image.fromarray(scene(seed).grey(np.random.default_rng(seed))).save(picture, "PNG", compress_level=1)
    return picture.getvalue()


def traced(owner: Person, piece: str, **more: object) -> int:
    """Somebody taps round the piece on its photo."""
    taps = tapped(scene(11), np.random.default_rng(12), **more)
    return owner.send(piece, {"taps": taps}, {"photo": ("piece.png", picture_of(11), "image/png")}).status_code


def answered(owner: Person, shop: Shop, piece: str) -> MeasureAnswer:
    """Somebody looks, and the worker answers."""
    owner.get(piece)
    return worked(shop)


def worked(shop: Shop) -> MeasureAnswer:
    """The worker answers."""
    job = jobs.take(shop.book, KINDS, "here", shop.now())
    assert job is not None and job.kind == MEASURE
    answer = KINDS[MEASURE](shop.book.files.read(job.input), lambda *_: None)
    jobs.finish(shop.book, job.id, "here", answer, shop.now())
    return read_back(answer, MeasureAnswer)


def test_a_piece_is_traced_on_its_photo_and_shown_with_its_range(owner: Person, shop: Shop, piece: str) -> None:
    seen, rng = scene(11), np.random.default_rng(12)
    fields = {"taps": tapped(seen, rng), "long_row": "225 mm", "lies": "on the face", "thickness": "8/4"}
    assert "Not measured yet" in owner.get(piece).text
    assert owner.send(piece, fields, {"photo": ("piece.png", picture_of(11), "image/png")}).status_code == 303
    assert "stands in line" in owner.get(piece).text
    answer = worked(shop)
    area = dict(answer.rows)["Upper face"]
    square_feet = float(area.split()[0])
    assert square_feet * 0.09290304 == pytest.approx(seen.area, rel=0.01)
    assert [one.partition(":")[0] for one in answer.advice] == ["Tape its length too and write it down"]
    page = owner.get(piece).text
    assert area in page and "Nine in ten within" in page and "<svg" in page and "narrow face" in page
    assert "measured as it lies" in owner.get(piece.removesuffix("/measured")).text
    assert examine(shop.book).unsound == ()


def test_the_form_begins_with_targets_that_nobody_looked_at_and_keeps_what_was_said(
    owner: Person, shop: Shop, piece: str
) -> None:  # fmt: skip
    def options() -> list[tuple[str, bool]]:
        select = owner.get(piece).text.split('<select id="lies"')[1].split("</select>")[0]
        return [(word, bool(chosen)) for chosen, word in re.findall(r"<option( selected)?>([^<]+)</option>", select)]

    assert options() == [(word, False) for word in LIES], "the first one stands until another is chosen"
    assert told_of_targets(owner, piece, "not looked at") == 303
    answer = answered(owner, shop, piece)
    assert answer.advice[0].startswith("Lay the targets on the face and say that they lie there, or tape its length")
    assert options()[0] == ("not looked at", True)
    assert told_of_targets(owner, piece, "on the face") == 303
    assert not any("nobody looked" in line for line in answered(owner, shop, piece).advice)
    assert ("on the face", True) in options()


def told_of_targets(owner: Person, piece: str, lies: str) -> int:
    """Somebody taps round the piece on its photo and says where the targets lay."""
    fields = {"taps": tapped(scene(11), np.random.default_rng(12)), "long_row": "225 mm", "lies": lies}
    return owner.send(piece, fields, {"photo": ("piece.png", picture_of(11), "image/png")}).status_code


def test_marks_tapped_on_the_photo_keep_their_kind_and_face(owner: Person, shop: Shop, piece: str) -> None:
    u, v = scene(11).edge_px.mean(axis=0)
    knot = {"kind": "knot", "face": "A", "edge": [[u, v], [u + 90, v], [u + 90, v + 90]]}
    crack = {"kind": "crack", "face": "both", "edge": [[u - 300, v], [u - 900, v], [u - 900, v + 12], [u - 300, v + 12]]}
    assert traced(owner, piece, marks=[knot, crack]) == 303
    answer = answered(owner, shop, piece)
    assert dict(answer.rows)["Marked"] == "knot, face A; crack, both faces"
    assert "knot A" in answer.drawing and "crack both" in answer.drawing
    typed = {"mark_kind": "metal", "mark_face": "B", "mark_at": "12", "mark_across": "6", "mark_long": "1", "mark_wide": "1"}
    assert owner.send(piece.replace("/measured", "/grade"), typed).status_code == 303
    again = dict(answered(owner, shop, piece).rows)
    assert "metal, face B" in again["Marked"]
    assert again["Upper face"] == dict(answer.rows)["Upper face"]  # its photo stays with it


def test_what_was_traced_stands_there_again_and_what_was_typed_besides_stays(owner: Person, shop: Shop, piece: str) -> None:
    u, v = scene(11).edge_px.mean(axis=0)
    knot = {"kind": "knot", "face": "both", "edge": [[u, v], [u + 90, v], [u + 90, v + 90]]}
    assert traced(owner, piece, marks=[knot], corners=[0, 49, 50, 99]) == 303
    typed = {"mark_kind": "metal", "mark_face": "B", "mark_at": "12", "mark_across": "6", "mark_long": "1", "mark_wide": "1"}
    assert owner.send(piece.replace("/measured", "/grade"), typed).status_code == 303
    page = owner.get(piece).text
    taps, photo = (unescape(page.split(f'name="{name}" value="')[1].split('"')[0]) for name in ("taps", "kept"))
    before = json.loads(taps)
    assert before["marks"] == [knot] and before["corners"] == [0, 49, 50, 99] and len(before["edge"]) == 100
    assert owner.send(piece, {"taps": json.dumps({**before, "marks": []}), "kept": photo}).status_code == 303
    sheet = unescape(owner.get(piece).text.split("<textarea")[1].split(">", 1)[1].split("</textarea>")[0])
    assert sheet.count("[[mark]]") == 1 and "metal" in sheet and "photo.mark" not in sheet


def test_a_board_that_was_only_counted_is_marked_without_scripts(owner: Person, hand: Hand, shop: Shop) -> None:
    board = shop.new_id()
    count_piece(hand, PieceCounted(board, "walnut_black", thickness_m=0.0254, length_m=2.4384, widths_m=(0.254, 0.254)))
    address = f"/pieces/{board}/measured"
    assert f"/pieces/{board}/grade#faces" in owner.get(address).text
    size = {"length": "8 ft", "width": "10"}
    typed = {"mark_kind": "hole", "mark_face": "both", "mark_at": "4 ft", "mark_across": "5", "mark_long": "2", "mark_wide": "2"}
    assert owner.send(f"/pieces/{board}/grade", {**size, "thickness": "1", **typed}).status_code == 303
    rows = dict(answered(owner, shop, address).rows)
    # 8 ft by 10 in with a 2 in hole in the middle leaves 8 ft by 4 in beside it, or 3' 11" by 10 in short of it, which is more
    assert rows["Usable rectangle"] == "3' 11\" by 10 in" and rows["Marked"] == "hole, both faces"


def test_a_sheet_changed_by_hand_keeps_its_photo_and_no_other(owner: Person, shop: Shop, piece: str) -> None:
    assert traced(owner, piece) == 303
    before = answered(owner, shop, piece).rows
    sheet = unescape(owner.get(piece).text.split("<textarea")[1].split(">", 1)[1].split("</textarea>")[0])
    assert owner.send(piece, {"sheet": sheet + "# looked at again\n"}).status_code == 303
    assert answered(owner, shop, piece).rows == before
    other = owner.send(piece, {"sheet": sheet.replace('file = "', 'file = "0')})
    assert other.status_code == 422 and "none of this piece" in other.text


def test_without_scripts_the_sheet_is_written_by_hand(owner: Person, shop: Shop, piece: str) -> None:
    sheet = (
        'format = "waney-piece/1"\nunits = "in"\nthickness = "8/4"\n[edges]\nevery = 12\nleft = [9, 10, 9]\nright = [8, 8, 9]\n'
    )
    assert owner.send(piece, {"sheet": sheet}).status_code == 303
    assert "every = 12" in owner.get(piece).text
    assert dict(worked(shop).rows)["Long"] == "2' 0\""
    assert "one was measured" in owner.get(piece).text


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"taps": "nonsense"}, "Tap the corners"),
        ({"taps": json.dumps({"first": [[1, 2]], "edge": [[0, 0]] * 8})}, "four corner marks"),
        ({"sheet": 'format = "waney-piece/1"\n'}, "units"),
        ({"sheet": ""}, "waney-piece/1"),
    ],
)
def test_what_cannot_be_read_stays_on_the_page_with_a_sentence(
    owner: Person, shop: Shop, piece: str, fields: dict[str, str], said: str
) -> None:  # fmt: skip
    answer = owner.send(piece, fields)
    assert answer.status_code == 422 and said in answer.text
    assert jobs.take(shop.book, KINDS, "here", shop.now()) is None


def test_the_target_is_one_page_and_looking_needs_no_sign_in(anybody: Person, piece: str) -> None:
    assert len(PdfReader(BytesIO(anybody.get("/papers/target.pdf").content)).pages) == 1
    page = anybody.get(piece).text
    assert "sign in" in page and "<form" not in page.split("<h1>")[1]


OFFSETS = """\
format = "waney-piece/1"
units = "in"
thickness = "8/4"
true_thickness = 2
[edges]
every = 12
left = [9, 10, 10, 9, 8]
right = [8, 8, 9, 9, 8]
"""


def test_a_piece_measured_by_offsets_is_counted_so_on_every_page(owner: Person, shop: Shop, piece: str) -> None:
    sizing, ident = Sizing(shop), piece.split("/")[2]
    assert owner.send(piece, {"sheet": OFFSETS}).status_code == 303
    assert sizing.look() == 0  # asked, not answered yet
    worked(shop)
    assert sizing.look() == 1 and sizing.look() == 0
    # faces alike: (17/2 + 18 + 19 + 18 + 16/2) x 12 in over 48 in is 17 7/8; 19 at half length, 16 at its end
    page = owner.get(f"/pieces/{ident}").text
    assert "narrow face" in page and "mean of faces" in page
    [found] = pieces_by_id(shop.book, [ident])
    assert found.measured is not None and found.measured.mean_of_faces_m == pytest.approx(17.875 * 0.0254)
    assert (found.least_width_m, found.most_width_m) == (pytest.approx(16 * 0.0254), pytest.approx(19 * 0.0254))
    assert found.measured.area_m2 == pytest.approx(17.875 * 48 * 0.0254**2)
    history = owner.get(f"/pieces/{ident}").text.split("History")[1]
    assert "counted as it was measured" in history and "16 in wide at the narrowest" in history
    assert owner.get("/pieces?width=15.9").text.count(f'href="/pieces/{ident}"') == 1
    assert examine(shop.book).unsound == ()


def test_a_sheet_by_which_nothing_can_be_measured_is_asked_once_and_changes_nothing(hand: Hand, shop: Shop, piece: str) -> None:
    sizing, ident = Sizing(shop), piece.split("/")[2]
    hand.write(PieceMeasured(ident, OFFSETS.replace("[9, 10", '["nine", 10')))
    assert sizing.look() == 0
    job = jobs.take(shop.book, KINDS, "here", shop.now())
    assert job is not None
    jobs.fail(shop.book, job.id, "here", "no size", shop.now())
    assert (sizing.look(), sizing.look()) == (0, 0)
    assert jobs.take(shop.book, KINDS, "here", shop.now()) is None
    assert pieces_by_id(shop.book, [ident])[0].measured is None
