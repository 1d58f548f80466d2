"""The page at the mill without its module: pressing what it serves writes what the module would write."""

from __future__ import annotations

import io
import json
import re
import zipfile
from typing import Any

import pytest
import segno
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
from waney.yard.acts.pieces import Tagged
from waney.yard.book import jobs
from waney.yard.book.days import came_off, happened
from waney.yard.book.looking import history, open_tasks
from waney.yard.book.stories import last_events, log_story
from waney.yard.book.tags import stapled
from waney.yard.commands import Command, write_commands
from waney.yard.names import Name
from waney.yard.services.hand import Hand
from waney.yard.services.logs import NewLog, add_log, choose_plan, keep_plan
from waney.yard.services.mill import names_for_paper, open_day, take_back
from waney.yard.services.pieces import tag_piece
from waney.yard.tag_codes import content

from .conftest import Person
from .pressing import Page, opened
from .test_stored_plans import demo

STEP_M = 0.0015875
HEIGHTS = (200, 180, 160, 140)
PITH = (109, 111)
PAPER = "00000000-0000-4000-8000-00000000f00d"


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


def test_while_the_heights_of_its_plan_are_worked_out_nobody_walks_off_without_them(
    owner: Person, shop: Shop, hand: Hand, eye: str, log: str, day: str
) -> None:
    assert owner.get(eye).headers["waney-keep"] == "yes", "without a plan it is sawn by eye, and the page is kept"
    sheets = {name: demo(name) for name in ("log", "mill", "wants")}
    choose_plan(hand, log, keep_plan(hand, log, 1, write_plan(through_case().plan, sheets)).id, 1)
    waits, beside = owner.get(eye), owner.get(f"/day/{day}/beside?log={log}").text
    assert "are being worked out" in waits.text and "waney-keep" not in waits.headers
    assert owner.client.get(f"{eye}/along", follow_redirects=False).headers["location"] == eye
    assert "mark nothing yet" in beside and "by eye" not in beside and "Write that on the butt end" not in beside


def test_heights_that_could_not_be_worked_out_are_told_so_and_tried_again_by_a_button_alone(
    owner: Person, anybody: Person, shop: Shop, hand: Hand, eye: str, log: str
) -> None:
    sheets = {name: demo(name) for name in ("log", "mill", "wants")}
    choose_plan(hand, log, keep_plan(hand, log, 1, write_plan(through_case().plan, sheets)).id, 1)
    owner.get(eye)
    job = jobs.take(shop.book, (STEPS,), "here", shop.now())
    assert job is not None and jobs.fail(shop.book, job.id, "here", "The plan cannot be read.", shop.now())
    for _ in range(2):
        page = owner.get(eye).text
        assert "The plan cannot be read." in page and "are being worked out" not in page and "by eye until they are" in page
    assert jobs.take(shop.book, (STEPS,), "here", shop.now()) is None, "a look burns no processor"
    assert "Try again" not in anybody.get(eye).text and "The plan cannot be read." in anybody.get(eye).text
    form, headers = {"token": owner.token()}, {"referer": f"{owner.client.base_url}{eye}"}
    pressed = owner.client.post(f"/jobs/{job.id}/again", data=form, headers=headers, follow_redirects=True)
    assert "are being worked out" in pressed.text and jobs.take(shop.book, (STEPS,), "here", shop.now()) is not None
    other = {"referer": str(owner.client.base_url).replace("testserver", "elsewhere") + eye}
    away = owner.client.post(f"/jobs/{job.id}/again", data=form, headers=other)
    assert away.history[0].headers["location"] == "/", "nobody is led away from the yard"


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
    assert piece.thickness_m == pytest.approx(0.0254 + off * STEP_M)
    assert piece.height_m == pytest.approx((180 - off) * STEP_M), "where the blade really stood"
    assert (piece.off_by_m or 0.0) == pytest.approx(off * STEP_M)
    assert height(opened(owner, mill)) == then
    opened(owner, mill).press(owner, "Undo")
    assert height(opened(owner, mill)) == 180 and came_off(shop.book, day) == ()


def words_of(page: Page) -> str:
    """What is read on it, without its data."""
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", "", re.sub(r"(?s)<script.*?</script>", "", page.text)))


def test_after_a_thin_piece_the_page_says_how_thick_the_next_comes_and_sawn_writes_that(
    owner: Person, shop: Shop, mill: str, day: str
) -> None:
    opened(owner, mill).press(owner, "Too thin by 1/8 in")
    page = opened(owner, mill)
    assert "Comes 1 1/8 in" in words_of(page) and "1/8 in more than planned" in words_of(page) and height(page) == 160
    assert "Counted from 1 1/8 in, as it was to come off" in words_of(page)
    assert "it comes 1 1/8 in thick" in words_of(Page(mill, owner.get(f"/day/{day}/beside").text))
    page.press(owner, "Sawn")
    page = opened(owner, mill)
    assert "than planned" not in words_of(page) and height(page) == 140, "the one after it comes as planned"
    page.press(owner, "Sawn")
    assert [round((one.thickness_m or 0) / STEP_M, 3) for one in came_off(shop.book, day)] == [14, 18, 16]
    assert [one.how for one in came_off(shop.book, day)] == ["thin", "as meant", "as meant"]
    assert [one.off_by_m for one in came_off(shop.book, day)][1:] == [None, None]


