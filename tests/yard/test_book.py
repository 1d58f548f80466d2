"""The book: facts are kept, decisions are held against what was read, sending twice does nothing twice."""

from __future__ import annotations

from dataclasses import replace

import pytest
from sqlalchemy import delete, select, update
from sqlalchemy.exc import DBAPIError

from waney.yard.acts.logs import LogArrived, LogEnd, LogEnded, PlanChosen, PlanMade
from waney.yard.acts.mending import TakenBack, TaskSettled
from waney.yard.acts.mill import CameOff, DayOpened
from waney.yard.acts.people_places import Moved, NoteWritten, PersonAdded, PhotoTaken, SpotNamed, Weighed
from waney.yard.acts.pieces import NamesTaken, PieceCounted, PieceEnd, PieceEnded, SetMade, Tagged
from waney.yard.book import models, truth
from waney.yard.book.book import Book, make_book, open_book
from waney.yard.book.engine import Lies, reading, writing
from waney.yard.book.replaying import empty_models, read_anew, standing, standing_anew
from waney.yard.commands import Read
from waney.yard.names import Name
from waney.yard.problems import BookThere, FileLost, NotInBook, NotPossible, Reused, Stale
from waney.yard.streams import stream

from .conftest import NOW, Device


def rows(book: Book, table: object, **columns: object) -> list[dict[str, object]]:
    with reading(book.engine) as at:
        asked = select(table).where(*(table.c[name] == value for name, value in columns.items()))  # type: ignore[attr-defined, call-overload]
        return [dict(row) for row in at.execute(asked).mappings()]


def a_log(phone: Device, code: str = "") -> str:
    log = phone.ids()
    phone.send(LogArrived(log, 'species = "white oak"', "white oak", code=code))
    return log


def a_plan(book: Book, phone: Device, log: str) -> str:
    plan = phone.ids()
    phone.send(PlanMade(plan, log, 1, book.files.keep(plan.encode()), "through", 9))
    return plan


def a_piece(phone: Device, **told: object) -> str:
    piece = phone.ids()
    phone.send(CameOff(piece, **told))  # type: ignore[arg-type]
    return piece


def test_sending_a_command_twice_does_nothing_the_second_time_and_answers_alike(book: Book, phone: Device) -> None:
    log = a_log(phone)
    command = phone.command(CameOff(phone.ids(), log=log))
    first = book.send(command, NOW)
    a_piece(phone, log=log)
    again = book.send(command, NOW)
    assert again == replace(first, before=True) and first.tasks
    assert len(rows(book, truth.event)) == 3 and len(rows(book, models.piece)) == 2


def test_one_command_id_for_two_acts_is_refused(book: Book, phone: Device) -> None:
    command = phone.command(DayOpened(phone.ids(), "2026-05-04"))
    book.send(command, NOW)
    with pytest.raises(Reused):
        book.send(replace(command, act=DayOpened(phone.ids(), "2026-05-05")), NOW)


def test_events_stand_in_one_row_of_numbers_and_in_their_streams(book: Book, phone: Device) -> None:
    log = a_log(phone)
    pieces = [a_piece(phone, log=log) for _ in range(3)]
    events = rows(book, truth.event)
    assert [row["seq"] for row in events] == [1, 2, 3, 4]
    assert [row["number"] for row in rows(book, models.touched, stream=stream("log", log))] == [1, 2, 3, 4]
    assert all(rows(book, models.head, stream=stream("piece", piece))[0]["version"] == 1 for piece in pieces)


@pytest.mark.parametrize("change", [update(truth.event).values(kind="x"), delete(truth.event)])
def test_no_event_can_be_changed_or_taken_out(book: Book, phone: Device, change: object) -> None:
    a_log(phone)
    with pytest.raises(DBAPIError, match="never changed"), writing(book.engine) as at:
        at.execute(change)  # type: ignore[call-overload]
    assert len(rows(book, truth.event)) == 1


def test_tables_keep_out_what_has_another_type_or_points_nowhere(book: Book, phone: Device) -> None:
    with pytest.raises(DBAPIError), writing(book.engine) as at:
        at.exec_driver_sql("INSERT INTO code (code, next_number, shed) VALUES ('A', 'many', 0)")
    with pytest.raises(DBAPIError), writing(book.engine) as at:
        at.exec_driver_sql(f"INSERT INTO sheet (log, number, text, scan, seq) VALUES ('{phone.ids()}', 1, '', '', 1)")


# decisions


def test_a_decision_on_what_was_read_is_written(book: Book, phone: Device) -> None:
    log = a_log(phone)
    plan = a_plan(book, phone, log)
    phone.send(PlanChosen(log, plan), Read(stream("log", log), 1))
    assert [row["plan"] for row in rows(book, models.chosen)] == [plan]


