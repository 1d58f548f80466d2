"""Boule: the pieces of a log that got mixed up, put in order again; two names that were exchanged, put right."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.figures.problem import Problem
from waney.pieces.boule_order import BouleOrder, NoOrder, TwoFaces, boule_order
from waney.units.length import parse_length
from waney.web.forms import Sent
from waney.web.pages.log import log_at
from waney.web.routes import Router
from waney.web.shop import unit_of
from waney.web.showing import page, shop_of
from waney.yard.book.looking import PieceStands
from waney.yard.book.stories import log_story
from waney.yard.services.pieces import exchange_names, put_boule_in_order

router = Router()
A_TAPE_M = 0.003
"""an eighth of an inch: what a tape on a waney edge does not tell apart (common practice, no source)"""


@dataclass
class Row:
    """One piece, and what was typed of it."""

    piece: PieceStands
    place: str
    first: str = ""
    second: str = ""
    wrong: dict[str, str] = field(default_factory=dict)


@router.get("/logs/{log}/boule")
def boule(request: Request, log: str) -> Response:
    """The pieces as the book has them."""
    pieces = log_story(shop_of(request).book, log_at(request, log).id).pieces
    return _shown(request, log, [Row(piece, str(n)) for n, piece in enumerate(_in_order(pieces), 1)])


def _in_order(pieces: Sequence[PieceStands]) -> list[PieceStands]:
    here = [piece for piece in pieces if not (piece.ended or piece.parent)]
    return sorted(here, key=lambda piece: (piece.boule_place is None, piece.boule_place or 0, piece.seq))


def _shown(request: Request, log: str, rows: list[Row], problem: str = "", found: BouleOrder | None = None) -> Response:
    shop = shop_of(request)
    shown: dict[str, Any] = {
        "log": log_at(request, log), "rows": rows, "problem": problem, "found": found, "unit": unit_of(shop.settled()),
    }  # fmt: skip
    wrong = bool(problem) or any(row.wrong for row in rows)
    return page(request, "boule.html", shown, status=422 if wrong else 200)


@router.post("/logs/{log}/boule")
def order(log: str, sent: Sent) -> Response:
    """Find the order by the widths, or write down the one that stands there. Raises BadAct, Refused."""
    rows = _typed(sent, log)
    if sent.text("do") == "find":
        return _found(sent, log, rows)
    placed = sorted(rows, key=lambda row: _number(row.place))
    numbers = [_number(row.place) for row in placed]
    if numbers != list(range(1, len(placed) + 1)):
        return _shown(sent.request, log, rows, f"Number the pieces from 1 to {len(placed)}, each number once.")
    put_boule_in_order(sent.hand, log, tuple(row.piece.id for row in placed), sent.text("words"))
    return RedirectResponse(f"/logs/{log}/boule", 303)


def _typed(sent: Sent, log: str) -> list[Row]:
    pieces = {one.id: one for one in log_story(shop_of(sent.request).book, log_at(sent.request, log).id).pieces}
    named = [pieces[ident] for ident in sent.all("piece") if ident in pieces]

    def typed(what: str, one: PieceStands) -> str:
        return sent.text(f"{what}-{one.id}")

    return [Row(one, typed("place", one), typed("first", one), typed("second", one)) for one in named]


def _number(text: str) -> int:
    return int(text) if text.isdecimal() and len(text) < 5 else 0


def _found(sent: Sent, log: str, rows: list[Row]) -> Response:
    unit = unit_of(shop_of(sent.request).settled())
    measured = [row for row in rows if row.first or row.second]
    faces = [TwoFaces(row.piece.name, _widths(row, "first", unit), _widths(row, "second", unit)) for row in measured]
    if any(row.wrong for row in rows):
        return _shown(sent.request, log, rows)
    try:
        found = boule_order(faces, A_TAPE_M)
    except NoOrder as no:
        return _shown(sent.request, log, rows, str(no))
    places = {place.name: str(n) for n, place in enumerate(found.places, 1)}
    others = (str(n) for n in range(len(places) + 1, len(rows) + 1))
    for row in rows:
        row.place = places.get(row.piece.name) or next(others)
    return _shown(sent.request, log, sorted(rows, key=lambda row: int(row.place)), found=found)


def _widths(row: Row, which: str, unit: str) -> tuple[float, ...]:
    """Widths from the butt to the top, with commas between them."""
    typed = getattr(row, which)
    try:
        return tuple(parse_length(each.strip(), unit) for each in typed.split(",") if each.strip())
    except Problem as slip:
        row.wrong[which] = str(slip)
        return ()


@router.post("/logs/{log}/boule/names")
def names(log: str, sent: Sent) -> Response:
    """Two pieces bear each other's names. Raises BadAct, NotInBook."""
    exchange_names(sent.hand, sent.text("one"), sent.text("other"), sent.text("words"))
    return RedirectResponse(f"/logs/{log}/boule", 303)
