"""Services: a yard's year in short, by what people do."""

from __future__ import annotations

from datetime import datetime
from hashlib import sha256
from pathlib import Path

import pytest

from waney.sawing.plan_file import BadPlanFile
from waney.units.sheet import SheetProblems
from waney.yard.acts.logs import LogEnd
from waney.yard.acts.mill import AtTheMill, CameOff, Happened
from waney.yard.acts.offers import Reply, StemFelled, TreeOffered
from waney.yard.acts.pieces import PieceCounted, PieceEnd
from waney.yard.acts.settings import Setting
from waney.yard.book.book import Book
from waney.yard.book.examining import examine
from waney.yard.book.logs_seen import logs
from waney.yard.book.looking import history, named, open_tasks, pieces, plan_file, settings, version_of
from waney.yard.names import Name
from waney.yard.problems import BadAct, Stale
from waney.yard.services.hand import Hand
from waney.yard.services.logs import NewLog, add_log, choose_plan, end_log, keep_plan, measure_log
from waney.yard.services.mill import close_day, open_day, settle, take_back, take_names, take_off, tell_of_mill
from waney.yard.services.offers import answer_offer, fell_stem, note_offer
from waney.yard.services.pieces import (
    add_person,
    count_piece,
    end_piece,
    file_photo,
    keep_photo,
    keep_together,
    move,
    name_spot,
    put_boule_in_order,
    tag_piece,
    weigh,
    write_note,
)  # fmt: skip
from waney.yard.services.settings import settle_for_shop

from .conftest import NOW, Ids

ROOT = Path(__file__).parents[2]
SHEET = (ROOT / "docs" / "examples" / "log-taped.toml").read_text(encoding="utf-8")
PLAN = (ROOT / "tests" / "data" / "plan-1-first.json").read_text(encoding="utf-8")


def clock() -> datetime:
    return NOW


@pytest.fixture
def jo(book: Book, ids: Ids) -> Hand:
    return Hand(book, ids(), "", clock, ids)


@pytest.fixture
def kim(book: Book, ids: Ids) -> Hand:
    return Hand(book, ids(), "", clock, ids)


def test_a_log_keeps_every_sheet_and_every_plan_word_for_word(book: Book, jo: Hand) -> None:
    log = add_log(jo, NewLog(SHEET, code="K")).id
    first, second = keep_plan(jo, log, 1, PLAN).id, keep_plan(jo, log, 1, PLAN).id
    choose_plan(jo, log, second, seen=1)
    measure_log(jo, log, SHEET + "\n# measured again\n")
    [stands] = logs(book)
    assert (stands.name, stands.sheets, stands.sheet) == (str(Name("K", 0)), 2, SHEET + "\n# measured again\n")
    assert (stands.plans, stands.chosen) == ((first, second), second)
    assert plan_file(book, first).decode("utf-8") == PLAN
    assert [event.kind for event in history(book, f"log:{log}")] == ["log-arrived", "plan-chosen", "log-measured"]


def test_what_is_no_sheet_and_what_is_no_plan_is_not_written(book: Book, jo: Hand) -> None:
    log = add_log(jo, NewLog(SHEET)).id
    with pytest.raises(SheetProblems):
        add_log(jo, NewLog("a log"))
    with pytest.raises(BadPlanFile):
        keep_plan(jo, log, 1, "{}")
    assert version_of(book, f"log:{log}") == 1 and len(logs(book)) == 1


SCANNED = """format = "waney-log/1"
units = "m"
species = "white ash"
[scan]
file = "log.xyz"
butt = [0, 0, 0]
top = [3, 0, 0]
mark = [0, 0, 0.2]
"""


def test_a_scan_is_kept_with_its_sheet_and_asked_for(book: Book, jo: Hand) -> None:
    with pytest.raises(BadAct, match=r"log\.xyz"):
        add_log(jo, NewLog(SCANNED))
    assert logs(book) == ()
    add_log(jo, NewLog(SCANNED, scan=b"0 0 0.2\n"))
    [name] = book.files.names()
    assert book.files.read(name) == b"0 0 0.2\n" and examine(book).files == 1


def test_two_who_choose_at_once_hear_of_each_other(book: Book, jo: Hand, kim: Hand) -> None:
    log = add_log(jo, NewLog(SHEET)).id
    one, other = keep_plan(jo, log, 1, PLAN).id, keep_plan(kim, log, 1, PLAN).id
    seen = version_of(book, f"log:{log}")
    choose_plan(jo, log, one, seen)
    with pytest.raises(Stale) as refused:
        choose_plan(kim, log, other, seen)
    assert refused.value.now == 2
    choose_plan(kim, log, other, refused.value.now)
    assert logs(book)[0].chosen == other


