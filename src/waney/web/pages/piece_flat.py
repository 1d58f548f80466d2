"""Flattening one piece: what is left of it, and the grid of heights or the scan that says so."""

from __future__ import annotations

from asyncio import to_thread
from base64 import b64encode

from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.figures.problem import Problem
from waney.logs.sheet_text import with_table, without_table
from waney.papers.cautions import cautions
from waney.units.length import length_of, parse_length
from waney.web.asked.flatten import FlattenAnswer, FlattenAsked
from waney.web.asked.kinds import FLATTEN, SCAN
from waney.web.asked.packing import as_bytes, read_back
from waney.web.asked.scan import ScanAnswer, ScanAsked
from waney.web.asking import Job, answer_of, ask
from waney.web.forms import BadField, Sent
from waney.web.heights_form import FEWEST, MOST_ACROSS, MOST_ALONG, WAYS, HeightsForm
from waney.web.measured import checked, newest, newest_with
from waney.web.piece_told import Told
from waney.web.routes import Router
from waney.web.shop import Shop, unit_of, writes
from waney.web.showing import Figures, page, shop_of
from waney.yard.book.stories import piece_story
from waney.yard.services.pieces import measure_piece

router = Router()
UNITS = ("mm", "m", "in")
"""what a number in a scan may count"""


@router.get("/pieces/{piece}/flat")
def piece_flat(request: Request, piece: str) -> Response:
    """What flattening leaves, and the grid to type; `?along=`, `?across=`, `?way=` ask for another one. Raises NotInBook."""
    asked = request.query_params
    shop = shop_of(request)
    told = _read(shop, piece)
    n, k = (int(text) if (text := asked.get(name, "")).isdecimal() and len(text) < 3 else None for name in ("along", "across"))
    form = HeightsForm.told(told, asked.get("way", ""), n, k, _thick(shop, told))
    return _shown(request, told, form, "", "")


def _read(shop: Shop, ident: str) -> Told:
    """The last sheet with heights, else the last one."""
    story = piece_story(shop.book, ident)
    last = newest_with(story, "heights") or newest(story)
    return Told.of(story.piece, last, unit_of(shop.settled()))


def _thick(shop: Shop, told: Told) -> str:
    """How thick the piece is, where that is known."""
    return told.word("true_thickness") or told.sizes(Figures(writes(shop.settled())))["thickness"]


def _shown(request: Request, told: Told, form: HeightsForm, problem: str, scan: str) -> Response:
    shop = shop_of(request)
    job, answer = _flattened(shop, told)
    scanned = request.query_params.get("scan", "")
    reading = Job.at(shop, scanned) if scanned else None
    heights = answer_of(shop, reading) if reading else None
    shown = {
        "reading": reading,
        "read": read_back(heights, ScanAnswer) if heights else None,
        "piece": told.piece,
        "told": told,
        "job": job,
        "answer": answer,
        "form": form,
        "sizes": told.sizes(Figures(writes(shop.settled()))),
        "ways": WAYS,
        "alongs": range(FEWEST, MOST_ALONG + 1),
        "acrosses": range(FEWEST, MOST_ACROSS + 1),
        "units": UNITS,
        "problem": problem,
        "scan": scan,
        "cautions": [caution.sentence for caution in cautions("flattening")],
    }
    return page(request, "piece_flat.html", shown, status=422 if problem or scan or form.wrong else 200)


def _flattened(shop: Shop, told: Told) -> tuple[Job | None, FlattenAnswer | None]:
    """The job that lays the planes, and its answer; nothing is asked without heights."""
    if not told.has("heights"):
        return None, None
    job = ask(shop, FLATTEN, as_bytes(FlattenAsked(told.text, unit_of(shop.settled()) == "mm")))
    content = answer_of(shop, job)
    return job, read_back(content, FlattenAnswer) if content else None


@router.post("/pieces/{piece}/flat")
def tell_heights(piece: str, sent: Sent) -> Response:
    """Heights of both faces, typed on a grid, written into its sheet. Raises NotInBook, BadHeightsForm."""
    shop = shop_of(sent.request)
    form = HeightsForm.sent(sent, _read(shop, piece))
    problem = "" if form.wrong else _written(sent, piece, tuple(form.lines()))
    if form.wrong or problem:
        return _shown(sent.request, _read(shop, piece), form, problem, "")
    return RedirectResponse(f"/pieces/{piece}/flat", 303)


def _written(sent: Sent, piece: str, lines: tuple[str, ...]) -> str:
    """Heights into the newest sheet; what is wrong with them, empty for nothing."""
    shop = shop_of(sent.request)
    story = piece_story(shop.book, piece)
    told = Told.of(story.piece, newest(story), unit_of(shop.settled()))
    thickness = sent.text("thickness") or told.sizes(Figures(writes(shop.settled())))["thickness"] or sent.text("thick")
    if not told.text and not thickness:
        return "Write how thick the piece is; the book does not know."
    try:
        text = without_table(told.begun(thickness), "scan") if told.has("scan") else told.begun(thickness)
        measure_piece(sent.hand, piece, checked(with_table(text, ("heights",), lines)), told.photo)
    except Problem as slip:
        return str(slip)
    return ""


@router.post("/pieces/{piece}/flat/scan")
async def tell_scan(piece: str, sent: Sent) -> Response:
    """A scan of one face or both is read; its heights are kept once somebody has seen that it could be. Raises NotInBook."""
    shop = shop_of(sent.request)
    told = _read(shop, piece)
    chosen = [one for name in ("upper", "under") if isinstance(one := sent.form.get(name), UploadFile) and one.filename]
    files = [(one.filename or "", await one.read()) for one in chosen]
    try:
        asked = await to_thread(_scan_asked, sent, told.unit, files)
    except Problem as slip:
        form = HeightsForm.told(told, "", None, None, _thick(shop, told))
        return _shown(sent.request, told, form, "", str(slip))
    job = await to_thread(ask, shop, SCAN, asked)
    return RedirectResponse(f"/pieces/{piece}/flat?scan={job.id}#scan", 303)


def _scan_asked(sent: Sent, unit: str, files: list[tuple[str, bytes]]) -> bytes:
    """The question. Raises Unreadable, BadField."""
    every, thick = sent.text("every"), sent.text("evenly")
    if not files or sent.text("unit") not in UNITS:
        raise BadField("Choose the scan of the upper face, and say what a number in it counts.")
    if len(files) < 2 and not thick:
        raise BadField("Send a scan of the under face too, or write how thick the piece is everywhere.")
    packed = tuple((name, b64encode(content).decode("ascii")) for name, content in files)
    side, thickness = parse_length(every, unit) if every else None, parse_length(thick, unit) if thick else 0.0
    return as_bytes(ScanAsked(packed, length_of(1.0, sent.text("unit")), side, thickness))


@router.post("/pieces/{piece}/flat/scanned")
def keep_scan(piece: str, sent: Sent) -> Response:
    """The heights of a scan that was read go into the sheet. Raises NotInBook, BadField."""
    shop = shop_of(sent.request)
    content = answer_of(shop, Job.at(shop, sent.text("scan")))
    if content is None:
        raise BadField("This scan is not read yet; look again.")
    problem = _written(sent, piece, read_back(content, ScanAnswer).lines)
    if problem:
        told = _read(shop, piece)
        return _shown(sent.request, told, HeightsForm.told(told, "", None, None, _thick(shop, told)), "", problem)
    return RedirectResponse(f"/pieces/{piece}/flat", 303)
