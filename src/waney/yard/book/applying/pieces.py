"""Pieces after the saw."""

from __future__ import annotations

from typing import Any

from waney.pieces.sheet_told import has_shape, told_in
from waney.yard.acts.pieces import (
    BoulePutInOrder,
    FigureSeen,
    NamesExchanged,
    NamesTaken,
    PieceEnded,
    PieceMeasured,
    PieceSized,
    RoomTold,
    SetMade,
    SetTakenApart,
    Tagged,
)
from waney.yard.book import models, selling_models
from waney.yard.book.applying.pen import Contradicts, Pen, TaskKind, begin_code, take_name
from waney.yard.book.applying.promises import WORDS
from waney.yard.book.truth import Event
from waney.yard.names import OF_LOG, Name, read_name
from waney.yard.streams import parts


def piece_measured(pen: Pen, event: Event, act: PieceMeasured) -> None:
    """The sheet is read out of the piece's own events; that its sizes are to be worked out anew stands here."""
    pen.row(models.piece, act.piece)
    if has_shape(told_in(act.sheet)):
        pen.change(models.piece, act.piece, to_size_seq=event.seq)


def piece_sized(pen: Pen, _event: Event, act: PieceSized) -> None:
    """From now on it is counted as it was measured; sizes by a sheet that is not the last one any more change nothing."""
    if pen.row(models.piece, act.piece).to_size_seq != act.measured:
        return
    same = ("thickness_m", "length_m", "narrow_face_m", "mean_of_faces_m", "mid_length_m", "area_m2")
    sizes = {name: getattr(act, name) for name in same}
    widths = {"least_width_m": act.narrowest_m, "most_width_m": act.widest_m}
    pen.change(models.piece, act.piece, **sizes, **widths, to_size_seq=None)


def figure_seen(pen: Pen, _event: Event, act: FigureSeen) -> None:
    """The last word counts."""
    pen.change(models.piece, act.piece, figure=act.figure.strip())


def room_told(pen: Pen, _event: Event, act: RoomTold) -> None:
    """Nothing stands anew: the last room is read out of the piece's own events."""
    pen.row(models.piece, act.piece)


def tagged(pen: Pen, event: Event, act: Tagged) -> None:
    """A new name; what the piece was called stays in its history. With a tag that is on another piece it keeps its own."""
    row, name = pen.row(models.piece, act.piece), read_name(act.name)
    if row.taken_back_seq is not None:
        if not pen.believed:
            raise Contradicts(row.taken_back_seq, "This piece was taken back, and yet a tag is told to be on it.")
        return
    others = [each for each in pen.shelf.find(models.piece, code=name.code, number=name.number) if each["id"] != act.piece]
    if row.code is not None and (others or name.number == OF_LOG):
        words = f"{name} stands on something else already; this piece stays {Name(row.code, row.number)}: look at both tags."
        pen.open_task(TaskKind.RETAG, event, words, others[0]["seq"] if others else None)
        return
    mine = (row.code, row.number) == (name.code, name.number)
    called = _called(row) if mine else take_name(pen, event, act.name, "")
    before = {"code_before": row.code, "number_before": row.number}
    about = {"piece": act.piece, "code": called["code"], "number": called["number"], "taken_back_seq": None}
    pen.insert(models.stapled, seq=event.seq, **about, **before)
    pen.change(models.piece, act.piece, **called)


def names_exchanged(pen: Pen, _event: Event, act: NamesExchanged) -> None:
    """Each takes the name of the other; for a moment the first has none, because no two things may have the same."""
    first, second = (pen.row(models.piece, each) for each in act.pieces)
    if (first.code is None or second.code is None) and not pen.believed:
        raise Contradicts(first.seq, "One of these pieces was taken back and has no name.")
    pen.change(models.piece, act.pieces[0], code=None, number=None, label="")
    pen.change(models.piece, act.pieces[1], **_called(first))
    pen.change(models.piece, act.pieces[0], **_called(second))


def _called(row: Any) -> dict[str, Any]:
    return {"code": row.code, "number": row.number, "label": row.label}


def boule_put_in_order(pen: Pen, _event: Event, act: BoulePutInOrder) -> None:
    """Places in the boule, from 1."""
    for each in act.pieces:
        row = pen.row(models.piece, each)
        if row.log != act.log and not pen.believed:
            raise Contradicts(row.seq, "One of these pieces is told to come from another log.")
    for place, each in enumerate(act.pieces, 1):
        pen.change(models.piece, each, boule_place=place, log=act.log)


def set_made(pen: Pen, event: Event, act: SetMade) -> None:
    """Pieces that stay together; a piece is in one set at most."""
    held = [pen.shelf.get(models.together_piece, each) for each in act.pieces]
    others = {row["together"] for row in held if row is not None}
    if others and not pen.believed:
        raise Contradicts(
            min(pen.row(models.together, each).seq for each in others), "One of these pieces is in another set already."
        )
    pen.insert(models.together, id=act.set, called=act.called, seq=event.seq)
    for place, each in enumerate(act.pieces, 1):
        pen.insert(models.together_piece, piece=each, together=act.set, place=place)


def set_taken_apart(pen: Pen, _event: Event, act: SetTakenApart) -> None:
    """Whatever is still in it is free of it; said twice, it is so once."""
    for row in pen.shelf.find(models.together_piece, together=act.set):
        pen.shelf.remove(models.together_piece, row["piece"])


def piece_ended(pen: Pen, event: Event, act: PieceEnded) -> None:
    """No more; two different ends cannot both be so."""
    row = pen.row(models.piece, act.piece)
    if row.ended and row.ended != act.how and not pen.believed:
        raise Contradicts(row.ended_seq, f"The piece is said to be {row.ended}, and to be {act.how}.")
    if not row.ended or pen.believed:
        pen.change(models.piece, act.piece, ended=str(act.how), ended_seq=event.seq)
        promised = pen.shelf.get(selling_models.promise, act.piece)
        if promised is not None:
            words = f"It {WORDS[parts(promised['by'])[0]]}, and now it is no more: tell whoever counts on it."
            pen.open_task(TaskKind.PROMISED, event, words)


def names_taken(pen: Pen, event: Event, act: NamesTaken) -> None:
    """A block of numbers that the book gives to nobody else."""
    begin_code(pen, act.code)
    pen.change(models.code, act.code, next_number=act.last + 1)
    pen.insert(models.block, code=act.code, first=act.first, last=act.last, device=act.device, seq=event.seq)
