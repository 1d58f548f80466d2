"""Stacks, loads, readings."""

from __future__ import annotations

from waney.yard.acts.stacks import IntoKiln, MoistureRead, OutOfKiln, PutOnStack, StackBuilt, TakenOffStack
from waney.yard.book import models
from waney.yard.book.applying.pen import Contradicts, Pen
from waney.yard.book.truth import Event
from waney.yard.streams import parts


def stack_built(pen: Pen, event: Event, act: StackBuilt) -> None:
    """A stack with what lies on it."""
    still_there(pen, act.pieces())
    told = {"called": act.called, "spot": act.spot or None, "sticker_m": act.sticker_m, "apart_m": act.apart_m}
    told |= {"since": "", "shelter": "", "chamber": "", "wanted_mc": None, "wide_m": None}
    pen.insert(models.stack, id=act.stack, **told, seq=event.seq)
    for number, layer in enumerate(act.layers, 1):
        _lay(pen, event, act.stack, layer, number, act.spot or None)


def put_on_stack(pen: Pen, event: Event, act: PutOnStack) -> None:
    """A piece lies on one stack at most: the last it was put on."""
    still_there(pen, act.pieces)
    _lay(pen, event, act.stack, act.pieces, act.layer, pen.row(models.stack, act.stack).spot)


def taken_off_stack(pen: Pen, _event: Event, act: TakenOffStack) -> None:
    """What lies on another stack meanwhile stays there."""
    still_there(pen, act.pieces)
    for piece in act.pieces:
        row = pen.shelf.get(models.stack_piece, piece)
        if row is not None and row["stack"] == act.stack:
            pen.shelf.remove(models.stack_piece, piece)
        if act.spot:
            pen.change(models.piece, piece, spot=act.spot)


def into_kiln(pen: Pen, event: Event, act: IntoKiln) -> None:
    """What lies on its stacks now is in the load, and stays in its record."""
    lying = [row["piece"] for stack in act.stacks for row in pen.shelf.find(models.stack_piece, stack=stack)]
    still_there(pen, act.pieces)
    pen.insert(models.load, id=act.load, kiln=act.kiln, whose="", fee="", words=act.words, out_seq=None, seq=event.seq)
    for stack in act.stacks:
        pen.insert(models.load_stack, load=act.load, stack=stack)
    for piece in dict.fromkeys((*lying, *act.pieces)):
        pen.insert(models.load_piece, load=act.load, piece=piece, **OWN)


OWN = {
    "owner": "", "cracks": "", "stain": "", "metal": "", "shell_mc": None, "core_mc": None, "hottest_c": None, "heat_treat": 0,
    "back_seq": None, "damage": "",
}  # fmt: skip
"""A piece in our own kiln: nothing is asked of anybody."""


def out_of_kiln(pen: Pen, event: Event, act: OutOfKiln) -> None:
    """The first time counts."""
    if pen.row(models.load, act.load).out_seq is None:
        pen.change(models.load, act.load, out_seq=event.seq)


def moisture_read(pen: Pen, event: Event, act: MoistureRead) -> None:
    """A reading."""
    told = {"mc": act.mc, "read_by": str(act.by), "depth": str(act.depth), "along_m": act.along_m, "wood_c": act.wood_c}
    rest = {"set_to": act.set_to, "corrected": int(act.corrected), "taken_back_seq": None}
    pen.insert(models.moisture, seq=event.seq, about=act.what, **told, **rest)


def move_stack(pen: Pen, stack: str, spot: str) -> None:
    """A stack stands elsewhere, and what lies on it with it."""
    pen.change(models.stack, stack, spot=spot)
    for row in pen.shelf.find(models.stack_piece, stack=stack):
        pen.change(models.piece, row["piece"], spot=spot)


def leave_stack(pen: Pen, what: str) -> None:
    """A piece that went somewhere by itself lies on no stack."""
    kind, ident = parts(what)
    if kind == "piece" and pen.shelf.get(models.stack_piece, ident) is not None:
        pen.shelf.remove(models.stack_piece, ident)


def _lay(pen: Pen, event: Event, stack: str, pieces: tuple[str, ...], layer: int | None, spot: str | None) -> None:
    for place, piece in enumerate(pieces, 1):
        held = pen.shelf.get(models.stack_piece, piece)
        often = held["to_weigh"] if held is not None and held["stack"] == stack else 0
        pen.insert(models.stack_piece, piece=piece, stack=stack, layer=layer, place=place, to_weigh=often, seq=event.seq)
        if spot is not None:
            pen.change(models.piece, piece, spot=spot)


def still_there(pen: Pen, pieces: tuple[str, ...]) -> None:
    """All of them are there, or are believed to be. Raises Contradicts before anything is changed."""
    for piece in pieces:
        row = pen.row(models.piece, piece)
        if row.ended and not pen.believed:
            raise Contradicts(row.ended_seq, f"A piece is said to be no more ({row.ended}), and yet this was done to it.")
    for piece in pieces:
        pen.change(models.piece, piece, ended="", ended_seq=None)
