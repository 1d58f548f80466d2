"""What a person does with pieces, spots, people, notes and photos."""

from __future__ import annotations

from collections.abc import Sequence

from waney.yard.acts.people_places import (
    Moved,
    NoteWritten,
    PersonAdded,
    PersonForgotten,
    PhotoFiled,
    PhotoTaken,
    Scales,
    SpotNamed,
    Weighed,
)
from waney.yard.acts.pieces import (
    BoulePutInOrder,
    FigureSeen,
    NamesExchanged,
    PieceCounted,
    PieceEnd,
    PieceEnded,
    PieceMeasured,
    PieceSized,
    RoomTold,
    SetMade,
    SetTakenApart,
    Tagged,
)
from waney.yard.book.book import Answer
from waney.yard.book.files import name_of
from waney.yard.book.looking import mates_of, pieces_by_id, version_of
from waney.yard.commands import Read
from waney.yard.problems import NotPossible
from waney.yard.services.hand import Hand, Made
from waney.yard.streams import stream


def add_person(hand: Hand, called: str, person: str = "") -> Made:
    """Somebody works here; person: the id, where one was given already."""
    ident = person or hand.new_id()
    return Made(ident, hand.write(PersonAdded(ident, called)))


def forget_person(hand: Hand, person: str) -> Answer:
    """What somebody was called goes out of the book, for good. Raises NotInBook, Stale; BookBusy: see `Book.send`."""
    about = stream("person", person)
    return hand.write(PersonForgotten(person), Read(about, version_of(hand.book, about)))


def name_spot(hand: Hand, called: str, within: str = "") -> Made:
    """A place where wood stands."""
    ident = hand.new_id()
    return Made(ident, hand.write(SpotNamed(ident, called, within)))


def count_piece(hand: Hand, piece: PieceCounted) -> Answer:
    """A piece found in the shed, or bought."""
    return hand.write(piece)


OfPiece = Weighed | Moved | Tagged | FigureSeen | RoomTold | NoteWritten | PieceEnded


def tell_of_piece(hand: Hand, acts: Sequence[OfPiece]) -> None:
    """Several things at once, in this order; each is an act already, so that none is refused after another was written."""
    for act in acts:
        hand.write(act)


def measure_piece(hand: Hand, piece: str, sheet: str, photo: str = "") -> Answer:
    """A piece as it lies there. Raises BadAct."""
    return hand.write(PieceMeasured(piece, sheet, photo))


def size_piece(hand: Hand, sized: PieceSized) -> Answer:
    """What a piece measures by its last sheet: it is counted so from now on, by every price, list and label."""
    return hand.write(sized)


def tag_piece(hand: Hand, piece: str, name: str) -> Answer:
    """A tag was stapled on. Raises BadName."""
    return hand.write(Tagged(piece, name))


def exchange_names(hand: Hand, one: str, other: str, words: str = "") -> Answer:
    """Two pieces bear each other's names."""
    return hand.write(NamesExchanged((one, other), words))


def move(hand: Hand, what: str, spot: str) -> Answer:
    """A log or a piece stands elsewhere now."""
    return hand.write(Moved(what, spot))


def weigh(hand: Hand, what: str, mass_kg: float, by: Scales | None = None) -> Answer:
    """A log or a piece was on the scales."""
    return hand.write(Weighed(what, mass_kg, by))


def keep_together(hand: Hand, pieces: tuple[str, ...], called: str = "") -> Made:
    """A set. Raises BadAct; NotPossible for a piece that is no more or is in a set already: then nothing is written."""
    ident = hand.new_id()
    act = SetMade(ident, pieces, called)
    for one in pieces_by_id(hand.book, pieces):
        if one.ended:
            raise NotPossible(f"{one.name} is no more ({one.ended}); leave it out of the set.")
        if one.together:
            raise NotPossible(f"{one.name} is in a set already; take that one apart first.")
    return Made(ident, hand.write(act))


def take_set_apart(hand: Hand, together: str, words: str = "") -> Answer:
    """Its pieces go their own ways. Raises NotPossible for a set that is none any more."""
    mates = mates_of(hand.book, [together])
    if not mates:
        raise NotPossible("There is no such set; it may have been taken apart already.")
    return hand.write(SetTakenApart(together, tuple(one.id for one in mates), words))


def put_boule_in_order(hand: Hand, log: str, pieces: tuple[str, ...], words: str = "") -> Answer:
    """The first came off first."""
    return hand.write(BoulePutInOrder(log, pieces, words))


def end_piece(hand: Hand, piece: str, how: PieceEnd, words: str = "") -> Answer:
    """A piece is no more."""
    return hand.write(PieceEnded(piece, how, words))


def write_note(hand: Hand, about: str, words: str) -> Answer:
    """A few words about something."""
    return hand.write(NoteWritten(about, words))


def keep_photo(
    hand: Hand, picture: bytes, about: str = "", taken_at: str = "", wet: bool | None = None, shows: str = "", photo: str = ""
) -> Made:
    """A photo, kept as it is; photo: the id, where one was given already. Raises BookFull."""
    ident = photo or hand.new_id()
    act = PhotoTaken(ident, name_of(picture), about, taken_at, shows, wet)
    return Made(ident, hand.write(act, files=(picture,)))


def file_photo(hand: Hand, photo: str, about: str, wet: bool | None = None) -> Answer:
    """Say what a photo is about, and whether the wood in it is wet."""
    return hand.write(PhotoFiled(photo, about, wet))
