"""Ordering: the work that puts the pieces of a jumbled boule in order by their outlines and widths, and by the plan of their log
from the end that came off first."""

from __future__ import annotations

from dataclasses import dataclass

from waney.figures.problem import Problem
from waney.pieces.boule_order import A_TAPE_M, A_TRACE_M, BouleOrder, NoOrder, boule_order
from waney.pieces.boule_way import Wide
from waney.pieces.faces_met import TwoFaces
from waney.pieces.measured import with_photo
from waney.pieces.outline import Outline
from waney.pieces.piece_sheet import SheetPiece, read_piece_sheet
from waney.sawing.facts.boule_planned import boule_planned
from waney.sawing.plan_file import read_plan
from waney.web.asked.boule import BouleAnswer, BouleAsked, Ends, JumbledPiece
from waney.web.asked.packing import as_bytes, read_back
from waney.web.works.measuring import SCENARIOS, picture_of
from waney.work.apart import Progress

ONE_FACE = "one of its faces alone is traced; tape the widths of both, or read the edges of its under face too"
ONE_WIDTH = "tape the widths of both of its faces"


@dataclass(frozen=True)
class _Read:
    """A piece as it can be weighed up; sentence: why it cannot, or why its outline cannot."""

    faces: TwoFaces | None
    sentence: str = ""


def order_boule(given: bytes, progress: Progress) -> bytes:
    """The job. What cannot be answered is answered with its sentence."""
    asked = read_back(given, BouleAsked)
    read = []
    for place, piece in enumerate(asked.pieces):
        progress(place / len(asked.pieces), f"reading the outline of {piece.name}")
        read.append((piece.name, _read(piece)))
    faces = [one.faces for _, one in read if one.faces]
    left_out = tuple((name, one.sentence) for name, one in read if one.sentence)
    outlined = sum(one.first_edge is not None and one.second_edge is not None for one in faces)
    try:
        found = boule_order(faces, A_TRACE_M if outlined == len(faces) else A_TAPE_M)
        row, ends = _from_the_first(found, _planned(asked.plan))
        return as_bytes(BouleAnswer(row, left_out=left_out, outlined=outlined, ends=ends))
    except NoOrder as no:
        return as_bytes(BouleAnswer(None, str(no), left_out))


def _planned(plan: str) -> tuple[Wide, ...]:
    """What a plan has for each piece; nothing where there is none that can be read: the order is there all the same."""
    try:
        return boule_planned(read_plan(plan)[0]) if plan else ()
    except Problem:
        return ()


def _from_the_first(found: BouleOrder, planned: tuple[Wide, ...]) -> tuple[BouleOrder, Ends]:
    """The row from the end that came off first, where a plan tells that."""
    first = found.first_off(planned) if planned else None
    if first is None:
        return found, Ends.ALIKE if planned else Ends.NO_PLAN
    return found if first else found.turned_round(), Ends.TOLD


def _read(piece: JumbledPiece) -> _Read:
    first, second, sentence = None, None, ""
    if piece.sheet:
        try:
            first, second = _outlines(piece)
        except Problem as why:
            sentence = str(why)
    faces = TwoFaces(piece.name, piece.first_m, piece.second_m, first, second)
    if faces.both_known:
        return _Read(faces, sentence)
    return _Read(None, sentence or (ONE_FACE if first else ONE_WIDTH))


def _outlines(piece: JumbledPiece) -> tuple[Outline, Outline | None]:
    """Upper and under face. Raises the sentences of the readers of sheets and photos."""
    told: SheetPiece = read_piece_sheet(piece.sheet)
    whole, _ = with_photo(told, picture_of(piece.picture), SCENARIOS)
    return whole.upper_face, whole.under
