"""Photos in a heap: where they were taken is gone, when is kept; a tag files its photo; the rest stand beside the day."""

from __future__ import annotations

import io
from datetime import UTC, datetime, timedelta, timezone

import pytest
import segno
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import ExifTags, Image, ImageDraw

from waney.yard.acts.mill import CameOff, DayOpened
from waney.yard.acts.pieces import PieceCounted
from waney.yard.book.book import Book
from waney.yard.book.looking import pieces
from waney.yard.book.stories import piece_story, unfiled_photos
from waney.yard.book.tags import free_names
from waney.yard.commands import Command
from waney.yard.names import Name
from waney.yard.problems import BadPicture
from waney.yard.services.hand import Hand
from waney.yard.services.heap import take_photos
from waney.yard.services.mill import names_for_paper
from waney.yard.services.pictures import picture
from waney.yard.services.pieces import tag_piece
from waney.yard.tag_codes import content

from .conftest import NOW, Ids

ZONE = timezone(timedelta(hours=2))
WHERE = b"KEPT NOWHERE"


def photo(form: str = "JPEG", qr: tuple[str, ...] = (), at: str = "2026:05:04 09:12:30", **how: object) -> bytes:
    """A drawn photo as a camera writes it: time, place, maker's words, turned a quarter."""
    image = Image.new("RGB", (640, 480), (150, 120, 80))
    ImageDraw.Draw(image).ellipse((40, 40, 200, 200), (90, 60, 30))
    for n, text in enumerate(qr):
        code = io.BytesIO()
        segno.make(text).save(code, kind="png", scale=6)
        image.paste(Image.open(code).convert("RGB"), (220 + 210 * n, 150))
    exif = Image.Exif()
    exif[ExifTags.Base.Orientation], exif[ExifTags.Base.Artist] = 6, WHERE.decode()
    exif.get_ifd(ExifTags.IFD.Exif)[ExifTags.Base.DateTimeOriginal] = at
    exif.get_ifd(ExifTags.IFD.GPSInfo)[ExifTags.GPS.GPSLatitude] = (45.0, 30.0, 15.0)
    out = io.BytesIO()
    image.save(out, form, exif=exif, **how)
    return out.getvalue()


@pytest.mark.parametrize(
    ("form", "how"), [("JPEG", {}), ("JPEG", {"progressive": True}), ("JPEG", {"comment": WHERE}), ("PNG", {}), ("WEBP", {})]
)
def test_the_place_is_gone_the_time_and_which_way_up_are_kept(form: str, how: dict[str, object]) -> None:
    before = photo(form, **how)
    seen = picture(before + (b"\xff\xd8" + WHERE if form == "JPEG" else b""), ZONE)
    assert WHERE in before and WHERE not in seen.content and seen.taken_at == "2026-05-04T09:12:30+02:00"
    with Image.open(io.BytesIO(seen.content)) as kept, Image.open(io.BytesIO(before)) as was:
        assert dict(kept.getexif()) == {ExifTags.Base.Orientation: 6} and not kept.getexif().get_ifd(ExifTags.IFD.GPSInfo)
        assert was.getexif().get_ifd(ExifTags.IFD.GPSInfo)
        assert form == "WEBP" or kept.tobytes() == was.tobytes()


def test_a_photo_with_one_known_tag_files_itself_and_others_are_offered(book: Book, jo: Hand, ids: Ids) -> None:
    day, piece, other, device = ids(), ids(), ids(), ids()
    for n, act in enumerate(
        (DayOpened(day, "2026-05-04"), CameOff(piece, day, name=str(Name("MK", 1))), CameOff(other, day, name=str(Name("MK", 2))))
    ):
        book.send(Command(ids(), device, n + 1, "", f"2026-05-04T09:{10 * n:02d}:00+02:00", act), NOW)
    tags = [content(Name("MK", number)) for number in (1, 2, 3)]
    heap = [photo(qr=(tags[0],)), photo(qr=(tags[1],)), photo(qr=(tags[2],)), photo(qr=(tags[0], tags[1])), photo(), b"no photo"]
    found = take_photos(jo, [(str(n), each) for n, each in enumerate(heap)], ZONE, wet=True)
    assert [each.about for each in found] == [f"piece:{piece}", f"piece:{other}", "", "", "", ""]
    assert [told.event.stream for told in found[4].offers] == [f"piece:{piece}", f"piece:{other}", f"day:{day}"]
    assert [bool(each.sentence) for each in found] == [False, False, True, True, False, True]
    assert piece_story(book, piece).photos[0].wet is True and len(unfiled_photos(book)) == 3 and found[5].photo == ""


def test_without_a_time_nothing_is_offered(jo: Hand) -> None:
    [found] = take_photos(jo, [("x", photo(at="no time"))], UTC)
    assert (found.taken_at, found.offers) == ("", ())


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_a_broken_photo_is_a_sentence_or_a_photo(data: st.DataObject) -> None:
    whole = bytearray(photo())
    for _ in range(data.draw(st.integers(0, 6))):
        whole[data.draw(st.integers(0, len(whole) - 1))] = data.draw(st.integers(0, 255))
    try:
        seen = picture(bytes(whole[: data.draw(st.integers(0, len(whole)))]), UTC)
    except BadPicture:
        return
    with Image.open(io.BytesIO(seen.content)) as kept:
        assert kept.size > (0, 0)


def test_names_printed_ahead_are_free_until_a_tag_is_stapled_on(book: Book, jo: Hand, ids: Ids) -> None:
    first, second = names_for_paper(jo, 3), names_for_paper(jo, 2)
    assert len({*first, *second}) == 5 and len({name.code for name in (*first, *second)}) == 2
    piece = ids()
    jo.write(PieceCounted(piece, "elm"))
    tag_piece(jo, piece, str(first[1]))
    assert free_names(book, first[0].code) == (first[0], first[2]) and pieces(book)[0].name == str(first[1])


@pytest.fixture
def jo(book: Book, ids: Ids) -> Hand:
    return Hand(book, ids(), "", lambda: datetime(2026, 5, 4, 8, tzinfo=UTC), ids)
