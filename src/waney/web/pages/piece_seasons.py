"""One piece in winter and in summer: how wide it is in a room, by the place, the room and the finish."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response

from waney.web.asked.kinds import SEASONS
from waney.web.asked.packing import as_bytes, read_back
from waney.web.asked.seasons import SeasonsAnswer, SeasonsAsked
from waney.web.asking import Job, answer_of, ask
from waney.web.routes import Router
from waney.web.season_form import GRAINS, places, season_form
from waney.web.shop import Shop, unit_of
from waney.web.showing import page, shop_of
from waney.wood.lag import finishes
from waney.yard.book.stories import piece_story

router = Router()


@router.get("/pieces/{piece}/seasons")
def piece_seasons(request: Request, piece: str) -> Response:
    """The year of its width; the address says the room and what is typed of the piece, so it can be kept. Raises NotInBook."""
    shop = shop_of(request)
    story = piece_story(shop.book, piece)
    form = season_form(shop, story, request.query_params)
    job, answer = (None, None) if form.asked is None else _followed(shop, form.asked)
    shown = {
        "piece": story.piece,
        "form": form,
        "job": job,
        "answer": answer,
        "places": places(),
        "finishes": finishes(),
        "grains": GRAINS,
        "unit": unit_of(shop.settled()),
    }
    return page(request, "piece_seasons.html", shown, status=422 if form.wrong else 200)


def _followed(shop: Shop, asked: SeasonsAsked) -> tuple[Job, SeasonsAnswer | None]:
    job = ask(shop, SEASONS, as_bytes(asked))
    content = answer_of(shop, job)
    return job, read_back(content, SeasonsAnswer) if content else None
