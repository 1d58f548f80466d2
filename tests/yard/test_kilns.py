"""Someone else's kiln: wood that is handed over stands there until it is taken back; what was not told stays not known."""

from __future__ import annotations

import pytest

from waney.drying.ready import Word
from waney.yard.acts.kilns import BroughtBack, CoreAt, HandedPiece, LoadHandedOver, LoadTakenBack, OwnersTold, PieceOwner, Treated
from waney.yard.acts.mending import TaskSettled
from waney.yard.acts.people_places import SpotNamed
from waney.yard.acts.pieces import PieceCounted
from waney.yard.acts.promises import PricedPiece
from waney.yard.acts.stacks import Depth, IntoKiln, MoistureRead, OutOfKiln, PutOnStack, ReadBy, StackBuilt
from waney.yard.book.book import Book
from waney.yard.book.drying_seen import loads, on_stack, readings
from waney.yard.book.examining import examine
from waney.yard.book.kiln_seen import at_kiln, at_kilns, back_since, backs, last_return, pieces_in, read_since_kiln
from waney.yard.book.looking import open_tasks, pieces, version_of
from waney.yard.commands import Read
from waney.yard.names import Name
from waney.yard.problems import BadAct, NotInBook, NotPossible
from waney.yard.services.hand import Hand
from waney.yard.services.kilns import ReadAtHome, hand_over, take_back
from waney.yard.services.ready import ready, ready_of_load
from waney.yard.services.selling import new_sale, sell_pieces, take_along

from .conftest import HAPPENED, NOW, Device, Ids


@pytest.fixture
def boards(phone: Device, ids: Ids) -> list[str]:
    made = [ids() for _ in range(4)]
    for n, piece in enumerate(made, 1):
        phone.send(PieceCounted(piece, "elm", str(Name("MK", n)), 0.03, 2.4, (0.2, 0.22)))
    return made


def handed(ids: Ids, boards: list[str]) -> LoadHandedOver:
    wanted = {"shell_mc": 0.07, "core_mc": 0.08, "hottest_c": 60.0}
    pieces = (HandedPiece(boards[0], "Ann", cracks="butt, a hand long", **wanted), *(HandedPiece(each) for each in boards[1:3]))
    return LoadHandedOver(ids(), "plate kiln", "Bo", pieces, "a sum for the load")


def test_wood_stands_at_the_kiln_until_it_is_taken_back(book: Book, phone: Device, ids: Ids, boards: list[str]) -> None:
    stack, shed = ids(), ids()
    phone.send(SpotNamed(shed, "shed"))
    phone.send(StackBuilt(stack, "elm", shed, (tuple(boards),)))
    act = handed(ids, boards)
    phone.send(act)
    assert set(at_kilns(book)) == set(boards[:3]) and at_kiln(book, boards[3]) is None
    stands = at_kiln(book, boards[0])
    assert stands is not None and (stands.load, stands.kiln, stands.whose) == (act.load, "plate kiln", "Bo")
    assert "not taken back" in stands.sentence and "Bo" in stands.sentence
    assert [piece.id for _, piece in on_stack(book, stack)] == [boards[3]]
    assert [piece.spot for piece in pieces(book)] == ["", "", "", shed]
    phone.send(LoadTakenBack(act.load, (BroughtBack(boards[0]), BroughtBack(boards[1], "cupped")), days=9.0, spot=shed))
    assert set(at_kilns(book)) == {boards[2]} and not loads(book)[0].out
    phone.send(LoadTakenBack(act.load, (BroughtBack(boards[2]),), fee_cents=12_000, currency="USD"))
    [load] = loads(book)
    assert load.out and (load.whose, load.fee, load.pieces) == ("Bo", "a sum for the load", 3) and at_kilns(book) == {}
    day = HAPPENED[:10]
    assert [one.id for one in back_since(book, day)] == [act.load] and back_since(book, "2030-01-01") == ()
    assert open_tasks(book) == () == examine(book).unsound


def test_what_was_told_comes_back_and_what_was_not_stays_not_known(
    book: Book, phone: Device, ids: Ids, boards: list[str]
) -> None:
    act = handed(ids, boards)
    phone.send(act)
    phone.send(LoadTakenBack(act.load, (BroughtBack(boards[0], "a stain"),), treated=Treated.RECORD, core_c=57.0, core_min=35.0))
    first, second, _ = pieces_in(book, act.load)
    assert (first.owner, first.cracks, first.core_mc, first.damage) == ("Ann", "butt, a hand long", 0.08, "a stain")
    assert second.back_seq is None and (second.shell_mc, second.hottest_c, second.back_at, second.damage) == (None, None, "", "")
    [back] = backs(book, act.load)
    assert (back.treated, back.core_c, back.core_min) == (Treated.RECORD, 57.0, 35.0)
    assert (back.days, back.fee_cents, back.currency) == (None, None, "")
    found = last_return(book, boards[0])
    assert found is not None and found[0] == act.load and last_return(book, boards[1]) is None
    assert {held.piece.id for held in pieces_in(book, act.load)} == set(boards[:3])
    with pytest.raises(NotInBook):
        pieces_in(book, ids())