def test_a_sawing_day_from_the_first_cut_to_the_rack(book: Book, jo: Hand, ids: Ids) -> None:
    log, day, rack = add_log(jo, NewLog(SHEET)).id, open_day(jo, "2026-05-04").id, name_spot(jo, "rack 2").id
    names = take_names(jo, "A", 20, ids())
    planks = [ids() for _ in range(4)]
    for order, (piece, name) in enumerate(zip(planks, names, strict=False), 1):
        take_off(jo, CameOff(piece, day=day, log=log, name=str(name), order=order, thickness_m=0.054, widths_m=(0.31, 0.4)))
    tell_of_mill(jo, AtTheMill(Happened.METAL, day, log, planks[2], along_m=1.1, clock=3, words="nail"))
    slip = history(book, f"piece:{planks[3]}")[0]
    take_back(jo, slip.command, slip.stream, "tapped twice")
    put_boule_in_order(jo, log, (planks[1], planks[0], planks[2]), "by their widths")
    pair = keep_together(jo, (planks[0], planks[1]), "bookmatch")
    move(jo, f"piece:{planks[0]}", rack)
    weigh(jo, f"piece:{planks[0]}", 48.5)
    end_log(jo, log, LogEnd.SAWN)
    close_day(jo, day)
    stands = {piece.id: piece for piece in pieces(book, log)}
    assert [stands[piece].boule_place for piece in planks[:3]] == [2, 1, 3] and planks[3] not in stands
    assert stands[planks[0]].spot == rack and named(book, str(names[1])) == f"piece:{planks[1]}"
    assert open_tasks(book) == () and pair.answer.tasks == () and examine(book).unsound == ()
    assert [event.kind for event in history(book, f"piece:{planks[2]}")] == ["came-off", "at-the-mill", "boule-put-in-order"]


def test_blocks_of_names_never_overlap(jo: Hand, kim: Hand, ids: Ids) -> None:
    taken = [name for hand in (jo, kim, jo) for name in take_names(hand, "MK", 7, ids())]
    assert taken == [Name("MK", n) for n in range(1, 22)]


def test_wood_older_than_the_book_is_counted_tagged_and_used(book: Book, jo: Hand, ids: Ids) -> None:
    shed, piece = name_spot(jo, "shed", name_spot(jo, "yard").id).id, ids()
    answer = count_piece(jo, PieceCounted(piece, "elm", thickness_m=0.04, length_m=2.2, widths_m=(0.2, 0.24), spot=shed))
    [task] = open_tasks(book)
    assert answer.tasks == (task.id,) and pieces(book)[0].name in task.words
    tag_piece(jo, piece, pieces(book)[0].name)
    settle(jo, task.id, words="written")
    end_piece(jo, piece, PieceEnd.USED, "a stool")
    assert pieces(book)[0].ended == "used" and open_tasks(book) == ()


def test_a_photo_may_be_filed_later_and_two_opinions_are_asked(book: Book, jo: Hand, kim: Hand, ids: Ids) -> None:
    log, other = add_log(jo, NewLog(SHEET)).id, add_log(jo, NewLog(SHEET)).id
    photo = keep_photo(jo, b"picture", taken_at="2026-05-04T09:00:00+02:00", wet=True).id
    assert keep_photo(jo, b"picture").answer.tasks == ()  # the same picture twice is one file
    assert len(list(book.files.names())) == 1
    file_photo(jo, photo, f"log:{log}")
    [task] = file_photo(kim, photo, f"log:{other}").tasks
    [asked] = open_tasks(book)
    assert asked.id == task and asked.other is not None and asked.other.kind == "photo-filed"
    settle(jo, task, later_holds=True)
    assert history(book, f"photo:{photo}")[-1].kind == "photo-filed"


def test_people_notes_and_offers(book: Book, jo: Hand, ids: Ids) -> None:
    person, tree, stem = add_person(jo, "Jo").id, ids(), ids()
    note_offer(jo, TreeOffered(tree, "walnut", girth_m=2.0, photo=sha256(b"tree").hexdigest()), b"tree")
    write_note(jo, f"tree:{tree}", "ask before June")
    with pytest.raises(Stale, match="note written"):
        answer_offer(jo, tree, Reply.FETCH, seen=1)
    answer_offer(jo, tree, Reply.FETCH, seen=2, reason="straight, no metal found")
    fell_stem(jo, StemFelled(stem, tree, "walnut", 6.2))
    assert [event.kind for event in history(book, f"tree:{tree}")][-1] == "stem-felled"
    assert [event.kind for event in history(book, f"person:{person}")] == ["person-added"] and examine(book).unsound == ()


def test_a_setting_is_what_was_written_last(book: Book, jo: Hand) -> None:
    assert settings(book) == {}
    settle_for_shop(jo, Setting.YARD, "Alder Hollow")
    settle_for_shop(jo, Setting.YARD, "Penner's")
    assert settings(book) == {"yard": "Penner's"}
    assert [event.kind for event in history(book, "setting:yard")] == ["settled", "settled"]
    assert examine(book).unsound == ()
