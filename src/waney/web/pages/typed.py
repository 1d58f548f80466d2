"""Typed: a paper tally of a sawing day, typed in line by line."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from starlette.requests import Request
from starlette.responses import Response

from waney.figures.problem import Problem
from waney.units.length import parse_length
from waney.web.forms import Sent
from waney.web.pages.day import day_at
from waney.web.routes import Router
from waney.web.shop import unit_of
from waney.web.showing import page, shop_of
from waney.yard.acts.mill import Off
from waney.yard.book.days import came_off
from waney.yard.book.logs_seen import logs
from waney.yard.book.tags import known_tags
from waney.yard.known_tags import KnownTags, meant
from waney.yard.services.typed import TypedLine, take_in_typed

router = Router()
ROWS, MORE = 12, 6
COLUMNS = ("name", "thick", "butt", "top", "long", "remark")


@dataclass
class Row:
    """One line as it was typed, and what cannot be read of it."""

    typed: Mapping[str, str]
    wrong: dict[str, str] = field(default_factory=dict)
    line: TypedLine = field(default_factory=TypedLine)

    @property
    def empty(self) -> bool:
        """Whether nothing was typed."""
        return not any(self.typed[column] for column in COLUMNS)


@router.get("/day/{day}/typed")
def typed(request: Request, day: str) -> Response:
    """An empty sheet, as it is printed."""
    blank = [Row(dict.fromkeys((*COLUMNS, "how"), "")) for _ in range(ROWS)]
    return _shown(request, day, blank)


def _shown(request: Request, day: str, rows: list[Row], **more: Any) -> Response:
    shop = shop_of(request)
    off = came_off(shop.book, day)
    usual = off[-1].log if off else ""
    shown = {
        "day": day_at(request, day),
        "rows": rows,
        "hows": tuple(Off),
        "logs": [log for log in logs(shop.book) if not log.ended],
        "log": more.get("log", request.query_params.get("log", usual)),
        "paper": more.get("paper") or shop.new_id(),
        "unit": unit_of(shop.settled()),
        "taken": more.get("taken"),
    }
    return page(request, "typed.html", shown, status=422 if any(row.wrong for row in rows) else 200)


@router.post("/day/{day}/typed")
def take(day: str, sent: Sent) -> Response:
    """Nothing is written before every line can be read. Raises BookFull, BookBusy."""
    found, log, paper = day_at(sent.request, day), sent.text("log"), sent.text("paper")
    rows = list(_rows(sent, unit_of(shop_of(sent.request).settled())))
    if sent.text("do") == "more" or any(row.wrong for row in rows):
        blank = [Row(dict.fromkeys((*COLUMNS, "how"), "")) for _ in range(MORE)] if sent.text("do") == "more" else []
        return _shown(sent.request, day, rows + blank, log=log, paper=paper)
    lines = tuple(row.line for row in rows if not row.empty)
    taken = take_in_typed(sent.hand, paper, day, log, found.spot, lines)
    blank = [Row(dict.fromkeys((*COLUMNS, "how"), "")) for _ in range(ROWS)]
    return _shown(sent.request, day, blank, log=log, taken=taken)


def _rows(sent: Sent, unit: str) -> Iterator[Row]:
    known = known_tags(shop_of(sent.request).book) if any(sent.all("name")) else KnownTags()
    columns = {column: sent.all(column) for column in (*COLUMNS, "how")}
    for values in zip(*columns.values(), strict=False):
        row = Row(dict(zip(columns, (value.strip() for value in values), strict=True)))
        _read(row, unit, known)
        yield row


def _read(row: Row, unit: str, known: KnownTags) -> None:
    def read(column: str, reader: Callable[[str], Any]) -> Any:
        try:
            return reader(row.typed[column]) if row.typed[column] else None
        except (Problem, ValueError) as slip:
            row.wrong[column] = str(slip)
            return None

    def length(text: str) -> float:
        return parse_length(text, unit)

    name = read("name", lambda text: meant(known, text))
    thick, butt, top, long = (read(column, length) for column in ("thick", "butt", "top", "long"))
    widths = tuple(width for width in (butt, top) if width is not None)
    how = read("how", Off) or Off.AS_MEANT
    if not row.wrong:
        row.line = TypedLine(str(name or ""), thick, widths, long, how, row.typed["remark"])