def test_who_decides_second_is_refused_with_what_happened_since(book: Book, phone: Device, laptop: Device) -> None:
    log = a_log(phone)
    one, other = a_plan(book, phone, log), a_plan(book, phone, log)
    laptop.send(PlanChosen(log, one), Read(stream("log", log), 1))
    command = phone.command(PlanChosen(log, other), Read(stream("log", log), 1))
    for _ in range(2):
        with pytest.raises(Stale, match="plan chosen") as refused:
            book.send(command, NOW)
        assert [(event.number, event.kind) for event in refused.value.since] == [(2, "plan-chosen")]
    assert [row["plan"] for row in rows(book, models.chosen)] == [one]
    assert len(rows(book, truth.event)) == 4


def test_a_decision_after_my_own_command_needs_no_version_for_it(book: Book, phone: Device, laptop: Device) -> None:
    log = a_log(phone)
    plan = a_plan(book, phone, log)
    a_piece(phone, log=log)
    mine = phone.count
    phone.send(PlanChosen(log, plan), Read(stream("log", log), 1, after=mine))
    with pytest.raises(Stale):  # the choice itself came after command `mine`
        phone.send(PlanChosen(log, plan), Read(stream("log", log), 1, after=mine))
    a_piece(laptop, log=log)
    with pytest.raises(Stale, match="came off"):
        phone.send(PlanChosen(log, plan), Read(stream("log", log), 3, after=phone.count - 1))


def test_a_decision_after_a_command_that_never_came_is_refused(book: Book, phone: Device) -> None:
    log = a_log(phone)
    plan = a_plan(book, phone, log)
    with pytest.raises(NotInBook, match="command 77"):
        phone.send(PlanChosen(log, plan), Read(stream("log", log), 1, after=77))


def test_decisions_that_the_book_does_not_allow_are_refused(book: Book, phone: Device) -> None:
    one, other = a_log(phone), a_log(phone)
    plan = a_plan(book, phone, other)
    with pytest.raises(NotPossible, match="another log"):
        phone.send(PlanChosen(one, plan), Read(stream("log", one), 1))
    with pytest.raises(NotInBook):
        phone.send(PlanChosen(one, phone.ids()), Read(stream("log", one), 1))
    with pytest.raises(NotInBook, match="no number 5"):
        phone.send(PlanChosen(other, plan), Read(stream("log", other), 5))
    with pytest.raises(NotPossible, match="no open task"):
        phone.send(TaskSettled("both-99"), Read("task:both-99", 0))


# facts


def test_a_fact_about_what_is_not_there_yet_waits_and_is_applied_by_itself(book: Book, phone: Device, laptop: Device) -> None:
    piece, spot = phone.ids(), phone.ids()
    answer = laptop.send(Moved(stream("piece", piece), spot))
    assert answer.tasks == ("waits-1",)
    laptop.send(SpotNamed(spot, "rack 2"))
    assert rows(book, models.task, id="waits-1")[0]["settled_by"] is None
    phone.send(PieceCounted(piece, "cherry"))
    assert rows(book, models.piece)[0]["spot"] == spot
    assert rows(book, models.task, id="waits-1")[0]["settled_by"] == 3
    assert rows(book, models.waiting) == []


def test_a_whole_chain_waits_for_its_first_link(book: Book, phone: Device, laptop: Device) -> None:
    log, plank, board = phone.ids(), phone.ids(), phone.ids()
    laptop.send(Weighed(stream("piece", board), 12.5))
    laptop.send(CameOff(board, parent=plank))
    laptop.send(CameOff(plank, log=log))
    assert rows(book, models.piece) == []
    phone.send(LogArrived(log, "sheet", "ash"))
    assert rows(book, models.piece, id=board)[0]["mass_kg"] == 12.5
    assert rows(book, models.waiting) == []


def test_a_fact_that_contradicts_is_kept_and_a_task_shows_both(book: Book, phone: Device, laptop: Device) -> None:
    piece, spot = phone.ids(), phone.ids()
    phone.send(SpotNamed(spot, "shed"))
    phone.send(PieceCounted(piece, "cherry"))
    ended = phone.send(PieceEnded(piece, PieceEnd.LOST))
    moved = laptop.send(Moved(stream("piece", piece), spot))
    [task] = rows(book, models.task, id=f"both-{moved.seq}")
    assert (task["seq"], task["other_seq"]) == (moved.seq, ended.seq)
    assert rows(book, models.piece)[0]["spot"] is None
    laptop.send(TaskSettled(f"both-{moved.seq}", later_holds=True), Read(f"task:both-{moved.seq}", 0))
    assert rows(book, models.piece)[0]["spot"] == spot and rows(book, models.piece)[0]["ended"] == ""
    with pytest.raises(Stale):
        phone.send(TaskSettled(f"both-{moved.seq}"), Read(f"task:both-{moved.seq}", 0))


