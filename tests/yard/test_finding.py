"""Finding: pages against a plain look at every piece; stories hold all that was told."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from waney.yard.acts.logs import LogArrived
from waney.yard.acts.mill import CameOff
from waney.yard.acts.people_places import NoteWritten, PersonAdded, PhotoTaken, SpotNamed
from waney.yard.acts.pieces import BoulePutInOrder, PieceCounted, PieceEnd, PieceEnded, SetMade
from waney.yard.book.around import people, spots
from waney.yard.book.book import Book
from waney.yard.book.days import latest_days, open_days
from waney.yard.book.finding import Order, Page, State, Wanted, find_pieces
from waney.yard.book.logs_seen import logs
from waney.yard.book.looking import PieceStands, count_tasks, open_tasks, pieces
from waney.yard.book.stories import day_story, last_events, log_story, piece_story, unfiled_photos
from waney.yard.problems import BookProblem, NotInBook, Refused

from .conftest import NOW, Device, Ids
from .drawn import Drawn


@pytest.fixture
def shed(book: Book, phone: Device, ids: Ids) -> dict[str, str]:
    """A shed in a yard with a rack in it, forty pieces of three species in drawn sizes, some with notes, some ended."""
    draw = random.Random(1)
    yard, shed, rack, log = (ids() for _ in range(4))
    for spot, called, within in ((yard, "Yard", ""), (shed, "Großer Schuppen", yard), (rack, "Rack 2", shed)):
        phone.send(SpotNamed(spot, called, within))
    phone.send(LogArrived(log, "sheet", "walnut", "AB"))
    for n in range(40):
        piece, species, spot = ids(), draw.choice(["elm", "White Ash", "walnut"]), draw.choice(["", yard, shed, rack])
        sizes = {"thickness_m": draw.choice([0.027, 0.04, 0.054]), "length_m": draw.uniform(1, 3)}
        widths = (draw.uniform(0.1, 0.5), draw.uniform(0.1, 0.5)) if n % 5 else ()
        if n % 3:
            phone.send(PieceCounted(piece, species, spot=spot, widths_m=widths, **sizes))
        else:
            phone.send(CameOff(piece, log=log, spot=spot, widths_m=widths, **sizes))
        if n % 7 == 0:
            phone.send(NoteWritten(f"piece:{piece}", "Curly near the BUTT, 100% sound"))
        if n % 6 == 0:
            phone.send(PieceEnded(piece, draw.choice(list(PieceEnd))))
    return {"yard": yard, "shed": shed, "rack": rack, "log": log}


def paged(book: Book, wanted: Wanted, limit: int) -> list[PieceStands]:
    """Every row, page by page; each page says the same count."""
    rows: list[PieceStands] = []
    after = ""
    while True:
        page: Page = find_pieces(book, wanted, limit, after)
        rows += page.rows
        assert len(page.rows) == limit or not page.after
        if not page.after:
            assert page.count == len(rows)
            return rows
        after = page.after


def by_eye(book: Book, wanted: Wanted, inside: set[str]) -> set[str]:
    """What a person finds who looks at every piece."""
    w = wanted
    return {
        p.id for p in pieces(book)
        if (w.state is State.ALL or bool(p.ended) == (w.state is State.ENDED))
        and (not w.species or p.species == w.species) and (not w.log or p.log == w.log) and (not w.spot or p.spot in inside)
        and (w.thinnest_m is None or (p.thickness_m or 0) >= w.thinnest_m)
        and (w.thickest_m is None or (p.thickness_m or 9) <= w.thickest_m)
        and (w.length_m is None or (p.length_m or 0) >= w.length_m) and (w.width_m is None or (p.least_width_m or 0) >= w.width_m)
    }  # fmt: skip


def test_a_page_holds_what_a_look_at_every_piece_finds(book: Book, shed: dict[str, str]) -> None:
    draw, inside = random.Random(2), {shed["shed"], shed["rack"]}
    found = 0
    for _ in range(60):
        wanted = Wanted(
            species=draw.choice(["", "elm", "walnut"]), thinnest_m=draw.choice([None, 0.03]),
            thickest_m=draw.choice([None, 0.05]),
            length_m=draw.choice([None, 1.5]), width_m=draw.choice([None, 0.2]), state=draw.choice(list(State)),
            spot=draw.choice(["", shed["shed"]]), log=draw.choice(["", "", shed["log"]]), order=draw.choice(list(Order)),
        )  # fmt: skip
        rows = paged(book, wanted, draw.choice([1, 3, 50]))
        assert len({row.id for row in rows}) == len(rows) and {row.id for row in rows} == by_eye(book, wanted, inside)
        found += len(rows)
    assert found > 100


def test_the_newest_comes_first_or_names_in_their_order(book: Book, shed: dict[str, str]) -> None:
    rows = paged(book, Wanted(state=State.ALL), 7)
    assert [row.seq for row in rows] == sorted((row.seq for row in rows), reverse=True) and len(rows) == 40
    names = [(row.name.split("-")[0], int(row.name.split("-")[1])) for row in paged(book, Wanted(order=Order.NAME), 7)]
    assert names == sorted(names) and len({code for code, _ in names}) == 2


@pytest.mark.parametrize(("words", "some"), [
    ("ELM", "elm"), ("white ash", "White Ash"), ("GROSSER", "Großer Schuppen"), ("rack 2", "Rack 2"), ("curly butt", "note"),
    ("100%", "note"), ("ab", "AB"), ("ab-3", "AB-3"), ("AB 3", "AB-3"),
])  # fmt: skip
def test_words_are_found_in_species_spots_notes_and_names(book: Book, shed: dict[str, str], words: str, some: str) -> None:
    rows = paged(book, Wanted(words=words, state=State.ALL), 50)
    assert rows
    for row in rows:
        noted = "note" if piece_story(book, row.id).notes else ""
        assert some in (row.species, row.spot_called, noted, row.name.split("-")[0], row.name.rpartition("-")[0])


@pytest.mark.parametrize("words", ["ash_", "%", "no such word", "elm walnut", "'; --"])
def test_what_stands_nowhere_is_not_found(book: Book, shed: dict[str, str], words: str) -> None:
    hits = find_pieces(book, Wanted(words=words, state=State.ALL)).rows
    assert all(words == "%" and piece_story(book, row.id).notes for row in hits)


def test_every_name_is_found_by_itself(book: Book, shed: dict[str, str]) -> None:
    for piece in pieces(book):
        for written in (piece.name, piece.name.replace("-", "").lower()):
            assert piece.id in {row.id for row in find_pieces(book, Wanted(written, state=State.ALL)).rows}


@pytest.mark.parametrize("after", ["x", "-", "A-", "9" * 40, "²"])
def test_what_no_page_said_is_no_place_to_go_on_from(book: Book, after: str) -> None:
    with pytest.raises(BookProblem, match="no place in the list"):
        find_pieces(book, Wanted(order=Order.NEWEST), after=after)


def test_a_log_tells_its_whole_story(book: Book, phone: Device, ids: Ids) -> None:
    log, jo, first, second = ids(), ids(), ids(), ids()
    phone.send(PersonAdded(jo, "Jo"))
    book.send(replace(phone.command(LogArrived(log, "sheet", "elm", "K")), person=jo), NOW)
    phone.send(CameOff(first, log=log, order=1))
    phone.send(CameOff(second, log=log, parent=first, order=2))
    phone.send(BoulePutInOrder(log, (second, first)))
    phone.send(SetMade(ids(), (first, second), "pair"))
    phone.send(PhotoTaken(ids(), book.files.keep(b"end"), f"log:{log}", wet=True))
    phone.send(PhotoTaken(ids(), book.files.keep(b"face"), f"piece:{first}"))
    phone.send(PhotoTaken(ids(), book.files.keep(b"heap")))
    phone.send(NoteWritten(f"piece:{first}", "curly"))
    story = log_story(book, log)
    assert [piece.id for piece in story.pieces] == [second, first] and story.log.pieces == 2
    assert [photo.wet for photo in story.photos] == [True, None] and [note.words for note in story.notes] == ["curly"]
    assert (story.sheets[0].called, story.events[0].called, len(story.events)) == ("Jo", "Jo", 5)
    one, other = piece_story(book, first), piece_story(book, second)
    assert [piece.id for piece in one.gave] == [second] and other.came_of == one.piece
    assert [piece.id for piece in other.mates] == [first, second] and one.piece.log_name == story.log.name
    assert len(unfiled_photos(book)) == 1 and [told.event.kind for told in last_events(book, 2)] == [
        "note-written",
        "photo-taken",
    ]
    assert [each.called for each in people(book)] == ["Jo"]


def test_what_is_not_there_has_no_story(book: Book, ids: Ids) -> None:
    for story in (log_story, piece_story, day_story):
        with pytest.raises(NotInBook):
            story(book, ids())


def test_stories_and_pages_stand_up_to_drawn_books(book: Book) -> None:
    drawn = Drawn(11)
    for _ in range(600):
        command = drawn.command()
        for name in command.act.files():
            book.files.keep(drawn.contents[name])
        try:
            book.send(command, NOW)
        except Refused:
            continue
    stands = pieces(book)
    assert {row.id for row in paged(book, Wanted(state=State.ALL), 9)} == {piece.id for piece in stands} and len(stands) > 20
    assert sum(log_story(book, log.id).log.pieces for log in logs(book)) == sum(bool(piece.log) for piece in stands)
    days = latest_days(book, 1000)
    assert sum(day.pieces for day in days) == sum(bool(piece.day) for piece in stands)
    assert sum(len(day_story(book, day.id).pieces) for day in days) == sum(day.pieces for day in days)
    assert sum(spot.pieces for spot in spots(book)) == sum(bool(piece.spot) and not piece.ended for piece in stands)
    tasks = open_tasks(book)
    assert all(task.event.seq <= len(drawn.sent) for task in tasks)
    assert count_tasks(book) == len(tasks) > 3 and count_tasks(book, most=2) == 3
    assert open_days(book, 2) == open_days(book)[:2] and latest_days(book, 3) == days[:3]


@pytest.mark.parametrize(
    ("words", "found"),
    [
        ("quercus", {"white oak", "oak", "Quercus spp."}),
        ("Quercus alba", {"white oak"}),
        ("acer", {"Sugar Maple", "hard maple"}),
        ("Acer saccharum", {"Sugar Maple"}),
        ("rock maple", {"Sugar Maple"}),
        ("Douglas-fir", {"Pseudotsuga menziesii"}),
        ("juglans", {"walnut"}),
        ("butternut", set()),
        ("qu", {"Quercus spp."}),
        ("alba maple", set()),
    ],
)
def test_a_wood_is_found_by_every_name_that_the_tables_have_of_it(
    book: Book, phone: Device, ids: Ids, words: str, found: set[str]
) -> None:
    """Names as `species.csv` and the FIA table have them; a name that several woods bear ("hard maple") by what they share."""
    for wood in ("white oak", "oak", "Quercus spp.", "Sugar Maple", "hard maple", "Pseudotsuga menziesii", "walnut", "a board"):
        phone.send(PieceCounted(ids(), wood))
    assert {one.species for one in find_pieces(book, Wanted(words=words)).rows} - {"a board"} == found
