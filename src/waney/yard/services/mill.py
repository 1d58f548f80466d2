"""What a person does on a sawing day, in reach of the book."""

from __future__ import annotations

from waney.yard.acts.mending import TakenBack, TaskSettled
from waney.yard.acts.mill import AtTheMill, CameOff, DayClosed, DayOpened, PiecesGoTo
from waney.yard.acts.pieces import NamesTaken
from waney.yard.book.book import Answer
from waney.yard.book.looking import next_code, next_free
from waney.yard.commands import Read
from waney.yard.names import Name
from waney.yard.problems import NotPossible, Stale
from waney.yard.services.hand import Hand, Made

TRIES = 5
"""how often a block is asked for anew when others take theirs at the same moment"""


def open_day(hand: Hand, on: str) -> Made:
    """Begin a sawing day (2026-05-04)."""
    ident = hand.new_id()
    return Made(ident, hand.write(DayOpened(ident, on)))


def close_day(hand: Hand, day: str) -> Answer:
    """End it."""
    return hand.write(DayClosed(day))


def carry_to(hand: Hand, day: str, spot: str) -> Answer:
    """What comes off from now on goes to a spot; empty: nobody said where."""
    return hand.write(PiecesGoTo(day, spot))


def take_off(hand: Hand, piece: CameOff) -> Answer:
    """A piece came off."""
    return hand.write(piece)


def tell_of_mill(hand: Hand, happened: AtTheMill) -> Answer:
    """Something happened at the mill."""
    return hand.write(happened)


def take_back(hand: Hand, command: str, about: str, words: str = "") -> Answer:
    """The last tap was a slip."""
    return hand.write(TakenBack(command, about, words))


def settle(hand: Hand, task: str, later_holds: bool = False, words: str = "") -> Answer:
    """A task is done. Raises Stale when somebody else did it, NotPossible when there is no such task."""
    return hand.write(TaskSettled(task, later_holds, words), Read(f"task:{task}", 0))


def names_for_paper(hand: Hand, how_many: int, code: str = "") -> tuple[Name, ...]:
    """Free names to print on tags ahead; stapled on, each is bound by `tag_piece` or by the act that tells of its piece.

    No code: the book's next free one.
    """
    return take_names(hand, code or next_code(hand.book), how_many, hand.device)


def take_names(hand: Hand, code: str, how_many: int, device: str) -> tuple[Name, ...]:
    """A block of names for a device that goes out of reach. Raises Stale when others are always quicker."""
    for tries_left in reversed(range(TRIES)):
        first, version = next_free(hand.book, code)
        try:
            hand.write(NamesTaken(code, first, first + how_many - 1, device), Read(f"code:{code}", version))
        except (Stale, NotPossible):
            if not tries_left:
                raise
        else:
            return tuple(Name(code, number) for number in range(first, first + how_many))
    raise AssertionError("the last try raises or returns")