def test_a_miss_is_counted_from_what_was_to_come(owner: Person, shop: Shop, mill: str, day: str) -> None:
    opened(owner, mill).press(owner, "Too thin by 1/8 in")
    opened(owner, mill).press(owner, "Too thick by 1/4 in")  # 1 3/8 in, where 1 1/8 in was to come: the blade stood 1/4 in low
    piece = came_off(shop.book, day)[1]
    assert round((piece.thickness_m or 0) / STEP_M, 3) == 22 and round((piece.height_m or 0) / STEP_M, 3) == 156
    page = opened(owner, mill)
    assert height(page) == 136 and "than planned" not in words_of(page)
    page.press(owner, "Undo")
    assert "Comes 1 1/8 in" in words_of(opened(owner, mill)) and height(opened(owner, mill)) == 160


def test_after_a_wedge_the_heights_stand_and_the_page_says_to_look(owner: Person, mill: str) -> None:
    opened(owner, mill).press(owner, "Wedge")
    assert "may be a wedge the other way round" in words_of(opened(owner, mill)) and height(opened(owner, mill)) == 160
    opened(owner, mill).press(owner, "Sawn")
    assert "a wedge the other way round" not in words_of(opened(owner, mill))


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
    offered = next(one for one in opened(owner, eye).controls if one.name == "how").options
    assert [one for one in offered if one.startswith("thi")] == [
        *(f"thick {n}" for n in (2, 4, 6, 8)),
        *(f"thin -{n}" for n in (2, 4, 6, 8)),
    ]
    told: tuple[tuple[str, str, float | None, float | None], ...] = (
        ("2 in", "as meant", 0.0508, None),
        ("1 1/2 in", "wedge", 0.0381, None),
        ("1 in", "short", 0.0254, None),
        ("Thickness not known", "spoiled", None, None),
        ("2 in", "thick 4", 0.05715, 0.00635),
        ("1 in", "thin -2", 0.022225, -0.003175),
        ("Thickness not known", "thin -6", None, -0.009525),
    )
    for words, how, _, _ in told:
        assert opened(owner, eye).press(owner, words, how=how).status_code == 200
    off = came_off(shop.book, day)
    assert [(one.how, one.thickness_m, one.off_by_m) for one in off] == [
        (how.split(" ")[0] if how[:3] == "thi" else how, thick, off_by) for _, how, thick, off_by in told
    ]
    assert [piece.boule_place for piece in log_story(shop.book, off[0].log).pieces] == [1, 2, 3, 4, 5, 6, 7]
    words = [one.words for one in opened(owner, eye).controls if one.name == "thickness"]
    assert words[:3] == ["1 in", "2 in", "1 1/2 in"], "as they were meant"


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


# tags


def tag_picture(name: Name) -> bytes:
    code = io.BytesIO()
    segno.make(content(name), error="q", micro=False).save(code, kind="png", scale=6)
    return code.getvalue()


@pytest.fixture
def off(owner: Person, shop: Shop, eye: str, day: str) -> list[str]:
    """Three pieces that came off by eye."""
    for words in ("2 in", "1 1/2 in", "1 in"):
        opened(owner, eye).press(owner, words)
    return [one.piece for one in came_off(shop.book, day)]


def stapled_on(person: Person, address: str, written: str = "", photo: bytes = b"", about: str = "") -> Any:
    """What pressing "It is stapled on" sends; about: of the piece that came off last, where nothing else is chosen."""
    page = opened(person, address)
    fields = {one.name: one.value for one in page.controls if one.owner == page.button("It is stapled on").owner and one.name}
    data = fields | {"name": written} | ({"about": about} if about else {})
    files = {"tag": ("tag.png" if photo else "", photo, "image/png")}
    data.pop("tag")
    return person.client.post(f"{address}/tag", data=data, files=files, follow_redirects=True)


def test_a_tag_is_told_by_four_characters_or_a_photo_and_taken_back(
    owner: Person, hand: Hand, shop: Shop, eye: str, day: str, off: list[str]
) -> None:
    typed, seen = names_for_paper(hand, 2, "BACK")
    before = [one.name for one in came_off(shop.book, day)]
    answer = stapled_on(owner, eye, str(typed).replace("-", "").lower()[-4:])
    assert f"Last: {typed} tag stapled on" in answer.text
    assert f"{typed}, has a tag" in answer.text and before[2] not in answer.text.split("<noscript>")[-1].split("</noscript>")[0]
    assert stapled_on(owner, eye, photo=tag_picture(seen), about=f"piece:{off[0]}").status_code == 200
    assert [one.name for one in came_off(shop.book, day)] == [str(seen), before[1], str(typed)]
    for _ in range(2):
        opened(owner, eye).press(owner, "Undo")
    assert [one.name for one in came_off(shop.book, day)] == before
    opened(owner, eye).press(owner, "Undo")  # the piece itself
    assert [one.name for one in came_off(shop.book, day)] == before[:2] and open_tasks(shop.book) == ()


