"""The grade of one piece: what its faces give by the published rules, and the form that tells what is wrong with them."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.figures.problem import Problem
from waney.logs.sheet_text import with_entries, with_fields
from waney.papers.cautions import cautions
from waney.web.asked.grade import GradeAnswer, GradeAsked
from waney.web.asked.kinds import GRADE
from waney.web.asked.packing import as_bytes, read_back
from waney.web.asking import Job, answer_of, ask
from waney.web.forms import Sent
from waney.web.mark_rows import FACES, KINDS, SPARE, WORDS, MarkRow, empty, sent_rows, told_rows
from waney.web.measured import checked, newest, picture_in
from waney.web.piece_told import SizeFields, Told
from waney.web.routes import Router
from waney.web.shop import Shop, unit_of, writes
from waney.web.showing import Figures, page, shop_of
from waney.yard.book.stories import piece_story
from waney.yard.services.pieces import measure_piece
from waney.yard.services.ready import ready

router = Router()


@router.get("/pieces/{piece}/grade")
def piece_grade(request: Request, piece: str) -> Response:
    """Its grade as its sheet tells it, and what to tell. Raises NotInBook."""
    return _shown(request, _told(shop_of(request), piece), None, None, False, "")


def _told(shop: Shop, ident: str) -> Told:
    story = piece_story(shop.book, ident)
    return Told.of(story.piece, newest(story), unit_of(shop.settled()))


def _shown(
    request: Request, told: Told, sizes: SizeFields | None, rows: list[MarkRow] | None, kiln_dried: bool, problem: str
) -> Response:
    shop = shop_of(request)
    job, answer = _graded(shop, told)
    sent = rows is not None
    shown = {
        "piece": told.piece,
        "told": told,
        "job": job,
        "answer": answer,
        "sizes": sizes.typed if sizes else told.sizes(Figures(writes(shop.settled()))),
        "wrong": sizes.wrong if sizes else {},
        "rows": [*(told_rows(told) if rows is None else rows), *(empty() for _ in range(SPARE))],
        "kiln_dried": kiln_dried if sent else bool(told.content.get("kiln_dried", ready(shop.book, told.piece.id) is not None)),
        "kinds": KINDS,
        "faces": FACES,
        "words": WORDS,
        "problem": problem,
        "cautions": [caution.sentence for caution in cautions("grade")],
    }
    return page(request, "piece_grade.html", shown, status=422 if sent else 200)


def _graded(shop: Shop, told: Told) -> tuple[Job | None, GradeAnswer | None]:
    """The job that grades by the sheet, and its answer; nothing is asked of a piece whose shape is not told."""
    if not told.shaped:
        return None, None
    asked = GradeAsked(told.text, picture_in(shop.book, told.photo), unit_of(shop.settled()) == "mm")
    job = ask(shop, GRADE, as_bytes(asked))
    content = answer_of(shop, job)
    return job, read_back(content, GradeAnswer) if content else None


@router.post("/pieces/{piece}/grade")
def tell_faces(piece: str, sent: Sent) -> Response:
    """What is wrong with its faces, and the sizes of a board, written into its sheet. Raises NotInBook."""
    told = _told(shop_of(sent.request), piece)
    own = () if told.live_edge else ("length", "width")
    needed = (*own, *(() if told.text else ("thickness",)))
    sizes, rows, dried = SizeFields.sent(sent, told, needed), sent_rows(sent, told), bool(sent.text("kiln_dried"))
    if sizes.wrong or any(row.wrong for row in rows):
        return _shown(sent.request, told, sizes, rows, dried, "")
    try:
        text = sizes.on(told.begun(sizes.typed["thickness"]), own)
        text = with_fields(text, {"kiln_dried": "true" if dried else ""})
        sheet = checked(with_entries(text, "mark", [row.lines for row in rows]))
    except Problem as slip:
        return _shown(sent.request, told, sizes, rows, dried, str(slip))
    measure_piece(sent.hand, piece, sheet, told.photo)
    return RedirectResponse(f"/pieces/{piece}/grade", 303)
