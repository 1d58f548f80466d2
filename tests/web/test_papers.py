"""Papers, photos, tags and lists in the app: what comes out can be read back; a name is printed once the book gave it."""

from __future__ import annotations

import csv
import io
import math
import zipfile
from datetime import UTC, datetime
from typing import Any
from urllib.parse import urlencode

import pypdf
import pytest
import segno
from PIL import ExifTags, Image
from sqlalchemy import event

from waney.papers.label_stock import label_stock
from waney.papers.tags import laid_out, names_ahead, tags_pictures
from waney.web.asking import KINDS
from waney.web.shop import Shop
from waney.yard.acts.mill import CameOff, DayOpened
from waney.yard.acts.pieces import PieceCounted
from waney.yard.acts.stacks import Depth, MoistureRead, ReadBy
from waney.yard.book import jobs
from waney.yard.book.examining import examine
from waney.yard.book.logs_seen import logs
from waney.yard.book.looking import next_free, pieces
from waney.yard.book.stories import last_events, piece_story, unfiled_photos
from waney.yard.book.tags import free_names
from waney.yard.names import Name
from waney.yard.services.hand import Hand
from waney.yard.services.logs import NewLog, add_log
from waney.yard.services.mill import names_for_paper, open_day
from waney.yard.tag_codes import content

from .conftest import NOW, Person
from .test_pages import EXAMPLE


def words(pdf: bytes) -> str:
    return "\n".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf)).pages)


def counted(hand: Hand, shop: Shop, **known: Any) -> str:
    ident = shop.new_id()
    hand.write(PieceCounted(ident, "cherry_black", **known))
    return ident


def work(shop: Shop) -> int:
    """Do what waits, in this process; how much it was."""
    done = 0
    while job := jobs.take(shop.book, tuple(KINDS), "test", shop.now()):
        answer = KINDS[job.kind](shop.book.files.read(job.input), lambda _share, _words: None)
        jobs.finish(shop.book, job.id, "test", answer, shop.now())
        done += 1
    return done


def tag_photo(*names: str, at: str = "") -> bytes:
    """A photo with tags on it."""
    image = Image.new("RGB", (300 + 300 * len(names), 400), (150, 120, 80))
    for n, name in enumerate(names):
        code = io.BytesIO()
        segno.make(f"WANEY:{name}").save(code, kind="png", scale=6)
        image.paste(Image.open(code).convert("RGB"), (60 + 300 * n, 60))
    exif, out = Image.Exif(), io.BytesIO()
    if at:
        exif.get_ifd(ExifTags.IFD.Exif)[ExifTags.Base.DateTimeOriginal] = at
    image.save(out, "JPEG", exif=exif)
    return out.getvalue()


# tags


def test_tags_take_names_and_the_same_address_prints_them_again(owner: Person, shop: Shop) -> None:
    answer = owner.send("/papers/tags", {"code": "k", "count": "4"})
    assert answer.status_code == 303
    first, again = owner.get(answer.headers["location"]), owner.get(answer.headers["location"])
    assert first.headers["content-type"] == "application/pdf"
    assert first.content == again.content
    assert [str(name) in words(first.content) for name in free_names(shop.book, "K")] == [True] * 4
    assert next_free(shop.book, "K")[0] == 5


def test_a_name_that_the_book_did_not_give_is_not_printed(owner: Person, shop: Shop) -> None:
    owner.send("/papers/tags", {"code": "K", "count": "4"})
    answer = owner.get("/papers/tags.pdf?code=K&first=3&count=3")
    assert answer.status_code == 400
    assert "not all given out" in answer.text


@pytest.mark.parametrize(
    "told",
    [{"count": "none"}, {"count": "0"}, {"count": "501"}, {"stock": "a napkin"}, {"code": "O1"}],
)
def test_what_cannot_be_printed_takes_no_name_and_keeps_what_was_typed(owner: Person, shop: Shop, told: dict[str, str]) -> None:
    answer = owner.send("/papers/tags", {"code": "K", **told})
    assert answer.status_code == 422
    assert 'role="alert"' in answer.text
    assert next(iter(told.values())) in answer.text
    assert next_free(shop.book, "K")[0] == 1


