"""Pages: each answers, empty and filled; forms write what they say; what cannot be read is told with what was typed."""

from __future__ import annotations

import io
import re
from collections.abc import Callable, Sized
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from PIL import Image, ImageOps

from waney.web.asking import KINDS
from waney.web.shop import Shop
from waney.yard.acts.mill import CameOff
from waney.yard.book import jobs
from waney.yard.book.around import spots
from waney.yard.book.book import Book
from waney.yard.book.examining import examine
from waney.yard.book.finding import Wanted, find_pieces
from waney.yard.book.logs_seen import logs
from waney.yard.book.looking import pieces
from waney.yard.book.offered import trees
from waney.yard.book.stories import log_story, piece_story
from waney.yard.services.hand import Hand
from waney.yard.services.logs import NewLog, add_log
from waney.yard.services.mill import open_day

from .conftest import ROOT, Person

EXAMPLE = (ROOT / "docs" / "examples" / "log-taped.toml").read_text(encoding="utf-8")
MILL = (ROOT / "docs" / "examples" / "mill-woodshed.toml").read_text(encoding="utf-8")
WANTS = (ROOT / "docs" / "examples" / "wants-three-answers.toml").read_text(encoding="utf-8")
EMPTY = ("/", "/offered", "/logs", "/logs/new", "/day", "/pieces", "/pieces/count", "/spots", "/settings", "/sources", "/sign-in")


