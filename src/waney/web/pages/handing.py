"""Handing wood over to someone else's kiln, piece by piece with what is wanted of it, and taking it back."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.drying.core_record import read_core_record
from waney.figures.problem import Problem
from waney.papers.cautions import cautions
from waney.papers.hand_over import STEPS
from waney.units.mass import parse_mass
from waney.units.moisture import parse_mc
from waney.units.money import parse_money
from waney.units.temperature import parse_temperature
from waney.web.forms import BadField, Fields, Sent, upload
from waney.web.loads_asked import asking
from waney.web.pages.load import load_at, load_page
from waney.web.pages.load_plan import kiln_names
from waney.web.routes import Router
from waney.web.shop import currency_of, degree_of, unit_of
from waney.web.showing import page, shop_of
from waney.yard.acts.kilns import BroughtBack, CoreAt, HandedPiece, LoadHandedOver, LoadTakenBack, OwnersTold, PieceOwner, Treated
from waney.yard.acts.settings import Setting
from waney.yard.acts.stacks import ReadBy
from waney.yard.book.book import Book
from waney.yard.book.drying_seen import stacks
from waney.yard.book.kiln_seen import at_kilns, pieces_in
from waney.yard.book.looking import PieceStands, pieces_by_id
from waney.yard.book.stories import notes_of
from waney.yard.services.kilns import ReadAtHome, hand_over, take_back, tell_owners

router = Router()
Record = tuple[CoreAt, ...]


@router.get("/loads/hand-over")
def choose(request: Request) -> Response:
    """Which stacks and pieces go, then what is to be said of each."""
    shop, asked = shop_of(request), request.query_params
    try:
        pieces = asking(shop.book, asked.getlist("stack"), asked.getlist("piece"), asked.get("names", ""))
    except Problem as slip:
        return _shown(request, (), dict(asked), {"names": str(slip)})
    return _shown(request, pieces, dict(asked), {})


def _shown(request: Request, pieces: tuple[PieceStands, ...], typed: dict[str, str], wrong: dict[str, str]) -> Response:
    shop = shop_of(request)
    kilns = kiln_names(shop.settled().get(Setting.KILNS, ""))
    shown = {
        "pieces": pieces,
        "stacks": [one for one in stacks(shop.book) if one.pieces and not one.load],
        "chosen": set(request.query_params.getlist("stack")),
        "kilns": [each for each in kilns if each[1]],
        "typed": typed,
        "wrong": wrong,
        "noted": _noted(shop.book, pieces),
        "woods": _woods(pieces),
        "cautions": [one.sentence for one in cautions(*STEPS)],
    }
    return page(request, "hand_over.html", shown, status=422 if wrong and request.method == "POST" else 200)


def _woods(pieces: Iterable[PieceStands]) -> list[str]:
    """The woods among pieces, in order: by their number there the form asks for what is wanted of one."""
    return sorted({one.species for one in pieces})


def _noted(book: Book, pieces: tuple[PieceStands, ...]) -> dict[str, list[str]]:
    """What was noted of each piece, by its id: cracks, stain and metal may stand there already."""
    found: dict[str, list[str]] = {}
    for note in notes_of(book, [f"piece:{one.id}" for one in pieces]):
        found.setdefault(note.about.removeprefix("piece:"), []).append(note.words)
    return found


@router.post("/loads/hand-over")
def hand_it_over(sent: Sent) -> Response:
    """They were handed over. Raises BadAct."""
    shop, fields = shop_of(sent.request), Fields(sent)
    pieces = {one.id: one for one in pieces_by_id(shop.book, sent.all("piece"))}
    kiln, whose = _which(sent, fields)
    load = sent.hand.new_id()
    there = pieces_by_id(shop.book, {*sent.all("there"), *pieces})
    numbers = {wood: number for number, wood in enumerate(_woods(there), 1)}
    act = _handed_over(sent, fields, load, kiln, whose, {ident: numbers[one.species] for ident, one in pieces.items()})
    if fields.wrong or act is None:
        return _shown(sent.request, there, sent.typed, fields.wrong)
    hand_over(sent.hand, act)
    return RedirectResponse(f"/loads/{load}", 303)


def _handed_over(
    sent: Sent, fields: Fields, load: str, kiln: str, whose: str, pieces: Mapping[str, int]
) -> LoadHandedOver | None:
    """pieces: the number of its wood on the form, by their ids."""
    away = at_kilns(shop_of(sent.request).book)
    there = [away[ident] for ident in pieces if ident in away]
    if not pieces:
        fields.wrong["piece"] = "Choose the pieces that go."
    if there:
        fields.wrong["piece"] = f"Not all of them are here: one stands at the kiln ({there[0].whose}). Take it back first."
    if fields.wrong:
        return None
    try:
        handed = tuple(_piece(sent, fields, ident, wood) for ident, wood in pieces.items())
        return LoadHandedOver(load, kiln, whose, handed, sent.text("fee"), sent.text("words"))
    except Problem as slip:
        fields.wrong["piece"] = str(slip)
        return None


def _which(sent: Sent, fields: Fields) -> tuple[str, str]:
    """The kiln and whose it is: one of the kilns sheet, or as typed."""
    settled = shop_of(sent.request).settled().get(Setting.KILNS, "")
    known = {name: whose for name, whose, _ in kiln_names(settled) if whose}
    if sent.text("kiln") in known:
        return sent.text("kiln"), known[sent.text("kiln")]
    return sent.text("other") or "kiln", fields.needed("whose", "Write who takes it.")


def _piece(sent: Sent, fields: Fields, ident: str, wood: int) -> HandedPiece:
    """What is said of one piece; else what is said of its wood, by its number on the form; else of all."""

    def told(name: str) -> str:
        return next((each for each in (f"{name}-{ident}", f"{name}-of-{wood}") if sent.text(each)), name)

    moistures = {name: fields.read(told(name), parse_mc) for name in ("shell", "core")}
    degree = degree_of(unit_of(shop_of(sent.request).settled()))
    hottest = fields.read(told("hottest"), lambda text: parse_temperature(text, degree))
    cracks, stain, metal = (sent.text(f"{name}-{ident}") for name in ("cracks", "stain", "metal"))
    owner, treat = sent.text(told("owner")), sent.text(told("heat_treat")) == "yes"
    return HandedPiece(ident, owner, cracks, stain, metal, moistures["shell"], moistures["core"], hottest, treat)


@router.post("/loads/{load}/owners")
def owners(load: str, sent: Sent) -> Response:
    """Whose its pieces are, as far as that changed. Raises NotInBook, BadAct."""
    held = pieces_in(shop_of(sent.request).book, load)
    told = ((one, sent.text(f"owner-{one.piece.id}")) for one in held if f"owner-{one.piece.id}" in sent.form)
    changed = tuple(PieceOwner(one.piece.id, owner) for one, owner in told if owner != one.owner)
    if changed:
        tell_owners(sent.hand, OwnersTold(load, changed))
    return RedirectResponse(f"/loads/{load}", 303)


@router.post("/loads/{load}/back")
async def bring_back(load: str, sent: Sent) -> Response:
    """Some of it, or all, is home. Raises BadAct, NotInBook."""
    fields = Fields(sent)
    book = shop_of(sent.request).book
    load_at(book, load)
    held = {one.piece.id for one in pieces_in(book, load)}
    pieces = tuple(ident for ident in dict.fromkeys(sent.all("piece")) if ident in held)
    if not pieces:
        fields.wrong["piece"] = "Choose the pieces that came back."
    by = sent.choice("by", ReadBy, ReadBy.TOLD)
    read = [each for ident in pieces for each in _read(sent, fields, ident, by)]
    act = _back(sent, fields, load, pieces, await _record(sent, fields))
    if fields.wrong or act is None:
        return load_page(sent.request, load, sent.typed, fields.wrong, set(pieces))
    take_back(sent.hand, act, read)
    return RedirectResponse(f"/loads/{load}", 303)


def _read(sent: Sent, fields: Fields, ident: str, by: ReadBy) -> Iterator[ReadAtHome]:
    unit = "kg" if unit_of(shop_of(sent.request).settled()) == "mm" else "lb"
    mass = fields.read(f"mass-{ident}", lambda text: parse_mass(text, unit))
    shell, core = (fields.read(f"{name}-{ident}", parse_mc) for name in ("shell", "core"))
    if (mass, shell, core) != (None, None, None):
        yield ReadAtHome(ident, mass, shell, core, by)


def _back(sent: Sent, fields: Fields, load: str, pieces: tuple[str, ...], record: Record) -> LoadTakenBack | None:
    settled = shop_of(sent.request).settled()
    degree = degree_of(unit_of(settled))
    days, minutes = (fields.read(name, _number) for name in ("days", "core_min"))
    core_c = fields.read("core_c", lambda text: parse_temperature(text, degree))
    fee = fields.read("money", lambda text: parse_money(text, currency_of(settled)))
    if fields.wrong:
        return None
    brought = tuple(BroughtBack(each, sent.text(f"damage-{each}")) for each in pieces)
    cents, currency = (None, "") if fee is None else (fee.cents, fee.currency)
    try:
        treated = sent.choice("treated", Treated, Treated.NOT_KNOWN)
        if record and treated is Treated.NOT_KNOWN:
            treated = Treated.RECORD
        told = (days, treated, core_c, minutes, cents, currency)
        return LoadTakenBack(load, brought, *told, sent.text("spot"), sent.text("words"), record)
    except Problem as slip:
        fields.wrong["treated"] = str(slip)
        return None


async def _record(sent: Sent, fields: Fields) -> Record:
    """The core record, as a file or as it was typed."""
    degree = degree_of(unit_of(shop_of(sent.request).settled()))
    file = await upload(sent.form.get("record_file"))
    text = sent.text("record") if file is None else file.decode("utf-8", "replace")
    if not text:
        return ()
    try:
        return tuple(CoreAt(one.minutes, one.core_c) for one in read_core_record(text.splitlines(), degree))
    except Problem as slip:
        fields.wrong["record"] = str(slip)
        return ()


def _number(text: str) -> float:
    try:
        return float(text.replace(",", "."))
    except ValueError:
        raise BadField(f'"{text[:30]}" is no number.') from None
