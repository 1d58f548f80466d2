"""Sale sheet of a piece, on paper: what the book knows of it that a buyer may read, and nothing of the shop's own."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response

from waney.papers.paper import paper_pdf
from waney.papers.sale import sale_sheet
from waney.web.as_sold import Opened, as_sold
from waney.web.measured import measuring, newest_shaped
from waney.web.pages.papers import PDF, file
from waney.web.routes import Router
from waney.web.shop import writes
from waney.web.showing import page, shop_of
from waney.yard.book.stories import piece_story

router = Router()


@router.get("/pieces/{piece}/sale.pdf")
def sale_paper(request: Request, piece: str) -> Response:
    """The sheet; where its measured widths are still being worked out, a page that waits for them. Raises NotInBook."""
    shop, story = shop_of(request), piece_story(shop_of(request).book, piece)
    called, last, answer = f"sale-{story.piece.name}.pdf", newest_shaped(story), None
    if last is not None:
        job, answer = measuring(shop, last)
        if answer is None and job.goes_on:
            return page(request, "paper_waits.html", {"job": job, "called": called})
    yard = Opened(shop.book, shop.settled(), shop.today())
    return file(paper_pdf(sale_sheet(as_sold(yard, story, answer), writes(yard.settled), yard.today), yard.today), called, PDF)