def test_a_piece_is_at_one_kiln_at_most_and_whoever_settles_it_says_which(
    book: Book, phone: Device, ids: Ids, boards: list[str]
) -> None:
    first, second = handed(ids, boards), LoadHandedOver(ids(), "other kiln", "Cy", (HandedPiece(boards[0]),))
    phone.send(first)
    [task] = phone.send(second).tasks
    stands = at_kiln(book, boards[0])
    assert stands is not None and stands.whose == "Bo" and len(loads(book)) == 1
    phone.send(TaskSettled(task, later_holds=True), Read(f"task:{task}", version_of(book, f"task:{task}")))
    stands = at_kiln(book, boards[0])
    assert stands is not None and stands.whose == "Cy" and len(at_kilns(book)) == 3 and examine(book).unsound == ()


def test_what_stands_at_the_kiln_cannot_be_sold_until_it_is_taken_back(
    book: Book, phone: Device, ids: Ids, boards: list[str]
) -> None:
    hand, act = Hand(book, phone.id, "", lambda: NOW, ids), handed(ids, boards)
    hand_over(hand, act)
    sale = new_sale(hand, [PricedPiece(boards[0], 5000)], HAPPENED[:10])
    for tries in (lambda: sell_pieces(hand, sale), lambda: take_along(hand, boards[:1], "2026-06-01")):
        with pytest.raises(NotPossible, match=r"cannot be sold as dry\. It stands at the kiln \(Bo\)"):
            tries()
    take_back(hand, LoadTakenBack(act.load, (BroughtBack(boards[0]),)))
    assert sell_pieces(hand, sale).tasks == () and examine(book).unsound == ()


def test_what_was_not_in_a_load_cannot_come_back_from_it(book: Book, phone: Device, ids: Ids, boards: list[str]) -> None:
    act = handed(ids, boards)
    phone.send(act)
    answer = phone.send(LoadTakenBack(act.load, (BroughtBack(boards[3]),)))
    assert answer.tasks and backs(book, act.load) == () and len(at_kilns(book)) == 3


def test_our_own_kiln_is_nobody_elses(book: Book, phone: Device, ids: Ids, boards: list[str]) -> None:
    stack = ids()
    phone.send(StackBuilt(stack, "elm"))
    phone.send(PutOnStack(stack, (boards[0],)))
    load = ids()
    phone.send(IntoKiln(load, "our kiln", (stack,), (boards[1],)))
    phone.send(LoadTakenBack(load, (BroughtBack(boards[1]),), days=3.0))  # it left early
    assert not loads(book)[0].out and [one.back_seq is None for one in pieces_in(book, load)] == [True, False]
    assert at_kilns(book) == {} and back_since(book, "2000-01-01") == () and loads(book)[0].whose == ""


def test_taking_back_writes_weights_and_moistures_as_readings(book: Book, phone: Device, ids: Ids, boards: list[str]) -> None:
    hand, act = Hand(book, phone.id, "", lambda: NOW, ids), handed(ids, boards)
    hand_over(hand, act)
    read = [ReadAtHome(boards[0], 18.5, 0.065, 0.08, ReadBy.PINS), ReadAtHome(boards[1], None, None, 0.09)]
    take_back(hand, LoadTakenBack(act.load, tuple(BroughtBack(each) for each in boards[:2])), read)
    told = [(each.mc, each.mass_kg, each.depth, each.read_by) for each in readings(book, f"piece:{boards[0]}")]
    assert [(mc, mass, depth) for mc, mass, depth, _ in told] == [(0.065, None, "shell"), (0.08, None, "core"), (None, 18.5, "")]
    assert [(each.mc, each.read_by) for each in readings(book, f"piece:{boards[1]}")] == [(0.09, "told by whoever dried it")]
    with pytest.raises(BadAct):
        take_back(hand, LoadTakenBack(act.load, (BroughtBack(boards[2]),)), [ReadAtHome(boards[2], -1.0)])
    assert boards[2] in at_kilns(book)


