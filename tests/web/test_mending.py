"""What went wrong at the mill is put right in the app: a typed tally, a jumbled boule, exchanged names, photos of faces."""

from __future__ import annotations

import io
import re

import numpy as np
import pytest
from PIL import Image
from tests.papers.conftest import through_case
from tests.pieces.drawn_boules import KNOTTY, by_outlines, drawn_log, sawn

from waney.pieces.faces_met import TwoFaces
from waney.sawing.facts.boule_planned import boule_planned
from waney.sawing.plan_file import write_plan
from waney.web.asked.kinds import BOULE
from waney.web.asking import KINDS
from waney.web.shop import Shop
from waney.yard.acts.logs import PlanMade
from waney.yard.acts.mill import CameOff
from waney.yard.book import jobs
from waney.yard.book.days import came_off
from waney.yard.book.looking import pieces
from waney.yard.book.stories import log_story, piece_story
from waney.yard.names import Name
from waney.yard.services.hand import Hand
from waney.yard.services.logs import NewLog, add_log, choose_plan, keep_plan
from waney.yard.services.mill import open_day, take_off
from waney.yard.services.pieces import measure_piece, name_spot

from .conftest import ROOT, Person
from .test_stored_plans import demo

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
    assert "Written before." in owner.send(f"/day/{day}/typed", told).text
    assert len(pieces(shop.book, log)) == 1


def test_more_lines_keep_what_stands_there(owner: Person, log: str, day: str) -> None:
    told = {"log": log, "paper": paper(owner, day), "do": "more", **sheet(("", "2", "", "", "", "here", "as meant"))}
    shown = owner.send(f"/day/{day}/typed", told).text
    assert 'value="here"' in shown
    assert shown.count("<legend>Line") > 1


def test_a_log_without_pieces_and_one_with_a_single_piece_are_said_to_need_no_order(
    owner: Person, hand: Hand, shop: Shop, log: str
) -> None:
    assert "No piece of this log is there" in owner.get(f"/logs/{log}/boule").text
    piece = shop.new_id()
    take_off(hand, CameOff(piece, log=log, name=str(Name("W", 1)), order=1))
    assert f"Only {Name('W', 1)} of this log is there" in owner.get(f"/logs/{log}/boule").text


def by_plan(hand: Hand, log: str) -> list[tuple[float, float]]:
    """A plan is chosen for the log; the widths of its faces [in], from what comes off first on."""
    sheets = {name: demo(name) for name in ("log", "mill", "wants")}
    plan = through_case().plan
    choose_plan(hand, log, keep_plan(hand, log, 1, write_plan(plan, sheets)).id, 1)
    return [(round(upper / 0.0254, 3), round(under / 0.0254, 3)) for upper, under in boule_planned(plan)]


@pytest.mark.parametrize("first", [0, -1])
def test_which_end_came_off_first_is_told_by_the_logs_plan(owner: Person, hand: Hand, shop: Shop, log: str, first: int) -> None:
    """Whichever of the two was named first, and whichever face was taped first."""
    planned = by_plan(hand, log)
    off = [shop.new_id() for _ in planned]
    for n, piece in enumerate(off if first == 0 else off[::-1], 1):
        take_off(hand, CameOff(piece, log=log, order=n))
    lying = {piece: wide if n % 2 else wide[::-1] for n, (piece, wide) in enumerate(zip(off, planned, strict=True))}
    typed = {f"{which}-{piece}": str(wide[i]) for piece, wide in lying.items() for i, which in enumerate(("first", "second"))}
    page = found(owner, shop, log, {"piece": off if first == 0 else off[::-1], "do": "find", **typed})
    assert "came off first</strong>, by the widths that the log's plan has" in page
    numbered = re.findall(r'name="place-([0-9a-f-]+)" value="(\d+)"', page)
    assert [piece for piece, _ in sorted(numbered, key=lambda at: int(at[1]))] == off


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


@pytest.fixture
def traced_boule(hand: Hand, shop: Shop, log: str, boule: list[str]) -> list[str]:
    """Four pieces, by the order in the book, whose faces were traced; they lay in the log as 3, 1, 4, 2."""
    lay = sawn(drawn_log(np.random.default_rng(1), KNOTTY), 0.0508, 0.0024, 4)
    draw = np.random.default_rng(2)
    for n, piece in zip((2, 0, 3, 1), lay, strict=True):
        told = by_outlines(both=True)(draw, piece, n == 0)
        measure_piece(hand, boule[n], f'format = "waney-piece/1"\nunits = "mm"\nthickness = 50.8\n{edges(told)}')
    return [boule[n] for n in (2, 0, 3, 1)]


def edges(told: TwoFaces) -> str:
    """Both outlines as offsets from a line along the piece, every 60 mm."""
    at = np.arange(0.0, 1700.0, 60.0)
    tables = []
    for heading, face in (("edges", told.first_edge), ("under", told.second_edge)):
        assert face is not None
        low, high = face.edges_at(at / 1000.0 + 0.001)
        left, right = ([round(float(one) * 1000.0, 1) for one in side] for side in (high + 1.0, 1.0 - low))
        tables.append(f"[{heading}]\nat = {at.tolist()}\nleft = {left}\nright = {right}\n")
    return "".join(tables)


