"""Tags: each in its place, its name large, its code read back from what the typesetter drew, also skewed, blurred and faint."""

from __future__ import annotations

import io
from datetime import date

import numpy as np
import pypdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageEnhance, ImageFilter

from waney.papers.label_stock import BadStock, Place, label_stock, sold_everywhere
from waney.papers.qr import squares
from waney.papers.tags import (
    CAPITAL,
    LETTER,
    SQUARE_MM,
    BadTag,
    Calibration,
    Laid,
    Tag,
    laid_out,
    log_tag,
    names_ahead,
    tags_pdf,
    tags_pictures,
    try_out,
    try_out_pdf,
)
from waney.yard.names import LETTERS, LONGEST_CODE, LONGEST_NUMBER, Name, nth_code
from waney.yard.problems import BadPicture
from waney.yard.services.pictures import names_seen
from waney.yard.tag_codes import content, name_in

DAY = date(2026, 5, 4)
NAMES = st.builds(Name, st.text(LETTERS, min_size=1, max_size=LONGEST_CODE), st.integers(0, 10**LONGEST_NUMBER - 1))
PHOTO_DPI = 150
"""About what a phone's camera gives of a sheet that fills the picture: 1650 points over 11 in."""


def sheet_of(stock: str, **known: bool) -> tuple[list[Name], bytes]:
    """A full sheet of names of every length, and its picture."""
    room = label_stock(stock).each_sheet
    tags = [Tag(Name(nth_code(7 * i * i), 3**i % 10**LONGEST_NUMBER)) for i in range(room)]
    picture, *more = tags_pictures(laid_out(tags, label_stock(stock), **known), DAY, PHOTO_DPI)
    assert not more
    return [tag.name for tag in tags], picture


def png(picture: Image.Image) -> bytes:
    out = io.BytesIO()
    picture.save(out, "PNG")
    return out.getvalue()


def read(picture: bytes) -> list[Name]:
    return sorted(seen.name for seen in names_seen(picture))


# what a code holds


@given(NAMES)
def test_a_code_holds_the_plain_name_and_gives_it_back(name: Name) -> None:
    assert content(name) == f"WANEY:{name}"
    assert name_in(content(name)) == name


@pytest.mark.parametrize(
    "held", ["", "AB-12-P", "WANEY:", "WANEY:AB-12-Q", "waney:AB-12-P", "WANEY:AB12P", "WANEY:AB-012-P", "tel:1"]
)
def test_what_is_not_our_code_gives_no_name(held: str) -> None:
    assert name_in(held) is None


# where things stand


@pytest.mark.parametrize("stock", sold_everywhere())
@pytest.mark.parametrize("name", [Name("A", 1), Name("AB", 12), Name("ABCD", 123456)], ids=str)
def test_every_common_label_has_room_for_every_name(stock: str, name: Name) -> None:
    (laid,) = laid_out([Tag(name)], label_stock(stock)).sheets[0]
    check_room(laid)


def check_room(laid: Laid) -> None:
    """Name and code lie inside the label, beside the strip, and not on each other."""
    wide = laid.strip + 2 + LETTER * laid.name_size * len(laid.name)
    assert wide <= laid.place.width + 1e-6
    assert 2 + CAPITAL * laid.name_size + laid.code_side <= laid.place.height + 1e-6
    assert laid.code_side + laid.strip <= laid.place.width
    assert laid.code_side >= SQUARE_MM * squares(Name(laid.name.split("-")[0], int(laid.name.split("-")[1])))
    if laid.lines:
        longest = max(map(len, laid.lines))
        assert laid.strip + 2 + LETTER * laid.line_size * longest <= laid.place.width - laid.code_side + 1e-6
        rows = len(laid.lines) * CAPITAL * laid.line_size + (len(laid.lines) - 1) * 0.5 * laid.line_size
        assert rows <= laid.place.height - 4 - CAPITAL * laid.name_size + 1e-6


