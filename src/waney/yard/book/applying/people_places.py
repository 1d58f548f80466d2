"""People, spots, and what is done to whatever stands somewhere."""

from __future__ import annotations

from sqlalchemy import Table

from waney.yard.acts.people_places import (
    NAMELESS,
    Moved,
    NoteWritten,
    PersonAdded,
    PersonForgotten,
    PhotoFiled,
    PhotoTaken,
    SpotNamed,
    Weighed,
)
from waney.yard.book import models, selling_models
from waney.yard.book.applying.drying import cut_at
from waney.yard.book.applying.pen import Contradicts, Pen
from waney.yard.book.applying.promises import FORGOTTEN, SOLD, end
from waney.yard.book.applying.stacks import leave_stack, move_stack
from waney.yard.book.truth import Event
from waney.yard.streams import parts
from waney.yard.weights import Moment, of_what_is_left


def person_added(pen: Pen, event: Event, act: PersonAdded) -> None:
    """A person."""
    pen.insert(models.person, id=act.person, called=act.called, buys=0, forgotten_seq=None, seq=event.seq)


def person_forgotten(pen: Pen, event: Event, act: PersonForgotten) -> None:
    """Nobody that anybody knows; what they wished for goes with the name."""
    pen.change(models.person, act.person, called=NAMELESS, forgotten_seq=event.seq)
    for row in pen.shelf.find(selling_models.wish, person=act.person):
        end(pen, selling_models.wish, row["id"], FORGOTTEN, event.seq)


def spot_named(pen: Pen, event: Event, act: SpotNamed) -> None:
    """A spot."""
    pen.insert(models.spot, id=act.spot, called=act.called, within=act.within or None, seq=event.seq)


def still_there(pen: Pen, what: str) -> tuple[Table, str]:
    """Table and id of a log or a piece; where it is no more, the fact contradicts that, unless it is believed."""
    kind, ident = parts(what)
    table = models.log if kind == "log" else models.piece
    row = pen.columns(table, ident)
    ended = row["ended"]
    if ended == SOLD:  # it may wait to be fetched
        return table, ident
    if ended and not pen.believed:
        raise Contradicts(row["ended_seq"], f"It is said to be no more ({ended}), and yet this was done to it.")
    if ended:
        pen.change(table, ident, ended="", ended_seq=None)
    return table, ident


def moved(pen: Pen, _event: Event, act: Moved) -> None:
    """Another spot."""
    kind, stack = parts(act.what)
    if kind == "stack":
        move_stack(pen, stack, act.spot)
        return
    table, ident = still_there(pen, act.what)
    leave_stack(pen, act.what)
    pen.change(table, ident, spot=act.spot)


def weighed(pen: Pen, event: Event, act: Weighed) -> None:
    """The last mass read; of a piece that was cut to a sample board, of what is left of it."""
    table, ident = still_there(pen, act.what)
    told = {"mass_kg": act.mass_kg, "read_with": str(act.by or ""), "ends": int(bool(act.ends_kg)), "mark_kg": act.mark_kg}
    pen.insert(models.weight, seq=event.seq, about=act.what, **told, taken_back_seq=None)
    if table is not models.piece or of_what_is_left(Moment(event.seq, event.happened_at), cut_at(pen, ident)):
        pen.change(table, ident, mass_kg=act.mass_kg)


def note_written(pen: Pen, event: Event, act: NoteWritten) -> None:
    """A note."""
    pen.insert(models.note, seq=event.seq, about=act.about, words=act.words, folded=act.words.casefold(), taken_back_seq=None)


def photo_taken(pen: Pen, event: Event, act: PhotoTaken) -> None:
    """A photo."""
    wet = None if act.wet is None else int(act.wet)
    told = {"file": act.file, "about": act.about, "taken_at": act.taken_at, "shows": act.shows, "wet": wet}
    pen.insert(models.photo, id=act.photo, **told, filed_seq=event.seq, taken_back_seq=None, seq=event.seq)


def photo_filed(pen: Pen, event: Event, act: PhotoFiled) -> None:
    """What a photo is about; two who say different things are asked."""
    row = pen.row(models.photo, act.photo)
    if row.about not in ("", act.about) and not pen.believed:
        raise Contradicts(row.filed_seq, "The photo was filed under something else already.")
    wet = row.wet if act.wet is None else int(act.wet)
    pen.change(models.photo, act.photo, about=act.about, wet=wet, filed_seq=event.seq)