def test_the_order_found_by_outlines_is_offered_with_its_doubt_and_kept_when_somebody_says_so(
    owner: Person, shop: Shop, log: str, boule: list[str], traced_boule: list[str]
) -> None:
    page = owner.get(f"/logs/{log}/boule").text
    assert page.count("The outline of both faces is") == 4
    places = {f"place-{piece}": str(n) for n, piece in enumerate(boule, 1)}
    sent = owner.send(f"/logs/{log}/boule", {"piece": boule, "do": "find", f"first-{boule[0]}": "", **places})
    assert sent.status_code == 303
    found = sent.headers["location"].partition("#")[0]
    assert "stands in line" in owner.get(found).text
    job = jobs.take(shop.book, (BOULE,), "here", shop.now())
    assert job is not None
    jobs.finish(shop.book, job.id, "here", KINDS[BOULE](shop.book.files.read(job.input), lambda *_: None), shop.now())
    page = owner.get(found).text
    numbered = re.findall(r'name="place-([0-9a-f-]+)" value="(\d+)"', page)
    order = [piece for piece, _ in sorted(numbered, key=lambda at: int(at[1]))]
    assert order in (traced_boule, traced_boule[::-1])
    assert "Sure" in page or "Not sure" in page
    assert 'name="words" type="text" value="by the outlines of their faces"' in page
    assert [one.boule_place for one in log_story(shop.book, log).pieces] == [1, 2, 3, 4], "nothing is written until it is kept"
    kept = {
        "piece": order,
        "do": "keep",
        "words": "by their outlines",
        **{f"place-{one}": str(n) for n, one in enumerate(order, 1)},
    }
    assert owner.send(f"/logs/{log}/boule", kept).status_code == 303
    assert [one.id for one in log_story(shop.book, log).pieces] == order
    history = [told.event.kind for told in piece_story(shop.book, boule[0]).events]
    assert history.count("came-off") == 1 and history[-1] == "boule-put-in-order"


def test_a_piece_with_one_traced_face_is_named_and_left_out(
    owner: Person, hand: Hand, shop: Shop, log: str, boule: list[str]
) -> None:
    line = "[edges]\nat = [0, 1000, 2000]\nleft = [150, 160, 150]\nright = [150, 140, 150]\n"
    measure_piece(hand, boule[3], f'format = "waney-piece/1"\nunits = "mm"\nthickness = 50.8\n{line}')
    widths = {f"{which}-{piece}": typed for piece, pair in zip(boule[:3], (("8", "12"), ("15", "16 1/2"), ("12 1/8", "14 7/8")),
              strict=True) for which, typed in zip(("first", "second"), pair, strict=True)}  # fmt: skip
    page = found(owner, shop, log, {"piece": boule, "do": "find", **widths})
    assert "<h2>By the widths of their faces</h2>" in page and 'value="by the widths of their faces"' in page
    assert "tape the widths of both, or read the edges of its under face too" in page
    assert 'value="12 1/8"' in page, "what was typed stands there"
    assert page.count(" face up") == 3


def found(person: Person, shop: Shop, log: str, sent: dict[str, str | list[str]]) -> str:
    """The page once a worker has looked for the order."""
    answer = person.send(f"/logs/{log}/boule", sent)
    job = jobs.take(shop.book, (BOULE,), "here", shop.now())
    assert job is not None
    jobs.finish(shop.book, job.id, "here", KINDS[BOULE](shop.book.files.read(job.input), lambda *_: None), shop.now())
    return person.get(answer.headers["location"].partition("#")[0]).text


def test_an_order_by_widths_and_some_outlines_says_so_and_what_was_typed_of_it_stays(
    owner: Person, shop: Shop, log: str, boule: list[str], traced_boule: list[str], hand: Hand
) -> None:
    flat = 'format = "waney-piece/1"\nunits = "mm"\nthickness = 50.8\n'
    for piece in boule[:2]:
        measure_piece(hand, piece, f"{flat}[edges]\nat = [0, 1700]\nleft = [150, 150]\nright = [150, 150]\n")
    widths = {f"{which}-{piece}": "12" for piece in boule[:2] for which in ("first", "second")}
    page = found(owner, shop, log, {"piece": boule, "do": "find", **widths})
    assert "<h2>By the widths of their faces, 2 of 4 by both outlines</h2>" in page and "no surer than a tape makes it" in page
    page = found(owner, shop, log, {"piece": boule, "do": "find", "words": "bark & knots", **widths, f"first-{boule[0]}": "13"})
    assert 'name="words" type="text" value="bark &amp; knots"' in page


def test_where_no_order_is_found_nothing_wrong_is_said_of_pieces_that_are_told(
    owner: Person, hand: Hand, shop: Shop, log: str, boule: list[str]
) -> None:
    line = "[edges]\nat = [0, 1000]\nleft = [150, 160]\nright = [150, 140]\n"
    measure_piece(hand, boule[0], f'format = "waney-piece/1"\nunits = "mm"\nthickness = 50.8\n{line}')
    one = {f"{which}-{boule[1]}": "12" for which in ("first", "second")}
    page = found(owner, shop, log, {"piece": boule, "do": "find", **one})
    assert page.count("nothing is told of its faces") == 2, "of the two of which nothing is"


def test_a_piece_that_nobody_measured_is_named_and_numbered_last(owner: Person, log: str, boule: list[str]) -> None:
    typed = {
        f"{which}-{piece}": width
        for piece, width in zip(boule[:3], ("8", "8", "8"), strict=True)
        for which in ("first", "second")
    }
    page = owner.send(f"/logs/{log}/boule", {"piece": boule, "do": "find", **typed}).text
    assert "nothing is told of its faces" in page and "Not sure" in page
    assert f'name="place-{boule[3]}" value="4"' in page


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
