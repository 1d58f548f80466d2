"""How a stack stands, which pieces are weighed, sample boards, prongs; what is taken back counts no more."""

from __future__ import annotations

from dataclasses import replace

import pytest

from waney.drying.known_sides import KnownSides
from waney.drying.outdoors import Exposure
from waney.yard.acts.drying import (
    Bark,
    ChamberRead,
    Ends,
    Prongs,
    ProngsSeen,
    SampleCut,
    SectionsDried,
    Shelter,
    SidesTold,
    StackStood,
    ToWeigh,
)
from waney.yard.acts.mending import TakenBack
from waney.yard.acts.people_places import Weighed
from waney.yard.acts.pieces import PieceCounted
from waney.yard.acts.stacks import IntoKiln, MoistureRead, PutOnStack, ReadBy, StackBuilt, TakenOffStack
from waney.yard.book.book import Book
from waney.yard.book.examining import examine
from waney.yard.book.looking import open_tasks, pieces
from waney.yard.book.stack_seen import drying_stacks, read_of, stack_story, stacks_weighed, to_weigh
from waney.yard.names import Name
from waney.yard.problems import BadAct
from waney.yard.sides import SidesStand

from .conftest import HAPPENED, NOW, Device, Ids


@pytest.fixture
def boards(phone: Device, ids: Ids) -> list[str]:
    made = [ids() for _ in range(3)]
    for n, piece in enumerate(made, 1):
        phone.send(PieceCounted(piece, "elm", str(Name("MK", n)), 0.03, 2.4, (0.2, 0.22)))
    return made


@pytest.fixture
def stack(phone: Device, ids: Ids, boards: list[str]) -> str:
    stack = ids()
    phone.send(StackBuilt(stack, "elm", layers=((boards[0],), (boards[1],))))
    return stack


def test_shelters_are_the_exposures_of_the_model() -> None:
    assert [str(one) for one in Shelter] == [str(one) for one in Exposure]


def test_what_is_told_later_of_a_stack_stays_beside_what_was_told_before(book: Book, phone: Device, stack: str) -> None:
    phone.send(StackStood(stack, "2026-04-20", Shelter.ROOF, 0.18))
    phone.send(StackStood(stack, shelter=Shelter.FAN, sticker_m=0.019))
    story = stack_story(book, stack)
    assert (story.since, story.shelter, story.wanted_mc, story.sticker_m) == ("2026-04-20", Shelter.FAN, 0.18, 0.019)
    assert examine(book).unsound == ()


def test_what_was_read_in_a_chamber_stays_until_something_else_is_read(book: Book, phone: Device, stack: str) -> None:
    held = ChamberRead(inside_c=38.0, humidity=0.45, speed_m_s=1.5)
    phone.send(StackStood(stack, shelter=Shelter.DEHUMIDIFIER, chamber=held))
    phone.send(StackStood(stack, wanted_mc=0.1))
    assert stack_story(book, stack).chamber == held and held.of_dehumidifier and not held.of_sun
    sun = ChamberRead(day_inside_c=40.0, day_outside_c=28.0, night_inside_c=20.0, night_outside_c=17.0)
    phone.send(StackStood(stack, shelter=Shelter.SUN, chamber=sun))
    assert stack_story(book, stack).chamber == sun and sun.of_sun and not sun.of_dehumidifier
    assert examine(book).unsound == ()


@pytest.mark.parametrize("told", [{}, {"inside_c": 38.0}, {"day_inside_c": 40.0, "day_outside_c": 28.0}, {"humidity": 45.0}])
def test_half_of_what_a_chamber_needs_is_refused(told: dict[str, float]) -> None:
    with pytest.raises(BadAct):
        ChamberRead(**told)


def test_pieces_are_weighed_every_week_while_they_lie_on_the_stack(
    book: Book, phone: Device, stack: str, boards: list[str]
) -> None:
    phone.send(ToWeigh(stack, (boards[0], boards[2])))  # the third lies elsewhere
    assert [one.to_weigh for one in stack_story(book, stack).lying] == [True, False]
    assert to_weigh(book) == ((boards[0], ""),)
    phone.send(Weighed(f"piece:{boards[0]}", 12.0))
    assert to_weigh(book) == ((boards[0], HAPPENED),)
    phone.send(PutOnStack(stack, (boards[0],), 3))
    assert [(one.piece.id, one.to_weigh) for one in stack_story(book, stack).lying] == [(boards[1], False), (boards[0], True)]
    phone.send(TakenOffStack(stack, (boards[0],)))
    phone.send(PutOnStack(stack, (boards[0],), 3))
    assert not any(one.to_weigh for one in stack_story(book, stack).lying)
    assert examine(book).unsound == ()


