"""Showing: templates, and how figures are written on pages."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from pathlib import Path
from uuid import uuid4

from jinja2 import Environment, FileSystemLoader, StrictUndefined, select_autoescape
from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from waney.figures.problem import Problem
from waney.papers.words import Measure, day
from waney.papers.words import Shop as Writes
from waney.units.direction import Direction
from waney.units.moisture import print_mc
from waney.units.money import print_money
from waney.units.quantity import print_number
from waney.units.speed import FOOT_A_MINUTE, METRE_A_SECOND
from waney.units.temperature import Degree, print_temperature
from waney.units.way import KILOMETRE, MILE
from waney.web.access.sessions import Session, keep_session
from waney.web.asked.figure import Figure
from waney.web.shop import Shop, writes, yard_called
from waney.wood.species import species as find_species
from waney.yard.here import clock_here, day_here

TEMPLATES = Path(__file__).parent / "templates"
NOT_KNOWN = "not known"
THIN = "\N{NARROW NO-BREAK SPACE}"

_pages = Environment(
    loader=FileSystemLoader(TEMPLATES),
    autoescape=select_autoescape(default=True, default_for_string=True),
    undefined=StrictUndefined,
    trim_blocks=True,
    lstrip_blocks=True,
)


@lru_cache(maxsize=4096)
def fraction(measure: Measure) -> Markup:
    """A length with a built fraction; read aloud and copied it is plain text."""
    unit = Markup('<span class="unit">{}</span>').format(measure.unit)
    if not measure.under:
        return Markup('<span class="figure">{}{}{}</span>').format(measure.whole, THIN, unit)
    built = Markup('<span class="fraction"><sup>{}</sup>/<sub>{}</sub></span>').format(measure.over, measure.under)
    return Markup('<span class="figure">{}{}{}{}{}</span>').format(measure.whole, " " if measure.whole else "", built, THIN, unit)


@dataclass(frozen=True)
class Figures:
    """How this shop writes what it knows; what it does not know is said to be."""

    writes: Writes

    def size(self, metres: float | None) -> Markup | str:
        """Thickness, width."""
        return NOT_KNOWN if metres is None else fraction(self.writes.have(metres))

    def exactly(self, metres: float | None) -> Markup | str:
        """A thickness as it was set, to the nearest."""
        return NOT_KNOWN if metres is None else fraction(self.writes.read(metres))

    def long(self, metres: float | None) -> Markup | str:
        """A length of wood."""
        return NOT_KNOWN if metres is None else fraction(self.writes.long(metres))

    def area(self, square_metres: float) -> str:
        """An area of a face."""
        return self.writes.area(square_metres)

    def heavy(self, kilograms: float | None) -> str:
        """A weight to lift."""
        return NOT_KNOWN if kilograms is None else self.writes.heavy(kilograms)

    def weighed(self, kilograms: float) -> str:
        """A weight as the scales said it."""
        return self.writes.weighed(kilograms)

    def warmth(self, celsius: float) -> str:
        """A temperature."""
        return print_temperature(celsius, Degree.CELSIUS if self.writes.sizes.metric else Degree.FAHRENHEIT)

    def speed(self, metres_a_second: float) -> str:
        """How fast air goes."""
        unit = METRE_A_SECOND if self.writes.sizes.metric else FOOT_A_MINUTE
        return f"{print_number(unit.of(metres_a_second), Direction.READ)} {unit.name}"

    def way(self, metres: float | None) -> str:
        """A way to drive."""
        if metres is None:
            return NOT_KNOWN
        unit = KILOMETRE if self.writes.sizes.metric else MILE
        return f"{print_number(unit.of(metres), Direction.READ)} {unit.name}"

    @staticmethod
    def money(cents: int | None, currency: str | None) -> str:
        """An amount; where no sheet names the money, its bare number."""
        if cents is None:
            return NOT_KNOWN
        return print_money(cents, currency) if currency else f"{cents / 100:.2f}"

    @staticmethod
    def moist(mc: float) -> str:
        """A moisture content, from the fraction."""
        return print_mc(mc)

    @staticmethod
    def opening(text: str) -> str:
        """Words that open a line, the first letter a capital; names in them stay as they are written."""
        return text[:1].upper() + text[1:]

    def number(self, value: float | None) -> str:
        """Three figures."""
        return NOT_KNOWN if value is None else print_number(value, Direction.READ)

    @staticmethod
    def day(text: str) -> str:
        """A date or a moment, as the day here."""
        return day(day_here(text) if "T" in text else date.fromisoformat(text)) if text else NOT_KNOWN

    @staticmethod
    def clock(moment: str) -> str:
        """Day and time of a moment."""
        return clock_here(moment)

    @staticmethod
    def wood(species: str) -> str:
        """A kind of wood by its common name; what no table has stays as it was typed."""
        try:
            return find_species(species).common if species else "wood not known"
        except Problem:
            return species


def shop_of(request: Request) -> Shop:
    """The yard that is served."""
    shop: Shop = request.app.state.shop
    return shop


def session_at(request: Request) -> Session:
    """Who looks."""
    session: Session = request.state.session
    return session


def _seen_by(rows: Iterable[Figure], session: Session) -> list[Figure]:
    """Figures without the money that is the shop's own, where that is not for this session."""
    return [row for row in rows if session.sees_own or not row.own]


_pages.filters["seen_by"] = _seen_by
_pages.globals["new_blank"] = uuid4


def page(
    request: Request, template: str, values: Mapping[str, object], *, status: int = 200, fresh: Session | None = None
) -> Response:
    """A page; fresh: the session that begins with it."""
    shop, session = shop_of(request), fresh or session_at(request)
    settled = shop.settled()
    common = {
        "session": session,
        "member": session.member,
        "built": shop.built,
        "settled": settled,
        "yard": yard_called(settled),
        "show": Figures(writes(settled)),
        "here": request.url.path,
        "request": request,
    }
    text = _pages.get_template(template).render({**common, **values})
    answer = HTMLResponse(text, status)
    if fresh is not None or request.cookies.get("waney") is None:
        keep_session(answer, session, shop.members, secure=shop.secure)
    return answer


def part(template: str, values: Mapping[str, object]) -> str:
    """A piece of a page, or a page that needs no server."""
    return _pages.get_template(template).render(values)