def test_settling_for_what_stood_changes_nothing(book: Book, phone: Device) -> None:
    log = a_log(phone)
    phone.send(LogEnded(log, LogEnd.SOLD))
    answer = phone.send(LogEnded(log, LogEnd.FIREWOOD))
    phone.send(TaskSettled(answer.tasks[0]), Read(f"task:{answer.tasks[0]}", 0))
    assert rows(book, models.log)[0]["ended"] == "sold as a log"


def test_a_piece_off_a_log_that_is_no_more_is_there_all_the_same(book: Book, phone: Device) -> None:
    log = a_log(phone)
    phone.send(LogEnded(log, LogEnd.GIVEN))
    answer = phone.send(CameOff(phone.ids(), log=log, name=str(Name("A", 1))))
    assert len(rows(book, models.piece)) == 1 and answer.tasks == ("both-3",)


def test_a_cut_that_two_people_tapped_is_asked(book: Book, phone: Device, laptop: Device) -> None:
    log = a_log(phone)
    plan = a_plan(book, phone, log)
    first = phone.send(CameOff(phone.ids(), log=log, plan=plan, cut=3, name=str(Name("A", 3))))
    answer = laptop.send(CameOff(laptop.ids(), log=log, plan=plan, cut=3, name=str(Name("A", 53))))
    assert rows(book, models.task, id=answer.tasks[0])[0]["other_seq"] == first.seq
    assert len(rows(book, models.piece)) == 2


def test_a_piece_is_in_one_set_and_two_who_say_otherwise_are_asked(book: Book, phone: Device) -> None:
    a, b, c = (a_piece(phone) for _ in range(3))
    phone.send(SetMade(phone.ids(), (a, b), "pair"))
    answer = phone.send(SetMade(phone.ids(), (b, c), "pair"))
    assert len(rows(book, models.together)) == 1
    phone.send(TaskSettled(answer.tasks[0], later_holds=True), Read(f"task:{answer.tasks[0]}", 0))
    assert len(rows(book, models.together)) == 2 and len(rows(book, models.together_piece)) == 3


def test_a_thing_is_made_once(book: Book, phone: Device) -> None:
    spot = phone.ids()
    phone.send(SpotNamed(spot, "shed"))
    answer = phone.send(SpotNamed(spot, "barn"))
    assert answer.tasks == ("twice-2",) and [row["called"] for row in rows(book, models.spot)] == ["shed"]


# taking back


def test_a_slip_is_taken_back_and_its_name_is_free_again(book: Book, phone: Device) -> None:
    log, name = a_log(phone), str(Name("A", 1))
    slip = phone.command(CameOff(phone.ids(), log=log, name=name))
    answer = book.send(slip, NOW)
    phone.send(TakenBack(slip.id, answer.stream))
    assert phone.send(CameOff(phone.ids(), log=log, name=name)).tasks == ()
    assert sorted(row["number"] or 0 for row in rows(book, models.piece)) == [0, 1]  # type: ignore[type-var]
    assert len(rows(book, truth.event)) == 4


def test_what_more_was_told_of_is_not_taken_back_unasked(book: Book, phone: Device) -> None:
    slip = phone.command(CameOff(phone.ids(), name=str(Name("A", 1))))
    answer = book.send(slip, NOW)
    phone.send(Weighed(answer.stream, 20.0))
    task = phone.send(TakenBack(slip.id, answer.stream)).tasks[0]
    assert rows(book, models.piece)[0]["taken_back_seq"] is None
    phone.send(TaskSettled(task, later_holds=True), Read(f"task:{task}", 0))
    assert rows(book, models.piece)[0]["taken_back_seq"] == 3


def test_taking_back_may_come_before_what_it_takes_back(book: Book, phone: Device, laptop: Device) -> None:
    person = phone.ids()
    slip = phone.command(NoteWritten(stream("person", person), "no"))
    laptop.send(TakenBack(slip.id, slip.act.streams()[0]))
    book.send(slip, NOW)
    assert {row["seq"] for row in rows(book, models.waiting)} == {1, 2}
    phone.send(PersonAdded(person, "Jo"))
    assert rows(book, models.waiting) == []
    assert [row["taken_back_seq"] for row in rows(book, models.note)] == [1]


