"""Boule: the pieces of a log that got mixed up, put in order again; two names that were exchanged, put right."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any
from urllib.parse import urlencode

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.figures.problem import Problem
from waney.pieces.boule_order import A_TAPE_M, BouleOrder, NoOrder, boule_order
from waney.pieces.boule_rows import EXACT
from waney.pieces.faces_met import TwoFaces
from waney.pieces.sheet_told import has_edges, told_in
from waney.units.length import parse_length
from waney.web.asked.boule import BouleAnswer, BouleAsked, JumbledPiece
from waney.web.asked.kinds import BOULE
from waney.web.asked.packing import as_bytes, read_back
from waney.web.asking import Job, answer_of, ask
from waney.web.forms import Sent
from waney.web.measured import picture_in
from waney.web.pages.log import log_at
from waney.web.routes import Router
from waney.web.shop import Shop, unit_of
from waney.web.showing import page, shop_of
from waney.yard.acts.pieces import PieceMeasured
from waney.yard.book import jobs
from waney.yard.book.chosen import chosen_plan
from waney.yard.book.looking import PieceStands, plan_file
from waney.yard.book.sheets_measured import sheets_measured
from waney.yard.book.stories import log_story
from waney.yard.problems import FileLost
from waney.yard.services.pieces import exchange_names, put_boule_in_order

router = Router()


@dataclass
class Row:
    """One piece, what was typed of it, and the sheet that has its outline."""

    piece: PieceStands
    place: str
    first: str = ""
    second: str = ""
    wrong: dict[str, str] = field(default_factory=dict)
    sheet: PieceMeasured | None = None

    @property
    def traced(self) -> str:
        """Of which faces the outline is known, in words; empty: of none."""
        if self.sheet is None:
            return ""
        return "both faces" if "under" in told_in(self.sheet.sheet) else "its upper face"

    @property
    def told(self) -> bool:
        """Whether anything is known to put it in order by."""
        return bool(self.first or self.second or self.sheet)


@router.get("/logs/{log}/boule")
def boule(request: Request, log: str) -> Response:
    """The pieces as the book has them; `?found=` is the job that puts them in order. Raises NotInBook."""
    shop = shop_of(request)
    here = _in_order(log_story(shop.book, log_at(request, log).id).pieces)
    rows = _with_sheets(shop, (Row(piece, str(n)) for n, piece in enumerate(here, 1)))
    found, words = request.query_params.get("found", ""), request.query_params.get("words", "")
    if not found:
        return _shown(request, log, rows, words)
    job = Job.at(shop, found)
    _as_typed(rows, read_back(shop.book.files.read(jobs.look(shop.book, found).input), BouleAsked))
    content = answer_of(shop, job)
    if content is None:
        return _shown(request, log, rows, words, job=job)
    answer = read_back(content, BouleAnswer)
    return _answered(request, log, rows, words, answer)


def _answered(request: Request, log: str, rows: list[Row], words: str, answer: BouleAnswer) -> Response:
    """What was found."""
    return _shown(request, log, _placed(rows, answer.order), words, answer.sentence, answer)


def _as_typed(rows: Iterable[Row], asked: BouleAsked) -> None:
    typed = {piece.id: piece for piece in asked.pieces}
    for row in rows:
        if row.piece.id in typed:
            row.first, row.second = typed[row.piece.id].first, typed[row.piece.id].second


def _in_order(pieces: Sequence[PieceStands]) -> list[PieceStands]:
    here = [piece for piece in pieces if not (piece.ended or piece.parent)]
    return sorted(here, key=lambda piece: (piece.boule_place is None, piece.boule_place or 0, piece.seq))


def _with_sheets(shop: Shop, some: Iterable[Row]) -> list[Row]:
    """The rows, each with the newest sheet that tells its edges."""
    rows = list(some)
    sheets = list(sheets_measured(shop.book, [row.piece.id for row in rows]))
    shaped = {act.piece: act for act in reversed(sheets) if has_edges(told_in(act.sheet))}
    for row in rows:
        row.sheet = shaped.get(row.piece.id)
    return rows


def _shown(
    request: Request, log: str, rows: list[Row], words: str, problem: str = "", answer: BouleAnswer | None = None,
    job: Job | None = None,
) -> Response:  # fmt: skip
    """words: what was typed of how somebody knows."""
    shop = shop_of(request)
    shown: dict[str, Any] = {
        "log": log_at(request, log), "rows": rows, "problem": problem, "answer": answer, "words": words,
        "left_out": tuple(_left_out(rows, answer)) if answer else (), "job": job, "unit": unit_of(shop.settled()),
        "most_weighed": EXACT, "traced": any(row.sheet for row in rows),
    }  # fmt: skip
    wrong = bool(problem) or any(row.wrong for row in rows)
    return page(request, "boule.html", shown, status=422 if wrong else 200)


def _left_out(rows: list[Row], answer: BouleAnswer) -> Iterator[tuple[str, str]]:
    """Pieces that were not weighed up, and what was wrong with sheets."""
    yield from answer.left_out
    named = {name for name, _ in answer.left_out} | {place.name for place in (answer.order.places if answer.order else ())}
    for row in rows:
        if not row.told:
            yield row.piece.name, "nothing is told of its faces"
        elif answer.order and row.piece.name not in named:
            yield row.piece.name, "what is told of it came after this order was looked for"


@router.post("/logs/{log}/boule")
def order(log: str, sent: Sent) -> Response:
    """Find the order by the faces, or write down the one that stands there. Raises BadAct, Refused."""
    rows, words = _typed(sent, log), sent.text("words")
    if sent.text("do") == "find":
        return _found(sent, log, rows)
    placed = sorted(rows, key=lambda row: _number(row.place))
    numbers = [_number(row.place) for row in placed]
    if numbers != list(range(1, len(placed) + 1)):
        return _shown(sent.request, log, rows, words, f"Number the pieces from 1 to {len(placed)}, each number once.")
    put_boule_in_order(sent.hand, log, tuple(row.piece.id for row in placed), words)
    return RedirectResponse(f"/logs/{log}/boule", 303)


def _typed(sent: Sent, log: str) -> list[Row]:
    pieces = {one.id: one for one in log_story(shop_of(sent.request).book, log_at(sent.request, log).id).pieces}
    named = [pieces[ident] for ident in sent.all("piece") if ident in pieces]

    def typed(what: str, one: PieceStands) -> str:
        return sent.text(f"{what}-{one.id}")

    rows = (Row(one, typed("place", one), typed("first", one), typed("second", one)) for one in named)
    return _with_sheets(shop_of(sent.request), rows)


def _number(text: str) -> int:
    return int(text) if text.isdecimal() and len(text) < 5 else 0


def _found(sent: Sent, log: str, rows: list[Row]) -> Response:
    """By widths alone at once; where outlines or the plan of the log are read, or many pieces weighed up, a worker does it."""
    shop = shop_of(sent.request)
    unit = unit_of(shop.settled())
    known = [(row, _widths(row, "first", unit), _widths(row, "second", unit)) for row in rows if row.told]
    words = sent.text("words")
    if any(row.wrong for row in rows):
        return _shown(sent.request, log, rows, words)
    plan = _plan_of(shop, log)
    if plan or len(known) > EXACT or any(row.sheet for row, *_ in known):
        job = ask(shop, BOULE, as_bytes(BouleAsked(tuple(_jumbled(shop, *each) for each in known), plan)))
        asked = urlencode({"found": job.id} | ({"words": words} if words else {}))
        return RedirectResponse(f"/logs/{log}/boule?{asked}#found", 303)
    try:
        found = boule_order([TwoFaces(row.piece.name, first, second) for row, first, second in known], A_TAPE_M)
    except NoOrder as no:
        return _shown(sent.request, log, rows, words, str(no))
    return _answered(sent.request, log, rows, words, BouleAnswer(found))


def _plan_of(shop: Shop, log: str) -> str:
    """The plan that is chosen for the log; empty for none. One that is lost says nothing of the ends of the row."""
    chosen = chosen_plan(shop.book, log)
    try:
        return plan_file(shop.book, chosen.id).decode("utf-8") if chosen else ""
    except FileLost:
        return ""


def _jumbled(shop: Shop, row: Row, first_m: tuple[float, ...], second_m: tuple[float, ...]) -> JumbledPiece:
    sheet, photo = (row.sheet.sheet, row.sheet.photo) if row.sheet else ("", "")
    typed = (row.first, row.second, first_m, second_m)
    return JumbledPiece(row.piece.id, row.piece.name, sheet, picture_in(shop.book, photo), *typed)


def _placed(rows: list[Row], found: BouleOrder | None) -> list[Row]:
    """The rows numbered as they were found, those that were not weighed up after them."""
    if found is None:
        return rows
    places = {place.name: str(n) for n, place in enumerate(found.places, 1)}
    others = (str(n) for n in range(len(places) + 1, len(rows) + 1))
    for row in rows:
        row.place = places.get(row.piece.name) or next(others)
    return sorted(rows, key=lambda row: int(row.place))


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
