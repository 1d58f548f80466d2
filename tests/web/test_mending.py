"""What went wrong at the mill is put right in the app: a typed tally, a jumbled boule, exchanged names, photos of faces."""

from __future__ import annotations

import io
import re

import pytest
from PIL import Image

from waney.web.shop import Shop
from waney.yard.acts.logs import PlanMade
from waney.yard.acts.mill import CameOff
from waney.yard.book.days import came_off
from waney.yard.book.looking import pieces
from waney.yard.book.stories import log_story
from waney.yard.services.hand import Hand
from waney.yard.services.logs import NewLog, add_log
from waney.yard.services.mill import open_day, take_off
from waney.yard.services.pieces import name_spot

from .conftest import ROOT, Person

EXAMPLE = (ROOT / "docs" / "examples" / "log-taped.toml").read_text(encoding="utf-8")
COLUMNS = ("name", "thick", "butt", "top", "long", "remark", "how")


@pytest.fixture
def log(hand: Hand) -> str:
    return add_log(hand, NewLog(EXAMPLE, code="W")).id


@pytest.fixture
def day(hand: Hand) -> str:
    return open_day(hand, "2026-05-04").id


@pytest.fixture
def boule(hand: Hand, shop: Shop, log: str) -> list[str]:
    """Four pieces off a log; the book has them in a wrong order."""
    off = [shop.new_id() for _ in range(4)]
    for n, piece in enumerate(off, 1):
        take_off(hand, CameOff(piece, log=log, order=n, thickness_m=0.0508))
    return off


def sheet(*lines: tuple[str, ...]) -> dict[str, list[str]]:
    return {column: [line[i] for line in lines] for i, column in enumerate(COLUMNS)}


def paper(person: Person, day: str) -> str:
    found = re.search(r'name="paper" value="([0-9a-f-]+)"', person.get(f"/day/{day}/typed").text)
    assert found is not None
    return found[1]


def test_a_typed_tally_names_its_pieces_and_goes_where_pieces_go(
    owner: Person, hand: Hand, shop: Shop, log: str, day: str
) -> None:
    shed = name_spot(hand, "Shed").id
    owner.send(f"/day/{day}/spot", {"spot": shed})
    lines = sheet(
        ("", "2 1/8", "12 1/4", "11", "8 ft 6", "curly", "as meant"), ("", "", "", "", "", "", "as meant"),
        ("", "54 mm", "", "", "", "", "wedge"),
    )  # fmt: skip
    answer = owner.send(f"/day/{day}/typed", {"log": log, "paper": paper(owner, day), "do": "write", **lines})
    assert answer.status_code == 200
    off = pieces(shop.book, log)
    assert [(one.how, one.spot, round(one.thickness_m or 0, 6)) for one in off] == [
        ("as meant", shed, 0.053975), ("wedge", shed, 0.054),
    ]  # fmt: skip
    assert len(came_off(shop.book, day, log)) == 2, "an empty line is no piece"


def test_a_line_that_cannot_be_read_is_said_and_nothing_is_written(owner: Person, shop: Shop, log: str, day: str) -> None:
    lines = sheet(("", "2", "", "", "", "", "as meant"), ("W-1-Q", "two", "", "", "", "kept", "as meant"))
    answer = owner.send(f"/day/{day}/typed", {"log": log, "paper": paper(owner, day), "do": "write", **lines})
    assert answer.status_code == 422
    assert 'value="kept"' in answer.text, "what was typed stays"
    assert answer.text.count('role="alert"') == 2
    assert pieces(shop.book, log) == ()


def test_a_sheet_sent_twice_is_written_once(owner: Person, shop: Shop, log: str, day: str) -> None:
    told = {"log": log, "paper": paper(owner, day), "do": "write", **sheet(("", "2", "", "", "", "", "as meant"))}
    owner.send(f"/day/{day}/typed", told)
    assert "written before" in owner.send(f"/day/{day}/typed", told).text
    assert len(pieces(shop.book, log)) == 1


def test_more_lines_keep_what_stands_there(owner: Person, log: str, day: str) -> None:
    told = {"log": log, "paper": paper(owner, day), "do": "more", **sheet(("", "2", "", "", "", "here", "as meant"))}
    shown = owner.send(f"/day/{day}/typed", told).text
    assert 'value="here"' in shown
    assert shown.count("<legend>Line") > 1