def test_whose_the_pieces_are_may_be_told_later(book: Book, phone: Device, ids: Ids, boards: list[str]) -> None:
    load = ids()
    phone.send(IntoKiln(load, "our kiln", (), tuple(boards[:3])))
    phone.send(OwnersTold(load, (PieceOwner(boards[0], "Ann"), PieceOwner(boards[1], "Bo"))))
    phone.send(OwnersTold(load, (PieceOwner(boards[1], "Cy"),)))
    assert [one.owner for one in pieces_in(book, load)] == ["Ann", "Cy", ""]
    assert phone.send(OwnersTold(load, (PieceOwner(boards[3], "Ann"),))).tasks and len(pieces_in(book, load)) == 3
    assert examine(book).unsound == ()


@pytest.mark.parametrize("wrong", [
    lambda a, b: LoadHandedOver(a, "kiln", "", (HandedPiece(b),)), lambda a, b: LoadHandedOver(a, "kiln", "Bo", ()),
    lambda a, b: LoadHandedOver(a, "kiln", "Bo", (HandedPiece(b), HandedPiece(b))), lambda a, b: HandedPiece(b, core_mc=8.0),
    lambda a, b: LoadTakenBack(a, (BroughtBack(b),), treated=Treated.RECORD), lambda a, b: LoadTakenBack(a, ()),
    lambda a, b: LoadTakenBack(a, (BroughtBack(b),), treated=Treated.NO, record=(CoreAt(0.0, 57.0), CoreAt(5.0, 57.0))),
    lambda a, b: LoadTakenBack(a, (BroughtBack(b),), treated=Treated.RECORD, record=(CoreAt(5.0, 57.0), CoreAt(0.0, 57.0))),
    lambda a, b: CoreAt(0.0, 570.0),
    lambda a, b: LoadTakenBack(a, (BroughtBack(b),), fee_cents=-1), lambda a, b: BroughtBack("piece"),
])  # fmt: skip
def test_what_no_load_can_be_is_refused(ids: Ids, wrong) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(BadAct):
        wrong(ids(), ids())


def test_ready_is_told_by_what_was_read_since_it_came_back(book: Book, phone: Device, ids: Ids, boards: list[str]) -> None:
    hand, act = Hand(book, phone.id, "", lambda: NOW, ids), handed(ids, boards)
    phone.send(MoistureRead(f"piece:{boards[0]}", 0.08, ReadBy.PINS, Depth.CORE, wood_c=20.0))  # before it went: does not count
    hand_over(hand, act)
    assert ready(book, boards[0]) is None
    take_back(hand, LoadTakenBack(act.load, (BroughtBack(boards[0]),)), [ReadAtHome(boards[0], None, 0.065, None)])
    found = ready(book, boards[0])
    assert found is not None and found.load == act.load and found.ready.word is Word.NOT_KNOWN
    phone.send(MoistureRead(f"piece:{boards[0]}", 0.13, ReadBy.PINS, Depth.CORE, wood_c=20.0))
    phone.send(MoistureRead(f"piece:{boards[0]}", 0.08, ReadBy.PINS, Depth.CORE, wood_c=20.0))
    found = ready(book, boards[0])
    assert found is not None and found.ready.word is Word.PERHAPS  # without a species table it may be at 10.6 %
    phone.send(MoistureRead(f"piece:{boards[0]}", 0.07, ReadBy.PINS, Depth.CORE, wood_c=20.0))
    found = ready(book, boards[0])
    assert found is not None and found.ready.word is Word.READY and "against 8 % wanted" in found.ready.sentence
    assert ready(book, boards[3]) is None
    assert {word: [one.piece.id for one in held] for word, held in ready_of_load(book, act.load).items()} == {
        Word.READY: boards[:1]
    }
    ours = ids()
    phone.send(IntoKiln(ours, "shed kiln", (), (boards[0],)))
    phone.send(OutOfKiln(ours))
    found = ready(book, boards[0])
    assert found is not None and found.ready.word is Word.NOT_KNOWN, "another kiln since, and nobody read it"
    assert list(ready_of_load(book, act.load)) == [Word.NOT_KNOWN]


def test_what_was_read_counts_from_the_last_kiln_on_also_as_the_book_stood_before(
    book: Book, phone: Device, ids: Ids, boards: list[str]
) -> None:
    piece = boards[0]

    def kilned() -> str:
        load = ids()
        phone.send(IntoKiln(load, "shed kiln", (), (piece,)))
        phone.send(OutOfKiln(load))
        return load

    def read(before: int | None = None) -> list[float]:
        found = read_since_kiln(book, boards, before)
        return [one.mc for one in found[piece].moistures] if piece in found else []

    entered = []
    for mc in (0.3, 0.2, 0.1):
        phone.send(MoistureRead(f"piece:{piece}", mc, ReadBy.OVEN))
        assert read() == [mc]
        entered.append(kilned())
        assert read() == []
    seqs = {load.id: load.seq for load in loads(book)}
    assert [read(seqs[load]) for load in entered] == [[0.3], [0.2], [0.1]]