def test_only_somebody_signed_in_takes_names(owner: Person, anybody: Person, helper: Person, shop: Shop) -> None:
    assert anybody.send("/papers/tags", {"code": "K"}).status_code == 401
    assert anybody.get("/papers").status_code == 200
    assert next_free(shop.book, "K")[0] == 1
    assert helper.send("/papers/tags", {"code": "K", "count": "1"}).status_code == 303


def test_many_tags_are_a_job_and_then_stand_at_the_same_address(owner: Person, shop: Shop) -> None:
    address = owner.send("/papers/tags", {"code": "K", "count": "30"}).headers["location"]
    assert "It stands in line" in owner.get(address).text
    assert work(shop) == 1
    done = owner.get(address)
    assert done.headers["content-type"] == "application/pdf"
    assert str(Name("K", 30)) in words(done.content)


def test_how_the_printer_misses_is_told_once_and_kept_for_that_sheet_or_roll(owner: Person, shop: Shop, hand: Hand) -> None:
    log = add_log(hand, NewLog(EXAMPLE)).id
    others = ("/papers/tags.pdf?code=K&first=1&count=4&stock=roll, 4 in x 2 in", f"/logs/{log}/tag.pdf?stock=letter 5 x 2")
    owner.send("/papers/tags", {"code": "K", "count": "4"})
    before = [owner.get(page).content for page in ("/papers/tags.pdf?code=K&first=1&count=4", f"/logs/{log}/tag.pdf", *others)]
    for _ in range(2):
        told = {"stock": "Letter  4 x 2", "right": "1 mm", "down": "-0.5 mm", "size": "1.01"}
        assert owner.send("/papers/printer", told).headers["location"] == "/papers#printer"
    assert len([one for one in last_events(shop.book, 50) if one.event.kind == "settled"]) == 1, "it is written when it changes"
    moved = {"right": "1 mm", "down": "-0.5 mm", "size": "1.01", "stock": "letter 4 x 2"}
    now = [owner.get(page).content for page in ("/papers/tags.pdf?code=K&first=1&count=4", f"/logs/{log}/tag.pdf", *others)]
    assert now[2:] == before[2:] and now[0] != before[0] and now[1] != before[1], "another sheet is not moved"
    assert now[1] == owner.get(f"/logs/{log}/tag.pdf?{urlencode(moved)}").content, "the same as typed by hand"
    assert before[1] == owner.get(f"/logs/{log}/tag.pdf?right=0&down=0&size=1").content
    page = owner.get("/papers").text
    assert "letter 4 x 2: 1 mm right, 0.5 mm up, size 1.01" in page
    assert all(f'value="{value}"' in page for value in ("1 mm", "-0.5 mm", "1.01"))
    assert 'value="1 mm"' not in owner.get("/papers?printer=a4+99+x+57").text
    owner.send("/papers/printer", {"stock": "letter 4 x 2"})
    assert "Nothing is kept" in owner.get("/papers").text and owner.get(f"/logs/{log}/tag.pdf").content == before[1]


@pytest.mark.parametrize("told", [{"right": "far"}, {"size": "2"}, {"down": "20 mm"}, {"stock": "a napkin"}])
def test_a_shift_that_cannot_be_is_not_kept_and_stands_there_to_be_put_right(
    owner: Person, shop: Shop, told: dict[str, str]
) -> None:
    answer = owner.send("/papers/printer", {"stock": "letter 4 x 2", **told})
    assert answer.status_code == 422 and 'role="alert"' in answer.text and next(iter(told.values())) in answer.text
    assert "printer" not in shop.settled()


def test_the_printer_is_tried_out(owner: Person) -> None:
    assert "100" in words(owner.get("/papers/try-out.pdf?stock=letter 4 x 2").content)
    assert owner.get("/papers/try-out.pdf?stock=nothing").status_code == 400


