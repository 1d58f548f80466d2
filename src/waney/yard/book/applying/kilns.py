"""Loads in someone else's kiln: handed over, taken back."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from dataclasses import asdict

from waney.yard.acts.kilns import LoadHandedOver, LoadTakenBack, OwnersTold
from waney.yard.book import models
from waney.yard.book.applying.pen import Contradicts, Pen
from waney.yard.book.applying.stacks import OWN, still_there
from waney.yard.book.shelf import Row
from waney.yard.book.truth import Event


def load_handed_over(pen: Pen, event: Event, act: LoadHandedOver) -> None:
    """Its pieces stand at the kiln, on no stack and at no spot of ours. Raises Contradicts."""
    pieces = tuple(each.piece for each in act.pieces)
    away = list(_away(pen, pieces))
    if away and not pen.believed:
        raise Contradicts(away[0]["seq"], "A piece stands at another kiln and was not taken back, and yet it was handed over.")
    still_there(pen, pieces)
    for row in away:  # somebody settled that it is so: then it had come back
        _back(pen, event, row["load"], row["piece"], "")
        _out(pen, event, row["load"])
    told = {"kiln": act.kiln, "whose": act.whose, "fee": act.fee, "words": act.words}
    pen.insert(models.load, id=act.load, **told, out_seq=None, seq=event.seq)
    for each in act.pieces:
        pen.insert(models.load_piece, load=act.load, **OWN | asdict(each) | {"heat_treat": int(each.heat_treat)})
        _leaves(pen, each.piece)


def _away(pen: Pen, pieces: Iterable[str]) -> Iterator[Row]:
    """Where these pieces stand at a kiln of someone else's, with the event that took them there."""
    for piece in pieces:
        for row in pen.shelf.find(models.load_piece, piece=piece):
            load = pen.row(models.load, row["load"])
            if load.whose and row["back_seq"] is None:
                yield {**row, "seq": load.seq}


def _leaves(pen: Pen, piece: str) -> None:
    if pen.shelf.get(models.stack_piece, piece) is not None:
        pen.shelf.remove(models.stack_piece, piece)
    pen.change(models.piece, piece, spot=None)


def load_taken_back(pen: Pen, event: Event, act: LoadTakenBack) -> None:
    """These pieces are home; with the last of them the load is out. Raises Contradicts for one that was not in it."""
    pieces = tuple(each.piece for each in act.pieces)
    strange = _strange(pen, act.load, pieces)
    still_there(pen, pieces)
    for piece in strange:
        pen.insert(models.load_piece, load=act.load, piece=piece, **OWN)
    for each in act.pieces:
        _back(pen, event, act.load, each.piece, each.damage)
        if act.spot:
            pen.change(models.piece, each.piece, spot=act.spot)
    _out(pen, event, act.load)
    told = {"days": act.days, "treated": str(act.treated), "core_c": act.core_c, "core_min": act.core_min, "words": act.words}
    record = json.dumps([[one.minutes, one.core_c] for one in act.record])
    money = {"fee_cents": act.fee_cents, "currency": act.currency}
    pen.insert(models.load_back, seq=event.seq, load=act.load, **told, **money, record=record)


def owners_told(pen: Pen, _event: Event, act: OwnersTold) -> None:
    """The last that was told counts. Raises Contradicts for a piece that was not in it."""
    for piece in _strange(pen, act.load, tuple(each.piece for each in act.pieces)):
        pen.insert(models.load_piece, load=act.load, piece=piece, **OWN)
    for each in act.pieces:
        pen.change(models.load_piece, act.load, each.piece, owner=each.owner)


def _strange(pen: Pen, load: str, pieces: tuple[str, ...]) -> list[str]:
    """Pieces that were not in a load; somebody settled that they were. Raises Contradicts where nobody did."""
    strange = [piece for piece in pieces if pen.shelf.get(models.load_piece, load, piece) is None]
    if strange and not pen.believed:
        raise Contradicts(pen.row(models.load, load).seq, "A piece is said to be of this load, and yet it was not in it.")
    return strange


def _back(pen: Pen, event: Event, load: str, piece: str, damage: str) -> None:
    """The first time counts; what is said of damage later is added."""
    row = pen.row(models.load_piece, load, piece)
    said = "; ".join(each for each in (row.damage, damage) if each)
    pen.change(models.load_piece, load, piece, back_seq=row.back_seq or event.seq, damage=said)


def _out(pen: Pen, event: Event, load: str) -> None:
    """With its last piece a load is out."""
    home = all(each["back_seq"] is not None for each in pen.shelf.find(models.load_piece, load=load))
    if home and pen.row(models.load, load).out_seq is None:
        pen.change(models.load, load, out_seq=event.seq)
