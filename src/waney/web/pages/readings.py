"""Readings: what the moisture meter said of a piece, a stack, a load."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.responses import RedirectResponse, Response

from waney.units.moisture import parse_mc
from waney.units.temperature import parse_temperature
from waney.web.forms import BadField, Fields, Writing
from waney.yard.acts.stacks import HAVE_MOISTURE, Depth, MoistureRead, ReadBy
from waney.yard.book.book import Book
from waney.yard.book.drying_seen import readings
from waney.yard.services.stacks import read_moisture
from waney.yard.streams import checked_stream, parts

router = APIRouter()


@router.post("/readings")
def read(sent: Writing) -> Response:
    """Write a reading down, and go back to what was read. Raises BadField, BadAct."""
    fields = Fields(sent)
    kind, ident = parts(checked_stream(sent.text("what"), "what", HAVE_MOISTURE))
    mc, wood_c = fields.read("mc", parse_mc), fields.read("wood", parse_temperature)
    if fields.wrong or mc is None:
        raise BadField(" ".join(fields.wrong.values()) or "Write what the meter said, in per cent of oven-dry weight.")
    told = {"wood_c": wood_c, "set_to": sent.text("set_to"), "corrected": bool(sent.text("corrected"))}
    by, depth = sent.choice("by", ReadBy, ReadBy.PINS), sent.choice("depth", Depth, Depth.WHOLE)
    read_moisture(sent.hand, MoistureRead(f"{kind}:{ident}", mc, by, depth, **told))  # type: ignore[arg-type]
    return RedirectResponse(f"/{kind}s/{ident}", 303)


def shown(book: Book, about: str) -> dict[str, object]:
    """What the part of a page needs that shows readings and takes them down."""
    return {"readings": readings(book, about), "about": about, "read_by": list(ReadBy), "depths": list(Depth)}