def test_a_piece_and_a_log_have_their_tag(owner: Person, shop: Shop, hand: Hand) -> None:
    log = add_log(hand, NewLog(EXAMPLE, code="W")).id
    piece = counted(hand, shop, thickness_m=0.054, length_m=2.5)
    of_piece, of_log = (words(owner.get(page).content) for page in (f"/pieces/{piece}/tag.pdf", f"/logs/{log}/tag.pdf"))
    assert pieces(shop.book)[0].name in of_piece
    assert "Black cherry" in of_piece or "black cherry" in of_piece
    assert "LOG" in of_log
    assert str(Name("W", 0)) in of_log


# tallies, maps, histories


def test_a_tally_of_the_day_names_what_came_off(owner: Person, shop: Shop, hand: Hand) -> None:
    day = open_day(hand, "2026-05-04").id
    for _ in range(3):
        hand.write(CameOff(shop.new_id(), day, species="red oak", thickness_m=0.0508))
    sheet = words(owner.get(f"/day/{day}/tally.pdf").content)
    assert all(piece.name in sheet for piece in pieces(shop.book))
    assert "4 May 2026" in sheet
    assert f"/day/{day}/tally.pdf" in owner.get(f"/day/{day}").text


def test_a_tally_for_the_pencil_has_names_of_its_log_ahead(owner: Person, shop: Shop, hand: Hand) -> None:
    log = add_log(hand, NewLog(EXAMPLE, code="W")).id
    address = owner.send("/papers/tally", {"log": log, "count": "3"}).headers["location"]
    sheet = words(owner.get(address).content)
    assert [str(Name("W", n)) in sheet for n in (1, 2, 3, 4)] == [True, True, True, False]
    assert owner.get("/papers/tally.pdf").headers["content-type"] == "application/pdf"


def test_a_boule_is_mapped_once_every_piece_has_a_thickness(owner: Person, shop: Shop, hand: Hand) -> None:
    log = add_log(hand, NewLog(EXAMPLE, code="W")).id
    assert "No plan is chosen" in owner.get(f"/logs/{log}/boule.pdf").text
    for n in range(3):
        hand.write(CameOff(shop.new_id(), "", log, order=n, thickness_m=0.0508))
    assert all(piece.name in words(owner.get(f"/logs/{log}/boule.pdf").content) for piece in pieces(shop.book))
    hand.write(CameOff(shop.new_id(), "", log, order=3))
    answer = owner.get(f"/logs/{log}/boule.pdf")
    assert (answer.status_code, "measure those that have none" in answer.text) == (400, True)


def test_a_piece_has_its_history_on_paper(owner: Person, shop: Shop, hand: Hand) -> None:
    piece = counted(hand, shop, thickness_m=0.054)
    owner.send(f"/pieces/{piece}", {"words": "a fine one"})
    sheet = words(owner.get(f"/pieces/{piece}/history.pdf").content)
    assert "a fine one" in sheet
    assert "Ada" in sheet
    assert "not known" in sheet


# lists


def test_lists_follow_the_question_of_the_page(owner: Person, shop: Shop, hand: Hand) -> None:
    thin, thick = counted(hand, shop, thickness_m=0.0254), counted(hand, shop, thickness_m=0.0762)
    rows = list(csv.DictReader(io.StringIO(owner.get("/pieces.csv?thinnest=2").content.decode("utf-8-sig"))))
    assert [row["name"] for row in rows] == [piece_story(shop.book, thick).piece.name]
    assert rows[0]["thickness [in]"] == "3.0"
    assert len(list(csv.DictReader(io.StringIO(owner.get("/pieces.csv").text)))) == 2
    assert owner.get("/pieces.csv?thinnest=thin").status_code == 400
    sheet = owner.get("/pieces.xlsx?thickest=2")
    with zipfile.ZipFile(io.BytesIO(sheet.content)) as book:
        assert piece_story(shop.book, thin).piece.name in book.read("xl/sharedStrings.xml").decode()
    assert "attachment" in sheet.headers["content-disposition"]
    assert "/pieces.csv?thinnest=2" in owner.get("/pieces?thinnest=2").text