def photo(side: int = 60, form: str = "JPEG", exif: bytes = b"") -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (side, side // 2), "tan").save(out, form, **({"exif": exif} if exif else {}))
    return out.getvalue()


@pytest.mark.parametrize("page", EMPTY)
def test_an_empty_yard_says_how_to_begin(owner: Person, page: str) -> None:
    answer = owner.get(page)
    assert answer.status_code == 200
    assert len(re.findall("<h1>", answer.text)) == 1
    assert "not allowed" not in answer.text.lower()


def test_what_does_not_exist_is_told_plainly(owner: Person) -> None:
    nothing = "0d1f7c3a-52be-4f0e-8a57-6c1f90b2d4e1"
    for page in ("/no-such-page", f"/logs/{nothing}", f"/pieces/{nothing}", f"/day/{nothing}", f"/jobs/{nothing}"):
        answer = owner.get(page)
        assert answer.status_code == 404
        assert "Traceback" not in answer.text
        assert "<h1>Not done</h1>" in answer.text


# logs


def test_a_photo_is_kept_upright_and_without_its_place(owner: Person, shop: Shop) -> None:
    owner.send("/logs/new", {"sheet": EXAMPLE})
    (log,) = logs(shop.book)
    exif = Image.Exif()
    exif[274] = 6  # turned by a quarter
    exif.get_ifd(34665)[36867] = "2026:03:20 10:11:12"
    exif.get_ifd(34853)[1] = "N"
    picture = photo(80, exif=exif.tobytes())
    assert owner.send(f"/logs/{log.id}/photo", files={"photo": ("end.jpg", picture, "image/jpeg")}).status_code == 303
    (kept,) = log_story(shop.book, log.id).photos
    assert kept.taken_at == "2026-03-20T10:11:12+00:00"
    shown = owner.get(f"/photos/{kept.file}")
    with Image.open(io.BytesIO(shown.content)) as found:
        assert ImageOps.exif_transpose(found).size == (40, 80)
        assert not found.getexif().get_ifd(34853)


# pieces and spots


def test_a_piece_is_counted_and_the_next_one_starts_with_its_kind(owner: Person, shop: Shop) -> None:
    owner.send("/spots", {"called": "Shed"})
    (spot,) = spots(shop.book)
    told = {"species": "cherry", "thickness": "2", "length": "7'", "width": "9 1/2", "other_width": "12", "spot": spot.id}
    page = owner.get(owner.send("/pieces/count", told).headers["location"]).text
    (piece,) = pieces(shop.book)
    assert (piece.name in page, 'value="2"' in page, 'value="9 1/2"' in page) == (True, True, False)
    assert (piece.thickness_m, piece.least_width_m, piece.most_width_m) == pytest.approx((0.0508, 0.2413, 0.3048))
    assert piece.spot == spot.id
    assert examine(shop.book).unsound == ()


def test_pieces_stand_newest_first_or_by_their_names(owner: Person, shop: Shop) -> None:
    for _ in range(3):
        owner.send("/pieces/count", {"species": "cherry"})
    names = sorted(piece.name for piece in pieces(shop.book))
    assert len(names) == 3

    def stand(address: str) -> list[str]:
        return sorted(names, key=owner.get(address).text.index)

    assert stand("/pieces") == names[::-1]
    assert stand("/pieces?order=by+name") == names
    assert "<option selected>by name" in owner.get("/pieces?order=by+name").text
    assert stand("/pieces?order=upside+down") == names[::-1], "what no page offers is the usual order"


@pytest.mark.parametrize(
    ("at", "form", "told", "other", "made"),
    [
        ("/pieces/count", "/pieces/count", {"species": "cherry", "thickness": "2"}, {"thickness": "3"}, pieces),
        ("/logs/new", "/logs/new", {"species": "cherry", "length": "8 ft", "top_diameter": "16"}, {"top_diameter": "17"}, logs),
        ("/offered", "/offered", {"species": "cherry", "girth": "60 in"}, {"girth": "61 in"}, trees),
    ],
)
def test_a_form_that_is_sent_twice_writes_once_and_with_something_else_in_it_again(
    owner: Person, shop: Shop, at: str, form: str, told: dict[str, str], other: dict[str, str], made: Callable[[Book], Sized]
) -> None:
    blank = re.search(r'name="blank" value="([0-9a-f-]+)"', owner.get(at).text)
    assert blank is not None
    sent = {**told, "blank": blank[1]}
    first, again = owner.send(form, sent), owner.send(form, sent)
    assert first.status_code == again.status_code == 303 and first.headers["location"] == again.headers["location"]
    assert len(made(shop.book)) == 1
    assert owner.send(form, {**sent, **other}).status_code == 303 and len(made(shop.book)) == 2
    for _ in range(2):
        owner.send(form, {**told, "blank": "no id"})
    assert len(made(shop.book)) == 4, "what no page of ours sent is taken as it comes"


def test_a_double_tap_is_one_press_also_while_the_first_is_still_being_written(owner: Person, shop: Shop) -> None:
    told = {"token": owner.token(), "blank": shop.new_id(), "species": "cherry", "thickness": "2"}
    with ThreadPoolExecutor(4) as pool:
        answers = list(pool.map(lambda _: owner.client.post("/pieces/count", data=told, follow_redirects=False), range(4)))
    assert {answer.status_code for answer in answers} == {303} and len({answer.headers["location"] for answer in answers}) == 1
    assert len(pieces(shop.book)) == 1


def test_photos_of_the_same_name_are_two_and_the_same_form_of_somebody_else_is_another(
    owner: Person, helper: Person, shop: Shop
) -> None:
    told = {"blank": shop.new_id(), "species": "cherry"}
    for content in (photo(), photo(30), photo()):
        assert owner.send("/pieces/count", told, files={"photo": ("image.jpg", content, "image/jpeg")}).status_code == 303
    assert len(pieces(shop.book)) == 2
    for person in (owner, helper):
        person.send("/pieces/count", told)
    assert len(pieces(shop.book)) == 4


def test_each_field_that_cannot_be_read_has_its_own_sentence(owner: Person, shop: Shop) -> None:
    answer = owner.send("/pieces/count", {"species": "", "thickness": "thick", "length": "long"})
    assert answer.status_code == 422
    assert len(re.findall('role="alert"', answer.text)) == 3
    assert pieces(shop.book) == ()


def test_a_piece_is_weighed_moved_tagged_and_burnt(owner: Person, shop: Shop, hand: Hand) -> None:
    owner.send("/spots", {"called": "Kiln"})
    (spot,) = spots(shop.book)
    owner.send("/pieces/count", {"species": "cherry", "thickness": "2"})
    (piece,) = pieces(shop.book)
    assert owner.send(f"/pieces/{piece.id}", {"spot": spot.id, "words": "a fine one"}).status_code == 303
    assert owner.send(f"/readings/weight/{piece.id}", {"mass": "41 kg"}).status_code == 303
    now = piece_story(shop.book, piece.id)
    assert (now.piece.mass_kg, now.piece.spot, [note.words for note in now.notes]) == (41.0, spot.id, ["a fine one"])
    assert "weighed (90.39 lb)" in owner.get(f"/pieces/{piece.id}").text  # 41 kg of 0.45359237 kg a pound
    assert owner.send(f"/pieces/{piece.id}", {"name": "nonsense"}).status_code == 422
    before = len(piece_story(shop.book, piece.id).events)
    for slip in ({"how": "eaten"}, {"spot": "nowhere"}):
        assert owner.send(f"/pieces/{piece.id}", {"words": "kept?", **slip}).status_code == 400
    assert owner.send(f"/readings/weight/{piece.id}", {"mass": "40 kg", "scales": "by eye"}).status_code == 400
    assert len(piece_story(shop.book, piece.id).events) == before
    owner.send("/settings", {"units": "mm"})
    owner.send(f"/readings/weight/{piece.id}", {"mass": "88 lb", "scales": "hanging scale"})
    page = owner.get(f"/pieces/{piece.id}").text
    assert "weighed (39.92 kg, hanging scale)" in page and "weighed (41 kg)" in page
    owner.send(f"/pieces/{piece.id}", {"how": "burnt"})
    assert piece_story(shop.book, piece.id).piece.ended == "burnt"
    assert find_pieces(shop.book, Wanted()).count == 0


def test_pieces_are_found_by_words_and_sizes_a_page_at_a_time(owner: Person, shop: Shop, hand: Hand) -> None:
    day = open_day(hand, "2026-05-04").id
    for n in range(120):
        hand.write(CameOff(shop.new_id(), day, species="red oak" if n % 2 else "walnut", thickness_m=0.0254 * (1 + n % 3)))
    assert "60 pieces" in owner.get("/pieces?words=walnut").text
    assert "40 pieces" in owner.get("/pieces?thinnest=2.5").text
    first = owner.get("/pieces").text
    onward = re.search(r'href="(/pieces\?after=[^"]+)"', first)
    assert "120 pieces" in first
    assert onward is not None
    names = set(re.findall(r">([A-Z]-\d+-\w)</a>", first)) | set(re.findall(r">([A-Z]-\d+-\w)</a>", owner.get(onward[1]).text))
    assert len(names) == 120
    assert "cannot be read" in owner.get("/pieces?thinnest=thin").text or owner.get("/pieces?thinnest=thin").status_code == 422


def test_a_name_leads_to_its_page(owner: Person, shop: Shop, hand: Hand) -> None:
    owner.send("/pieces/count", {"species": "cherry"})
    (piece,) = pieces(shop.book)
    assert str(owner.get(f"/named?name={piece.name.lower().replace('-', '')}").url).endswith(f"/pieces/{piece.id}")
    assert owner.get("/named?name=A-1-0").status_code == 400


# offers


def test_an_offer_is_written_down_and_answered_once(owner: Person, shop: Shop) -> None:
    assert owner.send("/offered", {"species": "red oak", "girth": "90", "length": "16", "asked": "-40 USD"}).status_code == 303
    (tree,) = trees(shop.book)
    assert (tree.girth_m, tree.length_m, tree.asked_cents) == (pytest.approx(2.286), pytest.approx(4.8768), -4000)
    token = {"reply": "fetch", "reason": "straight", "seen": str(tree.version)}
    assert owner.send(f"/offered/{tree.id}", token).status_code == 303
    late = owner.send(f"/offered/{tree.id}", {**token, "reply": "leave"})
    assert late.status_code == 409
    assert trees(shop.book)[0].reply == "fetch"


def test_an_offer_of_nothing_at_all_is_asked_about(owner: Person, shop: Shop) -> None:
    assert owner.send("/offered", {"girth": "90"}).status_code == 422
    assert trees(shop.book) == ()


# settings and tasks


def test_settings_are_read_before_they_are_kept(owner: Person, shop: Shop) -> None:
    broken = owner.send("/settings", {"mill": 'format = "waney-mill/1"\nkerf = ', "wants": WANTS})
    assert broken.status_code == 422
    assert shop.settled() == {}
    assert owner.send("/settings", {"mill": MILL, "wants": WANTS, "yard": "Alder Hollow", "units": "mm"}).status_code == 303
    assert set(shop.settled()) == {"mill", "wants", "yard", "units"}
    assert "Alder Hollow" in owner.get("/").text


def test_two_who_say_different_things_are_shown_and_settled(owner: Person, shop: Shop, hand: Hand) -> None:
    log = add_log(hand, NewLog(EXAMPLE, code="W")).id
    owner.send(f"/logs/{log}/end", {"how": "firewood"})
    hand.write(CameOff(shop.new_id(), "", log))
    page = owner.get("/").text
    assert "said to be no more" in page
    task = re.findall(r'action="/tasks/([^"]+)"', page)
    for one in task:
        owner.send(f"/tasks/{one}", {"holds": "later"})
    assert "Nothing: no two people" in owner.get("/").text


def test_what_was_typed_is_shown_as_text_never_as_page(owner: Person, shop: Shop) -> None:
    evil = "<script>alert(1)</script>"
    owner.send("/offered", {"species": evil, "words": evil, "where": evil})
    owner.send("/spots", {"called": evil})
    owner.send("/pieces/count", {"species": evil})
    for page in ("/", "/offered", "/spots", "/pieces", "/pieces?words=" + evil):
        assert "<script>alert" not in owner.get(page).text


def test_the_wheel_of_pages_has_no_address_of_elsewhere() -> None:
    for template in (Path(ROOT) / "src" / "waney" / "web" / "templates").glob("*.html"):
        text = template.read_text("utf-8").replace("http://www.w3.org/2000/svg", "").replace("http%3A//www.w3.org/2000/svg", "")
        assert "http://" not in text, template.name
        assert "https://" not in text, template.name


# jobs


def test_a_log_is_scaled_by_a_job_and_the_page_waits_for_it(owner: Person, shop: Shop) -> None:
    owner.send("/logs/new", {"sheet": EXAMPLE})
    (log,) = logs(shop.book)
    page = f"/logs/{log.id}/scale"
    assert "stands in line" in owner.get(page).text
    job = jobs.take(shop.book, tuple(KINDS), "here", shop.now())
    assert job is not None
    jobs.finish(shop.book, job.id, "here", KINDS[job.kind](shop.book.files.read(job.input), lambda *_: None), shop.now())
    said = owner.get(page).text
    for rule in ("Doyle", "Scribner", "International"):
        assert rule in said
    assert "Smalian" in said


def test_a_log_that_nobody_measured_well_enough_is_told_by_its_job(owner: Person, shop: Shop) -> None:
    owner.send("/logs/new", {"sheet": EXAMPLE})
    (log,) = logs(shop.book)
    owner.get(f"/logs/{log.id}/scale")
    job = jobs.take(shop.book, tuple(KINDS), "here", shop.now())
    assert job is not None
    jobs.fail(shop.book, job.id, "here", "The girth is smaller than the wood inside it.", shop.now())
    assert "The girth is smaller" in owner.get(f"/jobs/{job.id}").text


def test_a_log_lies_at_a_spot_that_the_form_or_its_page_tells(owner: Person, shop: Shop) -> None:
    owner.send("/spots", {"called": "By the road"})
    owner.send("/spots", {"called": "Under the shed"})
    road, shed = sorted(spots(shop.book), key=lambda spot: spot.called)
    owner.send("/logs/new", {"sheet": EXAMPLE, "spot": road.id})
    [log] = logs(shop.book)
    assert log.spot_called == "By the road"
    assert owner.send(f"/logs/{log.id}/spot", {"spot": shed.id}).status_code == 303
    assert [(spot.called, spot.logs) for spot in spots(shop.book)] == [("By the road", 0), ("Under the shed", 1)]
    assert re.search(rf'<option value="{shed.id}" selected>', owner.get(f"/logs/{log.id}").text)


def test_every_source_says_where_it_is_used(owner: Person) -> None:
    page = owner.get("/sources").text
    for key, used in (("fpl-ah-188", "table of kiln drying times"), ("doyle-rule", "logs"), ("niosh-lifting", "sawing")):
        row = re.search(rf'<tr id="{key}">.*?</tr>', page)
        assert row is not None
        assert used in row[0]
