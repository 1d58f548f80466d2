"""Sources: where every figure comes from, and what is still from memory."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response

from waney.figures.cited_in import uses
from waney.figures.tables import table
from waney.web.routes import Router
from waney.web.showing import page

router = Router()


@router.get("/sources")
def sources(request: Request) -> Response:
    """Every citation, with where it is used."""
    rows = sorted(table("sources"), key=lambda row: (row["status"] != "memory", row["title"]))
    return page(request, "sources.html", {"sources": rows, "uses": uses(), "cautions": table("cautions")})