def test_logs_are_listed_with_their_days_as_days(owner: Person, shop: Shop, hand: Hand) -> None:
    add_log(hand, NewLog(EXAMPLE, code="W"))
    (row,) = csv.DictReader(io.StringIO(owner.get("/logs.csv").content.decode("utf-8-sig")))
    (log,) = logs(shop.book)
    assert (row["name"], row["felled"]) == (log.name, log.felled_on)
    butt, top, cubic_feet = (float(value) for name, value in row.items() if "inside bark" in name)
    length_ft = float(row["length [ft]"])
    frustum = math.pi / 12 * (butt**2 + butt * top + top**2) / 144 * length_ft  # a log near a cone: geometry
    assert butt > top > 0 and cubic_feet == pytest.approx(frustum, rel=0.15)
    assert owner.get("/logs.xlsx").status_code == 200


def test_what_the_book_knows_of_a_piece_stands_in_its_list(owner: Person, shop: Shop, hand: Hand) -> None:
    day, piece = shop.new_id(), shop.new_id()
    hand.write(DayOpened(day, "2026-05-02"))
    hand.write(CameOff(piece, day, thickness_m=0.0508, length_m=2.4384, widths_m=(0.4064, 0.3048), species="white oak"))
    hand.write(MoistureRead(f"piece:{piece}", 0.11, ReadBy.PINS, Depth.SHELL))
    hand.write(MoistureRead(f"piece:{piece}", 0.09, ReadBy.PINS, Depth.SHELL))
    (row,) = csv.DictReader(io.StringIO(owner.get("/pieces.csv").content.decode("utf-8-sig")))
    assert (row["width at narrowest [in]"], row["width at widest [in]"], row["sawn"]) == ("12.0", "16.0", "2026-05-02")
    # 2 in by the middle of 12 and 16 in by 8 ft: 2 * 14 * 8 / 12, by hand
    assert float(row["volume by the middle of both widths [board feet]"]) == pytest.approx(18.67)
    assert (row["moisture of shell [% of dry mass]"], row["moisture of core [% of dry mass]"]) == ("9.0", "")


def test_a_list_asks_the_book_as_often_for_many_pieces_as_for_one(owner: Person, shop: Shop, hand: Hand) -> None:
    asked: list[str] = []
    event.listen(shop.book.engine, "before_cursor_execute", lambda _c, _k, statement, *_: asked.append(statement))

    def queries() -> int:
        asked.clear()
        assert owner.get("/pieces.csv").status_code == 200
        return len(asked)

    counted(hand, shop)
    queries()
    alone = queries()
    for _ in range(20):
        counted(hand, shop)
    assert queries() == alone


def test_a_long_list_is_a_job_and_no_row_is_lost(owner: Person, shop: Shop, hand: Hand) -> None:
    for _ in range(510):
        counted(hand, shop)
    assert "It stands in line" in owner.get("/pieces.csv").text
    work(shop)
    rows = list(csv.DictReader(io.StringIO(owner.get("/pieces.csv").content.decode("utf-8-sig"))))
    assert {row["name"] for row in rows} == {piece.name for piece in pieces(shop.book)}


# binding


def test_a_printed_tag_is_bound_by_its_photo(owner: Person, shop: Shop, hand: Hand) -> None:
    names, piece = names_for_paper(hand, 10, "K"), counted(hand, shop)
    label = label_stock("roll 4 x 2")
    (picture,) = tags_pictures(laid_out(names_ahead("K", 7, 1), label), NOW.date(), 150)
    read = owner.send("/tags/read", files={"tag": ("tag.png", picture, "image/png")})
    assert read.headers["location"] == f"/tags/bind?name={names[6]}"
    assert piece in owner.get(read.headers["location"]).text
    owner.send("/tags/bind", {"name": str(names[6]), "piece": piece})
    assert piece_story(shop.book, piece).piece.name == str(names[6])
    assert names[6] not in free_names(shop.book, "K")
    assert "stands on" in owner.get(f"/tags/bind?name={names[6]}").text