@settings(deadline=None)
@given(
    NAMES,
    st.lists(st.text("abcdefghij 0123456789/", min_size=1, max_size=24), max_size=3),
    st.floats(20, 160),
    st.floats(15, 160),
)
def test_on_any_label_a_tag_has_room_or_is_refused(name: Name, lines: list[str], wide: float, tall: float) -> None:
    try:
        sheets = laid_out([Tag(name, tuple(lines))], label_stock(f"roll, {wide:.2f} mm x {tall:.2f} mm"))
    except (BadTag, BadStock):
        return
    check_room(sheets.sheets[0][0])


def test_a_name_is_read_at_arms_length_on_every_common_label() -> None:
    # capitals of 4 mm at 0.7 m are 20 minutes of arc, four times what a normal eye needs (5 minutes for 20/20, from memory)
    for stock in sold_everywhere().values():
        (laid,) = laid_out([Tag(Name("AB", 12))], stock).sheets[0]
        assert CAPITAL * laid.name_size >= 4.0


@settings(deadline=None)
@given(st.integers(1, 60), st.integers(0, 9))
def test_every_tag_is_printed_once_in_order_after_the_used_labels(count: int, used: int) -> None:
    stock = label_stock("letter 4 x 2")
    tags = names_ahead("AB", 1, count)
    sheets = laid_out(tags, stock, used=used).sheets
    assert [laid.name for sheet in sheets for laid in sheet] == [str(tag.name) for tag in tags]
    assert len(sheets) == -(-(count + used) // 10)
    spots = [(number, stock.places().index(laid.place)) for number, sheet in enumerate(sheets) for laid in sheet]
    assert spots == [divmod(used + i, 10) for i in range(count)]


def test_a_calibration_moves_and_sizes_every_label() -> None:
    place = Calibration(1.5, -2.0, 1.01).put(Place(100.0, 200.0, 50.0, 20.0))
    assert (place.x, place.y, place.width, place.height) == pytest.approx((102.5, 200.0, 50.5, 20.2))
    sheet = try_out(label_stock("a4 99 x 57"), Calibration(size=1.02))
    assert (sheet.ruler, sheet.says) == (pytest.approx(102.0), "100")


def test_the_end_for_the_staple_stays_free() -> None:
    _, picture = sheet_of("letter 4 x 2")
    seen = np.array(Image.open(io.BytesIO(picture)).convert("L"))
    dots = PHOTO_DPI / 25.4
    for place in label_stock("letter 4 x 2").places():
        strip = seen[round((place.y + 1) * dots) : round((place.y + place.height - 1) * dots), round((place.x + 1) * dots) :]
        assert (strip[:, : round(9 * dots)] < 128).mean() < 0.01  # the ring for the hole and nothing more


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        (lambda: names_ahead("AB", 1, 0), "1 to"),
        (lambda: Calibration(right_mm=11), "over 10 mm"),
        (lambda: Calibration(size=1.2), "100 %"),
        (lambda: Calibration(size=float("nan")), "100 %"),
        (lambda: Tag(Name("AB", 1), ("a", "b", "c", "d")), "room for 3"),
        (lambda: laid_out([Tag(Name("AB", 1), ("x" * 99,))], label_stock("roll 2 x 1")), "letters"),
        (lambda: laid_out(names_ahead("AB", 1, 2), label_stock("roll 2 x 1"), used=1), "a sheet has 1"),
    ],
)
def test_what_cannot_be_printed_is_refused_with_a_sentence(wrong: object, says: str) -> None:
    assert callable(wrong)
    with pytest.raises(BadTag, match=says):
        wrong()


def test_a_label_too_small_for_a_code_is_refused() -> None:
    with pytest.raises(BadStock, match="no room for the code"):
        laid_out([Tag(Name("AB", 1))], label_stock("roll, 40 mm x 15 mm"))


# codes read back