def test_stacks_weighed_of_late_are_known_by_the_last_that_was_told_about_them(
    book: Book, phone: Device, ids: Ids, stack: str, boards: list[str]
) -> None:
    day = HAPPENED[:10]
    assert stacks_weighed(book, day) == ()
    phone.send(Weighed(f"piece:{boards[2]}", 12.0))  # it lies on no stack
    assert stacks_weighed(book, day) == ()
    slip = phone.command(Weighed(f"piece:{boards[0]}", 12.0))
    book.send(slip, NOW)
    (first,) = stacks_weighed(book, day)
    assert (first.id, first.called) == (stack, "elm") and stacks_weighed(book, "2030-01-01") == ()
    phone.send(Weighed(f"piece:{boards[2]}", 11.0))
    assert stacks_weighed(book, day) == (first,), "what lies elsewhere changes nothing"
    phone.send(StackStood(stack, wanted_mc=0.15))
    (second,) = stacks_weighed(book, day)
    assert second.seq > first.seq
    phone.send(TakenBack(slip.id, f"piece:{boards[0]}"))
    assert stacks_weighed(book, day) == ()
    phone.send(Weighed(f"piece:{boards[1]}", 12.0))
    assert stacks_weighed(book, day)[0].seq > second.seq
    phone.send(IntoKiln(ids(), "kiln", (stack,)))
    assert stacks_weighed(book, day) == ()


def test_a_stack_in_the_kiln_or_an_empty_one_does_not_dry_in_the_yard(book: Book, phone: Device, ids: Ids, stack: str) -> None:
    phone.send(StackBuilt(ids(), "empty"))
    assert [one.id for one in drying_stacks(book)] == [stack]
    phone.send(IntoKiln(ids(), "kiln", (stack,)))
    assert drying_stacks(book) == ()


def test_a_weight_that_is_taken_back_lets_the_one_before_count(book: Book, phone: Device, boards: list[str]) -> None:
    about = f"piece:{boards[0]}"
    phone.send(Weighed(about, 21.0, ends_kg=(11.0, 12.0), tare_kg=2.0, mark_kg=0.1))
    slip = phone.command(Weighed(about, 12.0))
    book.send(slip, NOW)
    assert pieces(book)[0].mass_kg == 12.0
    phone.send(TakenBack(slip.id, about))
    (weight,) = read_of(book, boards)[boards[0]].weights
    assert (weight.mass_kg, weight.ends, weight.mark_kg, pieces(book)[0].mass_kg) == (21.0, True, 0.1, 21.0)
    assert examine(book).unsound == ()


def test_a_sample_board_waits_for_the_oven(book: Book, phone: Device, boards: list[str]) -> None:
    phone.send(SampleCut(boards[0], 4.0, (0.18, 0.168), 0.001))
    read = read_of(book, boards)[boards[0]]
    assert read.sample is not None and read.sample.dry_kg == ()
    phone.send(SectionsDried(boards[0], (0.1, 0.1)))
    again = read_of(book, boards)[boards[0]].sample
    assert again is not None and (again.wet_kg, again.dry_kg, again.mass_kg) == ((0.18, 0.168), (0.1, 0.1), 4.0)
    assert pieces(book)[0].mass_kg == 4.0 and examine(book).unsound == ()


def test_a_weight_of_the_whole_piece_that_comes_late_is_not_that_of_its_sample_board(
    book: Book, phone: Device, boards: list[str]
) -> None:
    about = f"piece:{boards[0]}"
    phone.send(Weighed(about, 21.0))
    phone.send(SampleCut(boards[0], 4.0, (0.18, 0.168), 0.001))
    late = replace(phone.command(Weighed(about, 20.0)), happened_at="2026-05-03T18:00:00+02:00")  # the day before the cut
    book.send(late, NOW)
    read = read_of(book, boards)[boards[0]]
    assert [one.mass_kg for one in read.weights] == [21.0, 20.0] and read.weights_now == ()
    assert (read.mass_kg, pieces(book)[0].mass_kg) == (4.0, 4.0)
    slip = phone.command(Weighed(about, 3.4))
    book.send(slip, NOW)
    assert (read_of(book, boards)[boards[0]].mass_kg, pieces(book)[0].mass_kg) == (3.4, 3.4)
    phone.send(TakenBack(slip.id, about))
    assert (read_of(book, boards)[boards[0]].mass_kg, pieces(book)[0].mass_kg) == (4.0, 4.0)
    assert examine(book).unsound == ()


