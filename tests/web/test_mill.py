"""The page at the mill without its module: pressing what it serves writes what the module would write."""

from __future__ import annotations

import io
import json
import re
import zipfile

import pytest
from PIL import Image
from tests.papers.conftest import through_case

from waney.papers.mill_steps import AtMill, Comes, Kind, Step
from waney.papers.words import measure
from waney.sawing.plan_file import write_plan
from waney.units.direction import Direction
from waney.units.length import Grain
from waney.web.asked.kinds import STEPS
from waney.web.asked.packing import as_bytes
from waney.web.shop import Shop
from waney.yard.book import jobs
from waney.yard.book.days import came_off, happened
from waney.yard.book.looking import history
from waney.yard.book.stories import last_events, log_story
from waney.yard.services.hand import Hand
from waney.yard.services.logs import NewLog, add_log, choose_plan, keep_plan
from waney.yard.services.mill import open_day

from .conftest import Person
from .pressing import Page, opened
from .test_stored_plans import demo

STEP_M = 0.0015875
HEIGHTS = (200, 180, 160, 140)
PITH = (109, 111)


def the_steps() -> AtMill:
    """An outside slab and three boards off one lie; a bed scale of sixteenths."""
    comes = (Comes("", False, "Outside slab"), *(Comes(f"W-{n}", True, "a board", "board", 0.0254, 3.0) for n in (1, 2, 3)))
    cuts = (Step(Kind.CUT, 0, "", n, height, off) for n, (height, off) in enumerate(zip(HEIGHTS, comes, strict=True), 1))
    sixteenths = (measure(n * STEP_M, Grain.SIXTEENTH_INCH, Direction.READ) for n in range(300))
    printed = tuple((one.whole, one.over, one.under, one.unit) for one in sixteenths)
    steps = (Step(Kind.ROLL_ON, 0, "Roll it on."), *cuts)
    return AtMill("W", "oak_white", STEP_M, 0.002, 2, printed, (PITH,), steps)


@pytest.fixture
def day(hand: Hand) -> str:
    return open_day(hand, "2026-05-04").id


@pytest.fixture
def log(hand: Hand) -> str:
    return add_log(hand, NewLog(demo("log"), code="W")).id


@pytest.fixture
def eye(owner: Person, log: str, day: str) -> str:
    """The page of a log that is sawn by eye."""
    return f"/day/{day}/at/{log}"


@pytest.fixture
def mill(hand: Hand, owner: Person, shop: Shop, eye: str, log: str) -> str:
    """The page of the same log with a plan, whose outside slab is off. Its steps are ours, not those of the plan."""
    sheets = {name: demo(name) for name in ("log", "mill", "wants")}
    choose_plan(hand, log, keep_plan(hand, log, 1, write_plan(through_case().plan, sheets)).id, 1)
    owner.get(eye)
    job, answer = jobs.take(shop.book, (STEPS,), "here", shop.now()), io.BytesIO()
    assert job is not None
    with zipfile.ZipFile(answer, "w") as files:
        files.writestr("mill.json", as_bytes(the_steps()))
    jobs.finish(shop.book, job.id, "here", answer.getvalue(), shop.now())
    for words in ("Done", "Sawn"):
        assert opened(owner, eye).press(owner, words).status_code == 200
    assert height(opened(owner, eye)) == 180
    return eye


def height(page: Page) -> int:
    """The huge figure, in marks of the scale."""
    found = re.search(r'id="height">(.*?) <span class="unit">', page.text, re.S)
    assert found is not None
    whole, *fraction = re.sub(r"<[^>]+>", "", found[1]).split()
    over, under = map(int, fraction[0].split("/")) if fraction else (0, 1)
    return int(whole) * 16 + over * 16 // under


def newest(shop: Shop) -> int:
    return last_events(shop.book, 1)[0].event.seq


@pytest.mark.parametrize("kind", ["eye", "mill"])
def test_no_button_of_the_page_is_dead(kind: str, request: pytest.FixtureRequest, owner: Person, shop: Shop) -> None:
    address = request.getfixturevalue(kind)
    page = opened(owner, address)
    words = set(page.each_kind()) - {"Undo", "Keep the photo"}
    by_plan = {"Sawn", "Wedge", "Too thick by 1/8 in", "Too thin by 1/8 in", "That is how it stands"}
    assert words > (by_plan if kind == "mill" else {"Moved or clamped again"}) | {"1 in", "Found rot", "Kept as a cant"}
    for each in words:
        for pressed in (each, "Undo"):
            before = newest(shop)
            page = Page(address, page.press(owner, pressed).text)
            assert newest(shop) > before, (each, pressed)


