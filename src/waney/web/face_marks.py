"""Face marks: what is wrong with a piece's faces, typed in a form, written as a table of its sheet."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, fields

from waney.figures.problem import Problem
from waney.logs.sheet_text import with_entry
from waney.pieces.face_map import FACES, MARK_KINDS
from waney.web.forms import Sent
from waney.web.piece_form import HEAD
from waney.web.toml import counted_in, quoted
from waney.yard.book.looking import PieceStands

KINDS = tuple(MARK_KINDS)
FACE_WORDS = tuple(word.upper() if len(word) == 1 else word for word in FACES)
LENGTHS = ("at", "across", "long", "wide")


class NoPlace(Problem):
    """A mark that is not said where, or how large."""


@dataclass(frozen=True)
class FaceMark:
    """One mark as it was typed: what, on which face, its middle along and across the piece, its size."""

    kind: str = KINDS[0]
    face: str = FACE_WORDS[0]
    at: str = ""
    across: str = ""
    long: str = ""
    wide: str = ""


def mark_of(sent: Sent) -> FaceMark:
    """What a form says."""
    return FaceMark(*(sent.text(f"mark_{each.name}") for each in fields(FaceMark)))


def with_mark(sheet: str, mark: FaceMark, unit: str) -> str:
    """The sheet with one mark more; unit: what a bare number counts. Raises NoPlace, CannotAdd."""
    if not all(getattr(mark, name) for name in LENGTHS):
        raise NoPlace("Write where its middle lies, along and across, and how long and how wide it is.")
    told = [f"{name} = {quoted(counted_in(getattr(mark, name), unit))}" for name in LENGTHS]
    return with_entry(sheet, "mark", [f"kind = {quoted(mark.kind)}", f"face = {quoted(mark.face)}", *told])


def with_table_of(sheet: str, told: Mapping[str, object]) -> str:
    """The sheet with a mark of another one, as it is told there. Raises CannotAdd."""
    return with_entry(sheet, "mark", [f"{key} = {json.dumps(value, ensure_ascii=False)}" for key, value in told.items()])


def board_sheet(piece: PieceStands, units: str) -> str:
    """The sheet of what the book says of a piece: a board as wide as where it is narrowest; "" for too little."""
    sizes = {"thickness": piece.thickness_m, "length": piece.length_m, "width": piece.least_width_m}
    if None in sizes.values():
        return ""
    told = [f"{name} = {quoted(f'{size:.5f} m')}" for name, size in sizes.items()]
    wood = [f"species = {quoted(piece.species)}"] if piece.species else []
    lines = [HEAD, 'format = "waney-piece/1"', f'units = "{units}"', f"name = {quoted(piece.name)}", *wood, *told]
    return "\n".join(lines) + "\n"