def test_sections_that_do_not_fit_are_put_before_somebody(book: Book, phone: Device, boards: list[str]) -> None:
    phone.send(SectionsDried(boards[1], (0.1, 0.1)))
    phone.send(SampleCut(boards[0], 4.0, (0.18, 0.168)))
    phone.send(SectionsDried(boards[0], (0.1, 0.1, 0.1)))
    assert [("No sections" in task.words, "numbers differ" in task.words) for task in open_tasks(book)] == [
        (True, False), (False, True),
    ]  # fmt: skip
    assert examine(book).unsound == ()


def test_moistures_and_prongs_are_read_of_pieces(book: Book, phone: Device, boards: list[str]) -> None:
    about = f"piece:{boards[0]}"
    phone.send(MoistureRead(about, 0.24, ReadBy.PINS, wood_c=10.0, set_to="elm"))
    slip = phone.command(ProngsSeen(about, Prongs.OUT))
    book.send(slip, NOW)
    phone.send(ProngsSeen(about, Prongs.IN, 24.0))
    phone.send(TakenBack(slip.id, about))
    read = read_of(book, boards)[boards[0]]
    assert [(one.mc, one.wood_c, one.set_to) for one in read.moistures] == [(0.24, 10.0, "elm")]
    assert [(one.seen, one.hours) for one in read.prongs] == [(Prongs.IN, 24.0)]
    assert examine(book).unsound == ()


@pytest.mark.parametrize("wrong", [
    lambda a: StackStood(a, "yesterday"), lambda a: StackStood(a, wanted_mc=20.0), lambda a: ToWeigh(a, (a, a)),
    lambda a: SidesTold((a,)), lambda a: SidesTold((), Bark.ON), lambda a: SidesTold((a,), Bark.ON, since="spring"),
    lambda a: SampleCut(a, 4.0, (0.1,)), lambda a: SectionsDried(a, (0.1, -0.1)), lambda a: ProngsSeen(f"spot:{a}", Prongs.IN),
    lambda a: Weighed(f"piece:{a}", 20.0, ends_kg=(11.0, 12.0)), lambda a: Weighed(f"piece:{a}", 20.0, ends_kg=(20.0,)),
])  # fmt: skip
def test_what_cannot_be_is_refused(ids: Ids, wrong) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(BadAct):
        wrong(ids())


# bark and ends


def test_the_last_word_on_bark_and_ends_counts_each_for_itself_and_not_known_takes_it_back(
    book: Book, phone: Device, boards: list[str]
) -> None:
    phone.send(SidesTold(tuple(boards), Bark.ON, Ends.COATED, "2026-04-20"))
    phone.send(SidesTold((boards[0],), Bark.OFF))
    phone.send(SidesTold((boards[1],), ends=Ends.NOT_KNOWN))
    first, second, third = ({one.id: one for one in pieces(book)}[each].sides for each in boards)
    assert first == SidesStand("off", HAPPENED[:10], "coated", "2026-04-20")
    assert second == SidesStand("on", "2026-04-20") and third == SidesStand("on", "2026-04-20", "coated", "2026-04-20")
    known = (first.known(live_edge=True), second.known(live_edge=False), SidesStand().known(live_edge=True))
    assert known == (KnownSides(True, False, False), KnownSides(False, True), KnownSides(True))
    assert (first.said, SidesStand().said) == ("bark off, ends coated", "")
    assert examine(book).unsound == ()


def test_bark_of_a_piece_that_the_book_does_not_know_yet_waits_for_it(
    book: Book, phone: Device, ids: Ids, boards: list[str]
) -> None:
    later = ids()
    phone.send(SidesTold((boards[0], later), ends=Ends.BARE))
    assert not any(one.sides.ends for one in pieces(book))
    phone.send(PieceCounted(later, "elm", "MK-9-V"))
    assert {one.id for one in pieces(book) if one.sides.ends == Ends.BARE} == {boards[0], later}
    assert examine(book).unsound == () and open_tasks(book) == ()