def test_beside_the_mill_a_second_tag_leaves_the_crayon_name_and_so_does_the_page_once_the_first_is_taken_back(
    owner: Person, hand: Hand, shop: Shop, eye: str, day: str, off: list[str]
) -> None:
    first, second = map(str, names_for_paper(hand, 2))
    crayon, log = came_off(shop.book, day)[1].name, came_off(shop.book, day)[1].log
    tag_piece(hand, off[1], first)
    slip = stapled(shop.book, day)[0]
    tag_piece(hand, off[1], second)
    assert f"tag stapled on</strong>, {crayon} on the butt end" in owner.get(f"/day/{day}/beside").text
    take_back(hand, slip.command, f"piece:{off[1]}")
    assert f"tag stapled on</strong>, {crayon} on the butt end" in owner.get(f"/day/{day}/beside").text
    done = owner.get(f"/api/day/{day}/at/{log}").json()["done"]
    assert [one["name"] for one in done if one["about"] == f"piece:{off[1]}"] == [crayon, second]


def test_a_tag_that_cannot_be_is_refused_with_a_sentence_and_nothing_is_written(
    owner: Person, hand: Hand, shop: Shop, eye: str, off: list[str]
) -> None:
    tag = names_for_paper(hand, 9, "BACK")[3]
    stapled_on(owner, eye, str(tag), about=f"piece:{off[0]}")
    before = newest(shop)
    for written, says in (
        (str(tag), "stands on another piece already"),
        ("BACK-4-A", "fits no tag"),
        (str(Name("W", 0)), "tag of a log"),
    ):
        answer = stapled_on(owner, eye, written)
        assert answer.status_code == 422 and says in answer.text and 'id="tag-name"' in answer.text
    again = stapled_on(owner, eye, "BACK-4-A", about=f"piece:{off[1]}").text
    assert 'value="BACK-4-A"' in again and f'<option value="piece:{off[1]}" selected>' in again
    assert '<details open><summary class="button second">Tag stapled on' in again, "what was typed stands there, in sight"
    assert "fits no tag" in stapled_on(owner, eye).text
    assert stapled_on(owner, eye, str(tag), about="piece:elsewhere").status_code == 400
    assert newest(shop) == before


def test_a_tag_that_somebody_else_was_quicker_with_is_refused_as_its_list_arrives(
    helper: Person, hand: Hand, shop: Shop, day: str, off: list[str]
) -> None:
    tag, own = str(names_for_paper(hand, 9, "BACK")[3]), came_off(shop.book, day)[1].name
    device = shop.new_id()
    acts = (Tagged(off[0], tag), Tagged(off[1], tag))
    commands = (Command(shop.new_id(), device, n, "", "2026-05-04T09:00:00+00:00", act) for n, act in enumerate(acts, 1))
    text, headers = write_commands(device, tuple(commands)), {"x-waney-token": helper.token()}
    for came in ("written", "written before"):
        answer = helper.client.post("/api/commands", content=text, headers=headers).json()["commands"]
        assert [one["came"] for one in answer] == [came] * 2
        assert [one["sentence"] for one in answer] == [
            "", f"{tag} stands on something else already; this piece stays {own}: look at both tags."
        ]  # fmt: skip
    held = helper.get(f"/api/day/{day}/at/{came_off(shop.book, day)[0].log}").json()
    assert [one["name"] for one in held["done"] if one["kind"] == "tagged"] == [tag]
    assert {"code": "BACK", "first": 4, "last": 4} in held["tags"]["taken"]
    assert [each for each in held["tags"]["free"] if each["code"] == "BACK"] == [
        {"code": "BACK", "first": 1, "last": 3}, {"code": "BACK", "first": 5, "last": 9}
    ]  # fmt: skip


def test_a_tally_typed_in_later_takes_four_characters_of_a_tag_and_comes_once(
    owner: Person, hand: Hand, shop: Shop, day: str, log: str
) -> None:
    tag = names_for_paper(hand, 9, "BACK")[3]
    empty = dict.fromkeys(("thick", "butt", "top", "long", "remark", "how"), "")
    for _ in range(2):
        answer = owner.send(f"/day/{day}/typed", {"paper": PAPER, "log": log, "name": str(tag)[-6:], **empty})
        assert answer.status_code == 200, answer.text
    assert [one.name for one in came_off(shop.book, day)] == [str(tag)]


def test_the_desk_binds_a_tag_by_four_characters_too(owner: Person, hand: Hand) -> None:
    tag = names_for_paper(hand, 9, "BACK")[3]
    assert f"<h2>Tag {tag}</h2>" in owner.get(f"/tags/bind?name={str(tag)[-6:]}").text
