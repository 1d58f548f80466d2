"""A piece cut into pieces: how, and what came of it."""

from __future__ import annotations

from dataclasses import dataclass

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.figures.problem import Problem
from waney.units.length import parse_length
from waney.web.forms import Sent
from waney.web.routes import Router
from waney.web.shop import unit_of
from waney.web.showing import page, shop_of
from waney.yard.acts.mill import Transform
from waney.yard.book.stories import piece_story
from waney.yard.problems import BadAct, NotPossible
from waney.yard.services.parts import MOST_PARTS, Part, cut_into_parts, may_be_cut

router = Router()
COLUMNS = ("number", "thick", "wide", "long")
ROWS = 4
"""so many kinds of part; further ones are told by cutting one of these again"""


@dataclass(frozen=True)
class Row:
    """Parts alike: what was typed, and a sentence for each field that cannot be read."""

    typed: dict[str, str]
    wrong: dict[str, str]


EMPTY = Row(dict.fromkeys(COLUMNS, ""), {})


@router.get("/pieces/{piece}/cut")
def piece_cut(request: Request, piece: str) -> Response:
    """The form, or the reason why it stays whole. Raises NotInBook."""
    return _shown(request, piece, "", [EMPTY] * ROWS, "")


def _shown(request: Request, ident: str, how: str, rows: list[Row], problem: str) -> Response:
    shop = shop_of(request)
    try:
        may_be_cut(shop.book, ident, shop.today().isoformat())
        stays = ""
    except NotPossible as whole:
        stays = str(whole)
    shown = {
        "piece": piece_story(shop.book, ident).piece, "ways": list(Transform), "how": how, "rows": rows, "stays": stays,
        "problem": "" if problem == stays else problem, "unit": unit_of(shop.settled()),
    }  # fmt: skip
    wrong = bool(problem) or any(row.wrong for row in rows)
    return page(request, "piece_cut.html", shown, status=422 if wrong else 200)


@router.post("/pieces/{piece}/cut")
def cut(piece: str, sent: Sent) -> Response:
    """Write the parts down; the whole piece is used up. Raises NotInBook, BadField."""
    unit, parts, rows = unit_of(shop_of(sent.request).settled()), list[Part](), list[Row]()
    for texts in zip(*(sent.all(column) for column in COLUMNS), strict=False):
        row = Row(dict(zip(COLUMNS, map(str.strip, texts), strict=True)), {})
        rows.append(row)
        if any(row.typed.values()):
            parts += _parts(row, unit)
    how = sent.choice("how", Transform)
    if any(row.wrong for row in rows):
        return _shown(sent.request, piece, how, rows, "")
    try:
        cut_into_parts(sent.hand, piece, how, parts)
    except (BadAct, NotPossible) as slip:
        return _shown(sent.request, piece, how, rows or [EMPTY] * ROWS, str(slip))
    return RedirectResponse(f"/pieces/{piece}#parts", 303)


def _parts(row: Row, unit: str) -> list[Part]:
    """As many as are alike; none where a field cannot be read."""
    sizes: dict[str, float | None] = {}
    for name in COLUMNS[1:]:
        try:
            sizes[name] = parse_length(row.typed[name], unit) if row.typed[name] else None
        except Problem as slip:
            row.wrong[name] = str(slip)
    number = row.typed["number"] or "1"
    if not (number.isascii() and number.isdecimal() and 0 < int(number[:4]) <= MOST_PARTS):
        row.wrong["number"] = f"How many alike is a whole number from 1 to {MOST_PARTS}."
    if row.wrong:
        return []
    return [Part(sizes["thick"], sizes["wide"], sizes["long"])] * int(number)