@pytest.mark.parametrize("stock", [name for name, stock in sold_everywhere().items() if stock.each_sheet > 1])
@pytest.mark.parametrize("stapled", [True, False])
def test_every_code_of_a_full_sheet_is_read_back(stock: str, stapled: bool) -> None:
    names, picture = sheet_of(stock, stapled=stapled)
    assert read(picture) == sorted(names)


@pytest.mark.parametrize("stock", [name for name, stock in sold_everywhere().items() if stock.each_sheet == 1])
def test_every_code_of_a_roll_is_read_back_at_the_dots_of_a_label_printer(stock: str) -> None:
    tags = [log_tag("AB", "oak"), *names_ahead("ABCD", 123456, 2)]
    pictures = tags_pictures(laid_out(tags, label_stock(stock)), DAY)
    assert [read(picture) for picture in pictures] == [[tag.name] for tag in tags]


def skewed(picture: Image.Image) -> Image.Image:
    """As from a camera held low and to the left."""
    w, h = picture.size
    corners = np.array([(0, 0), (w, 0), (w, h), (0, h)], float)
    seen = np.array([(0.18 * w, 0.02 * h), (0.86 * w, 0.10 * h), (w, 0.96 * h), (0.02 * w, h)])
    rows = []
    for (x, y), (u, v) in zip(seen, corners, strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
    return picture.transform(
        picture.size,
        Image.Transform.PERSPECTIVE,
        tuple(np.linalg.solve(rows, corners.ravel())),
        Image.Resampling.BICUBIC,
        fillcolor=255,
    )


def faint(picture: Image.Image) -> Image.Image:
    """A wet tag in shade: a fifth of the contrast, and noise."""
    dull = np.array(ImageEnhance.Contrast(picture).enhance(0.2), float)
    return Image.fromarray(np.clip(dull + np.random.default_rng(3).normal(0, 4, dull.shape), 0, 255).astype(np.uint8))


SPOILT = {
    "skewed": skewed,
    "turned 31 degrees": lambda picture: picture.rotate(31, Image.Resampling.BICUBIC, expand=True, fillcolor=255),
    "on its head": lambda picture: picture.rotate(180),
    "blurred": lambda picture: picture.filter(ImageFilter.GaussianBlur(2.0)),
    "faint": faint,
    "skewed, blurred and faint": lambda picture: faint(skewed(picture).filter(ImageFilter.GaussianBlur(1.0))),
}


@pytest.mark.parametrize("how", SPOILT)
def test_every_code_is_read_back_from_a_bad_picture(how: str) -> None:
    names, picture = sheet_of("letter 4 x 2")
    spoilt = SPOILT[how](Image.open(io.BytesIO(picture)).convert("L"))
    assert read(png(spoilt)) == sorted(names)


@pytest.mark.parametrize("dots_per_inch", [45.0, 50.0, 60.0, 80.0])
def test_codes_of_two_points_a_square_are_all_read_back(dots_per_inch: float) -> None:
    tags = names_ahead("AB", 1, 10)
    sheets = laid_out(tags, label_stock("letter 4 x 2"))
    square = sheets.sheets[0][0].code_side / squares(tags[0].name) * dots_per_inch / 25.4
    assert 1.8 < square < 3.5
    (picture,) = tags_pictures(sheets, DAY, dots_per_inch)
    assert read(picture) == [tag.name for tag in tags]


def test_a_code_with_a_corner_of_mud_is_read_back() -> None:
    _, picture = sheet_of("roll 4 x 2")
    seen = Image.open(io.BytesIO(picture)).convert("L")
    side = round(laid_out([Tag(Name("A", 1))], label_stock("roll 4 x 2")).sheets[0][0].code_side * PHOTO_DPI / 25.4)
    # a seventh of the side in the corner that has no finder pattern: 2 % of the area, where the level promises 25 % of the words
    edge = round(side * 4 / 29)
    seen.paste(90, (seen.width - edge - side // 7, seen.height - edge - side // 7, seen.width - edge, seen.height - edge))
    assert read(png(seen)) == [Name("A", 1)]


def test_names_come_from_the_top_down_with_their_place_on_the_picture() -> None:
    stock = label_stock("letter 4 x 2")
    tags = names_ahead("AB", 1, 10)
    (picture,) = tags_pictures(laid_out(tags, stock), DAY, PHOTO_DPI)
    seen = names_seen(picture)
    assert [{one.name.number for one in seen[i : i + 2]} for i in range(0, 10, 2)] == [{i, i + 1} for i in range(1, 10, 2)]
    by_name = {one.name: one for one in seen}
    for tag, place in zip(tags, stock.places(), strict=True):
        one = by_name[tag.name]
        assert place.x < one.x * stock.page[0] < place.x + place.width
        assert place.y < one.y * stock.page[1] < place.y + place.height


@pytest.mark.parametrize("broken", [b"", b"not a picture", b"\x89PNG\r\n\x1a\n" + b"\x00" * 40, b"<svg/>"])
def test_what_is_no_picture_is_refused_with_a_sentence(broken: bytes) -> None:
    with pytest.raises(BadPicture, match="no picture"):
        names_seen(broken)


def test_a_picture_cut_short_is_refused() -> None:
    _, picture = sheet_of("roll 4 x 2")
    for end in range(40, len(picture), max(len(picture) // 20, 1)):
        with pytest.raises(BadPicture):
            names_seen(picture[:end])


def test_a_picture_that_unfolds_to_too_much_is_refused_before_it_does() -> None:
    bomb = Image.new("1", (20_000, 20_000))
    with pytest.raises(BadPicture):
        names_seen(png(bomb))


def test_a_picture_without_codes_has_no_names() -> None:
    assert names_seen(png(Image.new("L", (400, 300), 200))) == ()


# PDF


def test_sheets_of_tags_are_tagged_and_every_code_has_its_words() -> None:
    tags = names_ahead("AB", 1, 12)
    stock = label_stock("letter 4 x 2")
    made = tags_pdf(laid_out(tags, stock), DAY)
    assert made == tags_pdf(laid_out(tags, stock), DAY)
    document = pypdf.PdfReader(io.BytesIO(made))
    root = document.trailer["/Root"].get_object()
    assert root["/MarkInfo"]["/Marked"] and "/StructTreeRoot" in root
    assert len(document.pages) == 2
    assert [float(side) for side in document.pages[0].mediabox[2:]] == pytest.approx([612, 792], abs=0.1)
    words = "\n".join(page.extract_text() for page in document.pages)
    assert all(str(tag.name) in words for tag in tags)
    assert alternatives(document) == [f"QR code of {tag.name}" for tag in tags]


def alternatives(document: pypdf.PdfReader) -> list[str]:
    """The words of every figure, in the order they are read aloud."""
    found: list[str] = []

    def walk(node: object) -> None:
        node = node.get_object() if hasattr(node, "get_object") else node
        if isinstance(node, list):
            for child in node:
                walk(child)
        elif isinstance(node, dict):
            if "/Alt" in node:
                found.append(str(node["/Alt"]))
            walk(node.get("/K", []))

    walk(document.trailer["/Root"]["/StructTreeRoot"])  # type: ignore[index]
    return found


@pytest.mark.parametrize("stock", sold_everywhere())
def test_the_try_out_sheet_is_one_page_of_the_stock(stock: str) -> None:
    document = pypdf.PdfReader(io.BytesIO(try_out_pdf(try_out(label_stock(stock)), DAY)))
    assert len(document.pages) == 1
    size = [float(side) / 72 * 25.4 for side in document.pages[0].mediabox[2:]]
    assert size == pytest.approx(label_stock(stock).page, abs=0.05)
    assert "100 %" in document.pages[0].extract_text()
