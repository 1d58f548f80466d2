"""Settings: what the shop has settled, and who may sign in."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.figures.problem import Problem
from waney.sawing.sheets.mill_sheet import read_mill_sheet
from waney.web.access.members import Role
from waney.web.forms import Sent, upload
from waney.web.rooms import USUAL_ROOM, with_degrees
from waney.web.routes import Router
from waney.web.sheet_starts import KILNS, MILL, WANTS
from waney.web.shop import unit_of
from waney.web.showing import page, shop_of
from waney.wood.own_weather import YOURS, as_rows, kept_in_words, kept_weather
from waney.wood.room_told import room_kept
from waney.yard.acts.settings import Setting
from waney.yard.book.around import people
from waney.yard.services.pieces import add_person, forget_person
from waney.yard.services.printer import kept_misses
from waney.yard.services.settings import settle_for_shop

router = Router()


def _wants(text: str) -> object:
    from waney.sawing.sheets.wants_sheet import read_wants_sheet

    return read_wants_sheet(text, 3.0)


def _costs(text: str) -> object:
    from waney.trade.costs_sheet import read_costs_sheet

    return read_costs_sheet(text)


def _kilns(text: str) -> object:
    from waney.drying.kilns_sheet import read_kilns

    return read_kilns(text)


def _meter(text: str) -> object:
    from waney.drying.meter_sheet import read_meter_sheet

    return read_meter_sheet(text)


def _prices(text: str) -> object:
    from waney.prices.price_sheet import read_price_sheet

    return read_price_sheet(text)


def _terms(text: str) -> object:
    from waney.trade.terms import read_terms

    return read_terms(text)


READERS: Mapping[Setting, Callable[[str], object]] = {
    Setting.MILL: read_mill_sheet,
    Setting.WANTS: _wants,
    Setting.COSTS: _costs,
    Setting.KILNS: _kilns,
    Setting.METER: _meter,
    Setting.WEATHER: kept_weather,
    Setting.PRICES: _prices,
    Setting.TERMS: _terms,
}


def _room(text: str) -> object:
    return room_kept(with_degrees(text, "in"), None)


def _highest(text: str) -> object:
    return room_kept(USUAL_ROOM["in"], text)


def _misses(text: str) -> object:
    return kept_misses({Setting.PRINTER: text})


LINES: Mapping[Setting, Callable[[str], object]] = {
    Setting.ROOM: _room,
    Setting.ROOM_HIGHEST: _highest,
    Setting.PRINTER: _misses,
}
"""settings of one line that must be readable; the others of READERS are sheets"""


@router.get("/settings")
def settings(request: Request) -> Response:
    """All of them, with what stands in for what nobody settled."""
    return _shown(request, {}, {})


def _shown(request: Request, typed: dict[str, str], wrong: dict[str, str]) -> Response:
    shop = shop_of(request)
    starts = {Setting.MILL: MILL, Setting.WANTS: WANTS, Setting.KILNS: KILNS, Setting.UNITS: "in"}
    values = {str(what): typed.get(what) or shop.settled().get(what) or starts.get(what, "") for what in Setting}
    left = [one for one in people(shop.book) if shop.members.by_person(one.id) is None]
    shown = {
        "values": values,
        "weather": kept_in_words(shop.settled().get(Setting.WEATHER, "")),
        "usual_room": USUAL_ROOM[unit_of(shop.settled())],
        "weather_typed": typed.get(Setting.WEATHER, ""),
        "wrong": wrong,
        "members": shop.members.all,
        "left": left,
        "roles": list(Role),
    }
    return page(request, "settings.html", shown, status=422 if wrong else 200)


@router.post("/settings")
def settle(sent: Sent) -> Response:
    """Write down those that changed. Raises NotAllowed."""
    sent.decides()
    shop, typed = shop_of(sent.request), {}
    for what in Setting:
        if what in sent.form:
            text = sent.text(what).replace("\r\n", "\n")
            typed[str(what)] = text + "\n" if what in READERS and text else text
    if Setting.ROOM in typed:
        typed[Setting.ROOM] = with_degrees(typed[Setting.ROOM], unit_of({Setting.UNITS: sent.text(Setting.UNITS)}))
    wrong = {name: slip for name, text in typed.items() if (slip := _slip(Setting(name), text))}
    if wrong:
        return _shown(sent.request, typed, wrong)
    now = shop.settled()
    for name, text in typed.items():
        if text != now.get(name, ""):
            settle_for_shop(sent.hand, Setting(name), text)
    return RedirectResponse("/settings", 303)


def _slip(what: Setting, text: str) -> str:
    """What is wrong with a setting; empty for nothing."""
    reader = READERS.get(what) or LINES.get(what)
    if not text or reader is None:
        return ""
    try:
        reader(text)
    except Problem as slip:
        return str(slip)
    return ""


@router.post("/settings/weather")
async def weather(sent: Sent) -> Response:
    """Weather of one's own, as rows that were typed or a file; or left: that of the place again. Raises NotAllowed."""
    sent.decides()
    shop = shop_of(sent.request)
    chosen = sent.form.get("weather_file")
    file = await upload(chosen)
    text = sent.text("weather") if file is None else file.decode("utf-8", "replace")
    called = str(getattr(chosen, "filename", "") or "").rpartition(".")[0] if file else sent.text("weather_of")
    left = sent.text("do") == "leave"
    if not (left or text.strip()):
        return _shown(sent.request, {}, {"weather": "Type twelve rows or choose a file."})
    try:
        rows = "" if left else as_rows(text.splitlines(), called or YOURS)
    except Problem as slip:
        return _shown(sent.request, {"weather": text if file is None else ""}, {"weather": str(slip)})
    if rows != shop.settled().get(Setting.WEATHER, ""):
        settle_for_shop(sent.hand, Setting.WEATHER, rows)
    return RedirectResponse("/settings#weather-head", 303)


@router.post("/members")
def let_in(sent: Sent) -> Response:
    """One more who may sign in. Raises NotAllowed, NoMember, BadPassword, BadField."""
    sent.decides()
    shop = shop_of(sent.request)
    member = shop.members.let_in(shop.new_id(), sent.text("called"), sent.choice("role", Role), _password(sent))
    add_person(sent.hand, member.called, member.person)
    return RedirectResponse("/settings", 303)


def _password(sent: Sent) -> str:
    value = sent.form.get("password", "")
    return value if isinstance(value, str) else ""


@router.post("/members/{person}")
def change(person: str, sent: Sent) -> Response:
    """Another password, or no longer in, or forgotten. Raises NotAllowed, NoMember, BadPassword, NotInBook, BookBusy."""
    shop = shop_of(sent.request)
    if sent.member.person != person:
        sent.decides()
    if sent.text("do") in ("put out", "forget"):
        sent.decides()
        shop.members.put_out(person)
        if sent.text("do") == "forget":
            forget_person(sent.hand, person)
    else:
        shop.members.new_password(person, _password(sent))
    return RedirectResponse("/settings", 303)