def test_four_characters_are_enough_to_name_a_tag(owner: Person, shop: Shop, hand: Hand) -> None:
    names, piece = names_for_paper(hand, 12, "K"), counted(hand, shop)
    typed = str(names[11]).replace("-", "").lower()
    assert len(typed) == 4
    assert owner.send(f"/pieces/{piece}", {"name": typed}).status_code == 303
    assert piece_story(shop.book, piece).piece.name == str(names[11])


def test_the_tag_is_read_on_the_page_of_its_piece(owner: Person, shop: Shop, hand: Hand) -> None:
    names, piece = names_for_paper(hand, 2, "K"), counted(hand, shop)
    sent = {"tag": ("tag.jpg", tag_photo(str(names[1])), "image/jpeg")}
    assert owner.send(f"/pieces/{piece}", files=sent).status_code == 303
    assert piece_story(shop.book, piece).piece.name == str(names[1])


@pytest.mark.parametrize("picture", [tag_photo(), tag_photo(str(Name("K", 1)), str(Name("K", 2))), b"no picture"])
def test_a_photo_that_shows_no_tag_or_two_binds_nothing(owner: Person, shop: Shop, hand: Hand, picture: bytes) -> None:
    piece = counted(hand, shop)
    before = piece_story(shop.book, piece).piece.name
    for page in ("/tags/read", f"/pieces/{piece}"):
        answer = owner.send(page, {"words": "x"}, files={"tag": ("tag.jpg", picture, "image/jpeg")})
        assert (answer.status_code, 'role="alert"' in answer.text) == (422, True)
    after = piece_story(shop.book, piece)
    assert (after.piece.name, after.notes) == (before, ())


# photos in a heap


def test_a_heap_of_photos_files_itself_or_waits_for_one_tap(owner: Person, shop: Shop, hand: Hand) -> None:
    day = open_day(hand, "2026-05-04").id
    hand.write(CameOff(shop.new_id(), day, species="red oak", thickness_m=0.0508))
    (piece,) = pieces(shop.book)
    clock = datetime(2026, 5, 4, 8, 5, tzinfo=UTC).astimezone().strftime("%Y:%m:%d %H:%M:%S")
    heap = [tag_photo(piece.name, at=clock), tag_photo(at=clock), b"no photo"]
    files = [("photos", (f"{n}.jpg", content, "image/jpeg")) for n, content in enumerate(heap)]
    answer = owner.send("/photos", {"wet": "wet"}, files=files)
    assert f"filed under {piece.name}" in answer.text
    assert "not kept" in answer.text
    (waits,) = unfiled_photos(shop.book)
    assert f"{piece.name}: a piece came off" in answer.text
    assert "came off, 5 min before" in answer.text
    owner.send(f"/photos/{waits.id}/file", {"about": f"piece:{piece.id}", "wet": "dry"})
    assert unfiled_photos(shop.book) == ()
    assert [photo.wet for photo in piece_story(shop.book, piece.id).photos] == [True, False]
    assert owner.get(f"/photos/{waits.file}/small").headers["content-type"] == "image/jpeg"
    assert examine(shop.book).unsound == ()


def test_a_photo_that_waits_is_filed_under_a_name(owner: Person, shop: Shop, hand: Hand) -> None:
    piece = counted(hand, shop)
    owner.send("/photos", files=[("photos", ("a.jpg", tag_photo(), "image/jpeg"))])
    (waits,) = unfiled_photos(shop.book)
    assert owner.send(f"/photos/{waits.id}/file", {"name": str(Name("YY", 9))}).status_code == 404
    owner.send(f"/photos/{waits.id}/file", {"name": piece_story(shop.book, piece).piece.name})
    assert piece_story(shop.book, piece).photos[0].id == waits.id


def test_nothing_sent_is_asked_about(owner: Person, anybody: Person) -> None:
    assert owner.send("/photos").status_code == 422
    assert anybody.send("/photos", files=[("photos", ("a.jpg", tag_photo(), "image/jpeg"))]).status_code == 401


def test_what_the_code_holds_is_what_the_page_reads() -> None:
    assert content(Name("AB", 12)) == "WANEY:AB-12-P"
