"""Piece form: what somebody tapped on a piece's photo and answered beside it, written as its sheet."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from waney.figures.problem import Problem
from waney.web.toml import quoted
from waney.yard.book.looking import PieceStands

HEAD = "# Written by the form of the yard's pages; change it as you like, every version is kept."
CORNERS = (1, 3, 12, 10)
"""Marks of a target in the order they are tapped: round it."""
FIELDS = ("thickness", "true_thickness", "long_row", "lies", "taped_length", "taped_width")
Taps = list[list[float]]


class BadTaps(Problem):
    """What was tapped is no outline with a target."""


@dataclass(frozen=True)
class TappedMark:
    """What is wrong with a face: what it is, on which face, places round it."""

    kind: str
    face: str
    edge: Taps


@dataclass(frozen=True)
class Tapped:
    """Places in the picture's own pixels: the corners of one or two targets, round the piece, a hole, marks."""

    targets: tuple[Taps, ...]
    edge: Taps
    hole: Taps
    tapping_px: float
    """how far a tap is off"""
    marks: tuple[TappedMark, ...] = ()
    corners: tuple[int, ...] = ()
    """which places round the piece a hand has set"""


def tapped_of(text: str) -> Tapped:
    """What the page sent. Raises BadTaps."""
    try:
        told = json.loads(text)
        tapping = float(told.get("tapping", 3.0))
        lists = {name: _places(told.get(name, [])) for name in ("first", "second", "edge", "hole")}
        marks = tuple(TappedMark(str(one["kind"]), str(one["face"]), _places(one["edge"])) for one in told.get("marks", []))
        corners = tuple(int(one) for one in told.get("corners", []))
    except (ValueError, TypeError, AttributeError, KeyError):
        raise BadTaps("Tap the corners of a target and round the piece on its photo, then send it.") from None
    targets = tuple(lists[name] for name in ("first", "second") if lists[name])
    if not targets or any(len(target) != len(CORNERS) for target in targets) or len(lists["edge"]) < 8:
        raise BadTaps(
            "A target needs its four corner marks, 1, 3, 12 and 10 in this order, and the piece eight taps round it at least."
        )
    return Tapped(targets, lists["edge"], lists["hole"], min(max(tapping, 0.1), 100.0), marks, corners)


def _places(told: object) -> Taps:
    if not isinstance(told, list):
        raise TypeError
    return [[float(x), float(y)] for x, y in told]


@dataclass(frozen=True)
class Before:
    """What the form of a sheet's photo said, to go on with: the taps as the page sends them, the answers, marks typed besides."""

    taps: str = ""
    answers: Mapping[str, str] = field(default_factory=dict)
    typed: tuple[Mapping[str, object], ...] = ()


def before_of(sheet: str, piece: PieceStands) -> Before:
    """Out of the last sheet of a piece; nothing where it is no sheet of a photo that this form has written."""
    if not sheet.startswith(HEAD):
        return Before()
    try:
        told = tomllib.loads(sheet)
        photo = told["photo"]
        targets = [[target["marks"][number - 1] for number in CORNERS] for target in photo["target"]]
        first, second = [*targets, []][:2]
        holes = [hole["edge"] for hole in photo.get("hole", [])]
        taps = {"first": first, "second": second, "edge": photo["edge"], "hole": [*holes, []][0]}
        taps |= {"marks": [{"face": "A"} | mark for mark in photo.get("mark", [])], "corners": photo.get("corners", [])}
        given = {name: text for name in FIELDS if isinstance(text := photo.get(name, told.get(name)), str)}
        if piece.thickness_m is not None and given.get("thickness") == _as_sawn(piece):
            del given["thickness"]
        typed = tuple(told.get("mark", []))
    except (tomllib.TOMLDecodeError, KeyError, TypeError, IndexError, AttributeError):
        return Before()
    return Before(json.dumps(taps) if len(holes) < 2 and _can_show(taps) else "", given, typed)


def _can_show(taps: Mapping[str, object]) -> bool:
    """Whether all that was tapped is places: a mark that nobody tapped is none."""
    try:
        tapped_of(json.dumps(taps))
    except BadTaps:
        return False
    return True


def sheet_of(piece: PieceStands, answers: dict[str, str], tapped: Tapped, units: str, photo: str) -> str:
    """The piece sheet."""
    return "\n".join([HEAD, 'format = "waney-piece/1"', f'units = "{units}"', *_lines(piece, answers, tapped, photo)]) + "\n"


def _as_sawn(piece: PieceStands) -> str:
    """The thickness the book has; a piece without one must be told."""
    if piece.thickness_m is None:
        raise BadTaps("Write how thick the piece is; the book does not know.")
    return f"{piece.thickness_m:.5f} m"


def _lines(piece: PieceStands, answers: dict[str, str], tapped: Tapped, photo: str) -> Iterator[str]:
    yield f"name = {quoted(piece.name)}"
    yield f"species = {quoted(piece.species)}"
    yield f"thickness = {quoted(answers['thickness'] or _as_sawn(piece))}"
    if answers["true_thickness"]:
        yield f"true_thickness = {quoted(answers['true_thickness'])}"
    yield from ("", "[photo]", f"file = {quoted(photo)}", f"edge = {json.dumps(tapped.edge)}", f"tapping = {tapped.tapping_px:g}")
    if answers["long_row"]:
        yield f"long_row = {quoted(answers['long_row'])}"
    if answers["lies"]:
        yield f"lies = {quoted(answers['lies'])}"
    yield from (f"{name} = {quoted(answers[name])}" for name in ("taped_length", "taped_width") if answers[name])
    if tapped.corners:
        yield f"corners = {json.dumps(tapped.corners)}"
    for target in tapped.targets:
        marks: list[object] = ["-"] * 12
        for number, tap in zip(CORNERS, target, strict=True):
            marks[number - 1] = tap
        yield from ("", "[[photo.target]]", f"marks = {json.dumps(marks)}")
    if tapped.hole:
        yield from ("", "[[photo.hole]]", f"edge = {json.dumps(tapped.hole)}")
    for mark in tapped.marks:
        yield from ("", "[[photo.mark]]", f"kind = {quoted(mark.kind)}", f"face = {quoted(mark.face)}")
        yield f"edge = {json.dumps(mark.edge)}"