@pytest.mark.parametrize(
    ("words", "how", "off", "then"),
    [
        ("Too thick by 1/4 in", "thick", 4, 156),
        ("Too thick by 1/2 in", "thick", 8, 152),
        ("Too thin by 1/4 in", "thin", -4, 160),
        ("Wedge", "wedge", 0, 160),
        ("Short", "short", 0, 160),
        ("Spoiled", "spoiled", 0, 160),
        ("Sawn", "as meant", 0, 160),
    ],
)
def test_how_it_came_off_is_written_and_later_heights_are_counted_again(
    owner: Person, shop: Shop, mill: str, day: str, words: str, how: str, off: int, then: int
) -> None:
    named = re.search(r'Write <span class="name">([^<]+)', opened(owner, mill).text)
    opened(owner, mill).press(owner, words)
    [piece] = came_off(shop.book, day)
    assert named is not None and (piece.name, piece.how, piece.cut) == (named[1], how, 2)
    assert piece.thickness_m == pytest.approx(0.0254 + off * STEP_M) and piece.height_m == pytest.approx(180 * STEP_M)
    assert (piece.off_by_m or 0.0) == pytest.approx(off * STEP_M)
    assert height(opened(owner, mill)) == then
    opened(owner, mill).press(owner, "Undo")
    assert height(opened(owner, mill)) == 180 and came_off(shop.book, day) == ()


def test_where_the_pith_stands_after_clamping_again_moves_the_heights(owner: Person, shop: Shop, mill: str, day: str) -> None:
    opened(owner, mill).press(owner, "That is how it stands", butt=str(PITH[0] + 2), top=str(PITH[1] + 6))
    told = happened(shop.book, day)[-1]
    assert json.loads(told.pith_m) == pytest.approx([111 * STEP_M, 117 * STEP_M])
    page = opened(owner, mill)
    assert height(page) == 184 and "its top end is" in page.text and "too high" in page.text
    page.press(owner, "That is how it stands")  # as the plan has it: what the page offers first
    assert height(opened(owner, mill)) == 180


def test_the_pith_at_one_end_alone_is_asked_about(owner: Person, shop: Shop, mill: str) -> None:
    before = newest(shop)
    answer = owner.send(mill, {"do": "moved or clamped again", "butt": "100"})
    assert answer.status_code == 400 and "both ends" in answer.text and newest(shop) == before


@pytest.mark.parametrize("kind", ["eye", "mill"])
def test_metal_is_told_with_its_place_or_without(
    kind: str, request: pytest.FixtureRequest, owner: Person, shop: Shop, day: str
) -> None:
    address = request.getfixturevalue(kind)
    page = opened(owner, address)
    assert "look at the face" in page.text
    page.press(owner, "Found metal", along_m="0.6096", clock="4")
    opened(owner, address).press(owner, "Found rot")
    metal, rot = (json.loads(one.body) for one in history(shop.book, f"day:{day}")[-2:])
    assert (metal["what"], metal["along_m"], metal["clock"]) == ("found metal", 0.6096, 4)
    assert rot["what"] == "found rot" and "along_m" not in rot and "clock" not in rot


def test_by_eye_a_piece_has_its_thickness_and_how_it_came_off(owner: Person, shop: Shop, eye: str, day: str) -> None:
    for words, how in (("2 in", "as meant"), ("1 1/2 in", "wedge"), ("1 in", "short"), ("Thickness not known", "spoiled")):
        assert opened(owner, eye).press(owner, words, how=how).status_code == 200
    off = came_off(shop.book, day)
    assert [(one.how, one.thickness_m) for one in off] == [
        ("as meant", 0.0508), ("wedge", 0.0381), ("short", 0.0254), ("spoiled", None)
    ]  # fmt: skip
    assert [piece.boule_place for piece in log_story(shop.book, off[0].log).pieces] == [1, 2, 3, 4]


def test_a_piece_that_the_plan_does_not_know_leaves_its_next_cut_where_it_is(
    owner: Person, shop: Shop, mill: str, day: str
) -> None:
    opened(owner, mill).press(owner, "1 1/4 in")
    [piece] = came_off(shop.book, day)
    assert (piece.cut, piece.thickness_m) == (None, 0.03175) and height(opened(owner, mill)) == 180


@pytest.mark.parametrize("words", ["Sawn", "Undo", "Too thick by 1/8 in"])
def test_a_press_that_comes_twice_is_written_once_and_the_page_says_so(owner: Person, shop: Shop, mill: str, words: str) -> None:
    page = opened(owner, mill)
    assert "Nothing was written" not in page.press(owner, words).text
    before = newest(shop)
    assert "Nothing was written" in page.press(owner, words).text and newest(shop) == before


def test_a_photo_of_this_face_is_kept_once_and_none_chosen_is_said(owner: Person, shop: Shop, eye: str, log: str) -> None:
    picture = io.BytesIO()
    Image.new("RGB", (40, 30), "white").save(picture, "JPEG")
    page = opened(owner, eye)
    assert "No photo was chosen" in page.press(owner, "Keep the photo").text
    assert log_story(shop.book, log).photos == ()
    for _ in range(2):
        assert "photo of this face is kept" in page.press(owner, "Keep the photo", photo=picture.getvalue()).text
    assert [one.shows for one in log_story(shop.book, log).photos] == ["a face, at the mill on 2026-05-04"]


def test_who_may_not_write_finds_nothing_to_press(anybody: Person, mill: str) -> None:
    assert opened(anybody, mill).buttons() == []
