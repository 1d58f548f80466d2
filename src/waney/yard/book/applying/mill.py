"""The sawing day."""

from __future__ import annotations

from typing import Any

from waney.yard.acts.mill import AtTheMill, CameOff, DayClosed, DayOpened, PiecesGoTo
from waney.yard.acts.pieces import PieceCounted
from waney.yard.book import models
from waney.yard.book.applying.pen import Pen, TaskKind, shed_code, take_name
from waney.yard.book.truth import Event, packed


def day_opened(pen: Pen, event: Event, act: DayOpened) -> None:
    """A day."""
    pen.insert(models.day, id=act.day, on_date=act.on, closed_seq=None, spot=None, seq=event.seq)


def day_closed(pen: Pen, event: Event, act: DayClosed) -> None:
    """The first closing counts; what comes in later from another phone is still of this day."""
    if pen.row(models.day, act.day).closed_seq is None:
        pen.change(models.day, act.day, closed_seq=event.seq)


def pieces_go_to(pen: Pen, _event: Event, act: PiecesGoTo) -> None:
    """The latest word counts."""
    pen.change(models.day, act.day, spot=act.spot or None)


def came_off(pen: Pen, event: Event, act: CameOff) -> None:
    """A piece. It is there whatever else is said, so what contradicts it is asked, and the piece stands."""
    log = pen.row(models.log, act.log) if act.log else None
    if log is not None and log.ended:
        pen.open_task(TaskKind.BOTH, event, f"A piece came off a log that is said to be no more ({log.ended}).", log.ended_seq)
    _ask_two_of_one_cut(pen, event, act)
    _ask_gone_parent(pen, event, act)
    name = take_name(pen, event, act.name, _code_for_piece(pen, act, log))
    about = {
        "species": act.species or (log.species if log is not None else ""),
        "log": act.log or None, "day": act.day or None, "plan": act.plan or None, "parent": act.parent or None,
        "cut": act.cut, "boule_place": act.order, "how": str(act.how), "off_by_m": act.off_by_m, "height_m": act.height_m,
        "place": packed(act.at), "product": act.product, "spot": act.spot or None, "bought": 0, "transform": act.transform or "",
    }  # fmt: skip
    _insert_piece(pen, event, act, name | about)


SIDES = ("bark", "bark_since", "ends", "ends_since")
"""nobody told of them yet"""


def _insert_piece(pen: Pen, event: Event, act: CameOff | PieceCounted, about: dict[str, Any]) -> None:
    sizes: dict[str, Any] = {
        "thickness_m": act.thickness_m, "length_m": act.length_m, "widths_m": packed(act.widths_m),
        "least_width_m": min(act.widths_m, default=None), "most_width_m": max(act.widths_m, default=None),
    }  # fmt: skip
    none = ("narrow_face_m", "mean_of_faces_m", "mid_length_m", "area_m2", "to_size_seq")
    sizes |= {"sawn_thickness_m": act.thickness_m, "figure": ""} | dict.fromkeys(none) | dict.fromkeys(SIDES, "")
    fresh = {"mass_kg": None, "ended": "", "ended_seq": None, "taken_back_seq": None, "seq": event.seq}
    pen.insert(models.piece, id=act.piece, **about, **sizes, **fresh)


def _code_for_piece(pen: Pen, act: CameOff, log: Any) -> str:
    """The code from which a piece without a tag is named: its log's, its parent's, or one for wood without a log."""
    if act.name:
        return ""
    if log is not None:
        return str(log.code)
    parent = pen.row(models.piece, act.parent).code if act.parent else None
    return parent or shed_code(pen)


def _ask_two_of_one_cut(pen: Pen, event: Event, act: CameOff) -> None:
    """Two people may have tapped the same cut."""
    if not act.plan or act.cut is None:
        return
    same = pen.shelf.find(models.piece, plan=act.plan, cut=act.cut)
    others = [row["seq"] for row in same if row["taken_back_seq"] is None and row["parent"] == (act.parent or None)]
    if others:
        words = f"Two pieces are told of cut {act.cut}. If it was tapped twice, take one back."
        pen.open_task(TaskKind.BOTH, event, words, min(others))


def _ask_gone_parent(pen: Pen, event: Event, act: CameOff) -> None:
    parent = pen.row(models.piece, act.parent) if act.parent else None
    if parent is not None and parent.ended and parent.ended != "sawn up":
        pen.open_task(TaskKind.BOTH, event, f"It came off a piece that is said to be no more ({parent.ended}).", parent.ended_seq)


def piece_counted(pen: Pen, event: Event, act: PieceCounted) -> None:
    """A piece without a log."""
    name = take_name(pen, event, act.name, "" if act.name else shed_code(pen))
    none = dict.fromkeys(("log", "day", "plan", "parent", "cut", "boule_place", "off_by_m", "height_m"))
    about = {"species": act.species, "how": "", "place": packed(()), "product": "", "spot": act.spot or None, "transform": ""}
    _insert_piece(pen, event, act, name | none | about | {"bought": int(act.bought)})
    if act.photo:
        wet = None if act.wet is None else int(act.wet)
        told = {"file": act.photo, "about": f"piece:{act.piece}", "taken_at": event.happened_at, "shows": "", "wet": wet}
        pen.insert(models.photo, id=act.piece, **told, filed_seq=event.seq, taken_back_seq=None, seq=event.seq)


def at_the_mill(pen: Pen, event: Event, act: AtTheMill) -> None:
    """Something happened."""
    told = {
        "what": str(act.what),
        "roll_deg": act.roll_deg,
        "pith_m": packed(act.pith_m),
        "along_m": act.along_m,
        "clock": act.clock,
        "plan": act.plan,
        "step": act.step,
        "off_by_m": act.off_by_m,
    }
    links = {"day": act.day, "log": act.log or None, "piece": act.piece or None}
    pen.insert(models.happening, seq=event.seq, **links, **told, words=act.words, taken_back_seq=None)
