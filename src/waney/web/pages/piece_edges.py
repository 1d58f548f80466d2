"""The edges of one piece, read from a straight line; or as its plan has them, to be held against the wood and corrected."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.figures.problem import Problem
from waney.web.asked.kinds import PLANNED
from waney.web.asked.packing import as_bytes, read_back
from waney.web.asked.place import PlaceAsked
from waney.web.asked.planned import PlannedAnswer
from waney.web.asking import Job, answer_of, ask
from waney.web.edges_form import EdgesForm
from waney.web.forms import Sent
from waney.web.measured import checked, newest
from waney.web.piece_told import Told
from waney.web.routes import Router
from waney.web.shop import Shop, unit_of, writes
from waney.web.showing import Figures, page, shop_of
from waney.yard.book.looking import plan_file
from waney.yard.book.stories import PieceStory, piece_story
from waney.yard.problems import FileLost
from waney.yard.services.pieces import measure_piece

router = Router()
NOT_READ = "These figures are the plan's. Hold a tape against the wood, put right what differs, then say that you read them."


@router.get("/pieces/{piece}/edges")
def piece_edges(request: Request, piece: str) -> Response:
    """Its edges as its sheet has them; `?from=plan` fills the form with those of the plan. Raises NotInBook."""
    return _shown(request, piece_story(shop_of(request).book, piece), None, "")


def _shown(request: Request, story: PieceStory, sent: EdgesForm | None, problem: str) -> Response:
    shop = shop_of(request)
    told = _told(shop, story)
    job, answer = _planned(shop, story)
    from_plan = request.query_params.get("from") == "plan" and answer is not None and bool(answer.stations)
    form = sent or (EdgesForm.as_planned(answer) if from_plan and answer else EdgesForm.told(told))
    shown = {
        "piece": story.piece,
        "told": told,
        "job": job,
        "answer": answer,
        "form": form,
        "thickness": told.sizes(Figures(writes(shop.settled())))["thickness"],
        "problem": problem,
    }
    return page(request, "piece_edges.html", shown, status=200 if sent is None else 422)


def _told(shop: Shop, story: PieceStory) -> Told:
    return Told.of(story.piece, newest(story), unit_of(shop.settled()))


def _planned(shop: Shop, story: PieceStory) -> tuple[Job | None, PlannedAnswer | None]:
    """The job that cuts it out of the log's model, and its answer; nothing is asked of a piece without a plan."""
    if not story.plan:
        return None, None
    try:
        plan = plan_file(shop.book, story.plan).decode("utf-8")
    except FileLost as lost:
        return None, PlannedAnswer(sentence=str(lost))
    asked = PlaceAsked.of(shop.book, story, plan, metric=unit_of(shop.settled()) == "mm")
    job = ask(shop, PLANNED, as_bytes(asked))
    content = answer_of(shop, job)
    return job, read_back(content, PlannedAnswer) if content else None


@router.post("/pieces/{piece}/edges")
def tell_edges(piece: str, sent: Sent) -> Response:
    """Its edges were read: they are its shape from now on. Raises NotInBook, BadField."""
    shop = shop_of(sent.request)
    story = piece_story(shop.book, piece)
    told = _told(shop, story)
    form = EdgesForm.sent(sent, told)
    thickness = form.thickness or told.sizes(Figures(writes(shop.settled())))["thickness"]
    problem = "" if told.text or thickness else "Write how thick the piece is; the book does not know."
    if form.planned and not form.read:
        problem = NOT_READ
    if form.wrong or problem:
        return _shown(sent.request, story, form, problem)
    try:
        sheet = checked(form.on(told.begun(thickness), told.unit))
    except Problem as slip:
        return _shown(sent.request, story, form, str(slip))
    measure_piece(sent.hand, piece, sheet, "")
    return RedirectResponse(f"/pieces/{piece}/measured", 303)