# names


def test_pieces_without_a_tag_get_the_next_name_of_their_log(book: Book, phone: Device) -> None:
    log = a_log(phone, "MK")
    for _ in range(2):
        a_piece(phone, log=log)
    assert sorted((row["code"], row["number"]) for row in rows(book, models.piece)) == [("MK", 1), ("MK", 2)]  # type: ignore[type-var]


def test_on_a_clash_both_facts_stay_and_the_later_is_renamed(book: Book, phone: Device, laptop: Device) -> None:
    log, name = a_log(phone), str(Name("A", 7))
    first = a_piece(phone, log=log, name=name)
    answer = laptop.send(CameOff(laptop.ids(), log=log, name=name))
    named = {row["id"]: row["number"] for row in rows(book, models.piece)}
    assert named[first] == 7 and sorted(named.values()) == [7, 8]  # type: ignore[type-var]
    [task] = rows(book, models.task)
    assert task["id"] == answer.tasks[0] == "retag-3" and str(Name("A", 8)) in str(task["words"]) and task["other_seq"] == 2


def test_blocks_are_given_once_and_the_book_keeps_clear_of_them(book: Book, phone: Device, laptop: Device) -> None:
    log = a_log(phone)
    phone.send(NamesTaken("A", 1, 50, phone.id), Read("code:A", 0))
    with pytest.raises(Stale):
        laptop.send(NamesTaken("A", 1, 50, laptop.id), Read("code:A", 0))
    with pytest.raises(NotPossible, match="free from 51"):
        laptop.send(NamesTaken("A", 40, 60, laptop.id), Read("code:A", 1))
    laptop.send(NamesTaken("A", 51, 60, laptop.id), Read("code:A", 1))
    a_piece(laptop, log=log)
    assert [row["number"] for row in rows(book, models.piece)] == [61]


def test_wood_without_a_log_has_a_code_of_its_own_that_no_log_gets(book: Book, phone: Device) -> None:
    for _ in range(2):
        phone.send(PieceCounted(phone.ids(), "elm"))
    a_log(phone)
    assert {row["code"] for row in rows(book, models.piece)} == {"A"}
    assert [row["code"] for row in rows(book, models.log)] == ["B"]


def test_two_logs_of_one_code_stay_and_the_later_is_renamed(book: Book, phone: Device, laptop: Device) -> None:
    a_log(phone, "AB")
    log = laptop.ids()
    answer = laptop.send(LogArrived(log, "sheet", "ash", code="AB"))
    assert answer.tasks == ("retag-2",) and rows(book, models.log, id=log)[0]["code"] != "AB"


def test_two_tags_that_were_swapped_are_put_right(book: Book, phone: Device) -> None:
    one, other = a_piece(phone, name=str(Name("A", 1))), a_piece(phone, name=str(Name("A", 2)))
    phone.send(Tagged(one, str(Name("A", 3))))
    phone.send(Tagged(other, str(Name("A", 1))))
    assert phone.send(Tagged(one, str(Name("A", 2)))).tasks == ()
    assert {row["id"]: row["number"] for row in rows(book, models.piece)} == {one: 2, other: 1}


# files, reading anew, opening


def test_an_act_that_names_a_file_needs_the_file_first(book: Book, phone: Device) -> None:
    with pytest.raises(FileLost, match="send the file first"):
        phone.send(PhotoTaken(phone.ids(), "0" * 64))
    assert rows(book, truth.event) == []
    phone.send(PhotoTaken(phone.ids(), book.files.keep(b"picture")))


def test_read_models_dropped_and_read_anew_are_the_same(book: Book, phone: Device, laptop: Device) -> None:
    log = a_log(phone)
    laptop.send(Moved(stream("log", log), spot := laptop.ids()))
    a_piece(phone, log=log, widths_m=(0.3, 0.41), thickness_m=0.054)
    a_piece(laptop, log=log, name=str(Name("A", 1)))
    phone.send(SpotNamed(spot, "under the oak"))
    phone.send(LogEnded(log, LogEnd.SAWN))
    with writing(book.engine) as at:
        before = standing(at)
        assert standing_anew(at) == before and len(before["task"]) == 3
        empty_models(at)
        assert not any(standing(at).values())
        read_anew(at).write(at)
        assert standing(at) == before
    a_piece(phone, log=log)


def test_a_book_is_made_once_and_found_again(book: Book, lies: Lies, phone: Device) -> None:
    a_log(phone)
    with pytest.raises(BookThere):
        make_book(lies, NOW)
    other = open_book(lies)
    assert len(rows(other, models.log)) == 1
    other.close()
