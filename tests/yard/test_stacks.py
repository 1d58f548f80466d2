"""Stacks, loads of the kiln, readings; a piece counted with its photo in one act."""

from __future__ import annotations

import pytest

from waney.yard.acts.mending import TakenBack
from waney.yard.acts.people_places import Moved, SpotNamed, Weighed
from waney.yard.acts.pieces import PieceCounted, PieceEnd, PieceEnded
from waney.yard.acts.stacks import Depth, IntoKiln, MoistureRead, OutOfKiln, PutOnStack, ReadBy, StackBuilt, TakenOffStack
from waney.yard.book.book import Book
from waney.yard.book.drying_seen import loads, on_stack, readings, stacks
from waney.yard.book.examining import examine
from waney.yard.book.kiln_seen import pieces_in
from waney.yard.book.looking import open_tasks, pieces
from waney.yard.book.stories import piece_story
from waney.yard.names import Name
from waney.yard.problems import BadAct

from .conftest import NOW, Device, Ids


@pytest.fixture
def boards(phone: Device, ids: Ids) -> list[str]:
    made = [ids() for _ in range(6)]
    for n, piece in enumerate(made, 1):
        phone.send(PieceCounted(piece, "elm", str(Name("MK", n)), 0.03, 2.4, (0.2, 0.22)))
    return made


def test_a_stack_is_built_moved_and_taken_down(book: Book, phone: Device, ids: Ids, boards: list[str]) -> None:
    shed, rack, stack = ids(), ids(), ids()
    for spot in (shed, rack):
        phone.send(SpotNamed(spot, "spot"))
    phone.send(StackBuilt(stack, "elm, spring", shed, ((boards[0], boards[1]), (boards[2],)), 0.019, 0.4))
    phone.send(PutOnStack(stack, (boards[3],)))
    assert [(layer, piece.id) for layer, piece in on_stack(book, stack)] == [
        (1, boards[0]), (1, boards[1]), (2, boards[2]), (None, boards[3]),
    ]  # fmt: skip
    phone.send(Moved(f"stack:{stack}", rack))
    assert [piece.spot for piece in pieces(book)] == [rack] * 4 + ["", ""]
    phone.send(Moved(f"piece:{boards[0]}", shed))
    phone.send(TakenOffStack(stack, (boards[1],), shed))
    assert [piece.id for _, piece in on_stack(book, stack)] == [boards[2], boards[3]]
    assert [piece.spot for piece in pieces(book)][:3] == [shed, shed, rack]
    [stands] = stacks(book)
    assert (stands.pieces, stands.spot, stands.sticker_m, stands.load) == (2, rack, 0.019, "")
    assert open_tasks(book) == () == examine(book).unsound


def test_a_load_keeps_what_went_in(book: Book, phone: Device, ids: Ids, boards: list[str]) -> None:
    stack, other, load = ids(), ids(), ids()
    phone.send(StackBuilt(stack, "one", layers=(tuple(boards[:3]),)))
    phone.send(StackBuilt(other, "two"))
    phone.send(IntoKiln(load, "the kiln", (stack,), (boards[4], boards[0])))
    assert stacks(book)[0].load == load and stacks(book)[1].load == ""
    phone.send(PutOnStack(other, (boards[1],)))
    phone.send(OutOfKiln(load))
    phone.send(OutOfKiln(load))
    assert {held.piece.id for held in pieces_in(book, load)} == {*boards[:3], boards[4]}
    assert [(each.pieces, each.out) for each in loads(book)] == [(4, True)] and stacks(book)[0].load == ""
    assert [piece.id for _, piece in on_stack(book, other)] == [boards[1]] and examine(book).unsound == ()


def test_a_piece_that_is_no_more_cannot_lie_on_a_stack(book: Book, phone: Device, ids: Ids, boards: list[str]) -> None:
    phone.send(PieceEnded(boards[1], PieceEnd.BURNT))
    [task] = phone.send(StackBuilt(ids(), "one", layers=((boards[0], boards[1]),))).tasks
    assert stacks(book) == () and open_tasks(book)[0].id == task and open_tasks(book)[0].other is not None


def test_a_stack_of_what_is_not_known_yet_waits_for_it(book: Book, phone: Device, ids: Ids) -> None:
    stack, piece = ids(), ids()
    phone.send(PutOnStack(stack, (piece,), 2))
    phone.send(StackBuilt(stack, "one"))
    phone.send(PieceCounted(piece, "elm", str(Name("MK", 1))))
    assert [(layer, each.id) for layer, each in on_stack(book, stack)] == [(2, piece)] and open_tasks(book) == ()


def test_readings_and_weights_stand_in_one_row(book: Book, phone: Device, boards: list[str]) -> None:
    about = f"piece:{boards[0]}"
    phone.send(MoistureRead(about, 0.31, ReadBy.PINS, Depth.CORE, wood_c=18.0, set_to="elm"))
    phone.send(Weighed(about, 24.5))
    slip = phone.command(MoistureRead(about, 0.03, ReadBy.PINS))
    book.send(slip, NOW)
    phone.send(TakenBack(slip.id, about))
    phone.send(MoistureRead(about, 0.12, ReadBy.OVEN, Depth.SHELL, corrected=True))
    assert [(each.mc, each.mass_kg, each.depth) for each in readings(book, about)] == [
        (0.31, None, "core"), (None, 24.5, ""), (0.12, None, "shell"),
    ]  # fmt: skip
    assert examine(book).unsound == ()


def test_a_piece_is_counted_with_its_photo_in_one_act_and_taken_back_with_it(book: Book, phone: Device, ids: Ids) -> None:
    piece = ids()
    command = phone.command(PieceCounted(piece, "elm", str(Name("MK", 7)), 0.04, 2.0, (0.2, 0.3), photo=book.files.keep(b"elm")))
    book.send(command, NOW)
    [photo] = piece_story(book, piece).photos
    assert book.files.read(photo.file) == b"elm" and pieces(book)[0].name == str(Name("MK", 7))
    phone.send(TakenBack(command.id, f"piece:{piece}"))
    assert pieces(book) == () and open_tasks(book) == () == examine(book).unsound


@pytest.mark.parametrize("wrong", [
    lambda a, b: StackBuilt(a, "", layers=()), lambda a, b: StackBuilt(a, "x", layers=((b,), (b,))),
    lambda a, b: PutOnStack(a, ()), lambda a, b: IntoKiln(a, "kiln"), lambda a, b: MoistureRead(f"piece:{a}", 12.0, ReadBy.PINS),
    lambda a, b: StackBuilt(a, "x", sticker_m=19.0), lambda a, b: MoistureRead(f"spot:{a}", 0.1, ReadBy.PINS),
])  # fmt: skip
def test_what_no_stack_and_no_meter_can_be_is_refused(ids: Ids, wrong) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(BadAct):
        wrong(ids(), ids())