def test_the_order_found_by_widths_can_be_kept(owner: Person, shop: Shop, log: str, boule: list[str]) -> None:
    widths = {0: ("15", "16 1/2"), 1: ("8", "12"), 2: ("16 5/8", "15 1/2"), 3: ("12 1/8", "14 7/8")}
    typed = {f"{which}-{boule[n]}": pair[i] for n, pair in widths.items() for i, which in enumerate(("first", "second"))}
    places = {f"place-{piece}": str(n) for n, piece in enumerate(boule, 1)}
    found = owner.send(f"/logs/{log}/boule", {"piece": boule, "do": "find", **typed, **places})
    assert found.status_code == 200
    numbered = re.findall(r'name="place-([0-9a-f-]+)" value="(\d+)"', found.text)
    order = [piece for piece, _ in sorted(numbered, key=lambda at: int(at[1]))]
    assert order in ([boule[n] for n in (1, 3, 0, 2)], [boule[n] for n in (2, 0, 3, 1)])
    places = {f"place-{piece}": str(n) for n, piece in enumerate(order, 1)}
    owner.send(f"/logs/{log}/boule", {"piece": boule, "do": "keep", "words": "by their widths", **places})
    kept = sorted(log_story(shop.book, log).pieces, key=lambda one: one.boule_place or 0)
    assert [one.id for one in kept] == order


def test_numbers_that_are_no_order_are_said(owner: Person, shop: Shop, log: str, boule: list[str]) -> None:
    answer = owner.send(f"/logs/{log}/boule", {"piece": boule, "do": "keep", **{f"place-{piece}": "1" for piece in boule}})
    assert answer.status_code == 422
    assert "from 1 to 4" in answer.text
    assert [one.boule_place for one in log_story(shop.book, log).pieces] == [1, 2, 3, 4]


def test_names_are_exchanged_from_the_page_of_the_boule(owner: Person, shop: Shop, log: str, boule: list[str]) -> None:
    before = {one.id: one.name for one in pieces(shop.book, log)}
    owner.send(f"/logs/{log}/boule/names", {"one": boule[0], "other": boule[1]})
    after = {one.id: one.name for one in pieces(shop.book, log)}
    assert (after[boule[0]], after[boule[1]]) == (before[boule[1]], before[boule[0]])


def test_a_photo_of_a_face_sent_twice_is_kept_once(owner: Person, shop: Shop, log: str, day: str) -> None:
    picture = io.BytesIO()
    Image.new("RGB", (40, 30), "white").save(picture, "JPEG")
    address = f"/api/day/{day}/at/{log}/photo/{shop.new_id()}"
    for _ in range(2):
        answer = owner.send(address, {}, {"photo": ("face", picture.getvalue(), "image/jpeg")})
        assert answer.json() == {"kept": True}
    assert [photo.shows for photo in log_story(shop.book, log).photos] == ["a face, at the mill on 2026-05-04"]


def test_what_is_no_photo_of_a_face_is_answered_with_a_sentence(owner: Person, shop: Shop, log: str, day: str) -> None:
    answer = owner.send(f"/api/day/{day}/at/{log}/photo/{shop.new_id()}", {}, {"photo": ("face", b"<svg/>", "image/svg+xml")})
    assert answer.status_code in (400, 413, 422)
    assert answer.json()["sentence"].endswith(".")
    assert log_story(shop.book, log).photos == ()


def test_a_piece_whose_plan_file_is_lost_still_has_its_page(owner: Person, hand: Hand, shop: Shop, log: str) -> None:
    plan = shop.new_id()
    hand.write(PlanMade(plan, log, 1, shop.book.files.keep(b"a plan"), "through", 1))
    piece = shop.new_id()
    take_off(hand, CameOff(piece, log=log, plan=plan, cut=1, thickness_m=0.05))
    for file in (shop.book.files.folder).rglob("*"):
        if file.is_file() and file.read_bytes() == b"a plan":
            file.unlink()
    shown = owner.get(f"/pieces/{piece}")
    assert shown.status_code == 200
    assert "Its place in the log" in shown.text
