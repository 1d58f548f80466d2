"""What wood has cost and earned, from what the book holds; the sums are `waney.trade`'s and `waney.prices`'."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property, lru_cache
from typing import TypeVar

from waney.logs.sheet import log_sheet
from waney.prices.measure import whole_cents
from waney.prices.price_sheet import read_price_sheet
from waney.prices.product import WidthRule
from waney.prices.shelf import Asked, OnShelf, ShelfPrices, of_set, three_ways
from waney.trade.costing import BadCosting, Cost, Costed, Sharing, What, Wood, below_cost, costed
from waney.trade.costs_sheet import ShopCosts
from waney.trade.earned import Earned, shed_m2_years
from waney.trade.terms import Terms, read_terms
from waney.units.sheet import SheetProblems
from waney.yard.acts.settings import Setting
from waney.yard.book.book import Book
from waney.yard.book.custom_seen import CustomStands, customers_logs, customers_pieces, customs
from waney.yard.book.logs_seen import LogStands, logs, logs_by_id
from waney.yard.book.looking import PieceStands, pieces_of_logs, settings
from waney.yard.book.looking import pieces as all_pieces
from waney.yard.book.selling_seen import SaleStands, prices_asked, sales
from waney.yard.book.spent_seen import SpentStands, spent_on
from waney.yard.book.standing_since import came_on, layers_of
from waney.yard.problems import NotInBook
from waney.yard.services.lost import GONE
from waney.yard.services.money_kept import KeptFor, kept_at_returns, kept_of_deposits
from waney.yard.services.sizes import width_m
from waney.yard.services.woods import called_wood, known_wood
from waney.yard.services.worth import shop_costs

Stands = TypeVar("Stands", LogStands, PieceStands)


@dataclass(frozen=True)
class Yard:
    """Everything that costs and sales of the shop's own wood turn on, read once; customers' logs are not of it."""

    shop: ShopCosts
    today: date
    logs: tuple[LogStands, ...]
    pieces: tuple[PieceStands, ...]
    asked: Mapping[str, tuple[int, str]]
    spent: tuple[SpentStands, ...]
    sales: tuple[SaleStands, ...]
    came: Mapping[str, date]
    layers: Mapping[str, int]
    customs: tuple[CustomStands, ...] = ()
    stayed: tuple[KeptFor, ...] = ()

    @classmethod
    def of(cls, book: Book, today: date, log: str = "") -> Yard:
        """As it stands, of every log or one. Raises SheetProblems for a costs or mill sheet that cannot be read."""
        stands, some = _own(book, logs(book, log=log)), _own(book, all_pieces(book, log))
        sold = sales(book)
        seen = (stands, some, prices_asked(book), spent_on(book), sold)
        ids, stayed = [each.id for each in some] if log else None, (*kept_at_returns(sold), *kept_of_deposits(book, sold))
        return cls(shop_costs(settings(book)), today, *seen, came_on(book, ids), layers_of(book, ids), customs(book), stayed)

    @classmethod
    def around(cls, book: Book, today: date, *pieces: PieceStands) -> Yard:
        """What the costs of some pieces turn on: their logs with all that was sawn out of them; of one without a log, itself.

        Raises SheetProblems as `of`.
        """
        from_logs = sorted({each.log for each in pieces if each.log})
        some = _own(book, [*pieces_of_logs(book, from_logs), *(each for each in pieces if not each.log)])
        ids = [each.id for each in some]
        streams = [*(f"piece:{each}" for each in ids), *(f"log:{each}" for each in from_logs)]
        stands = _own(book, logs_by_id(book, from_logs))
        seen = (stands, some, prices_asked(book, ids), spent_on(book, streams), sales(book, pieces=ids))
        return cls(shop_costs(settings(book)), today, *seen, came_on(book, ids), layers_of(book, ids))

    @cached_property
    def of_log(self) -> Mapping[str, list[PieceStands]]:
        """The pieces of each log; under "" those without one of the shop's own, the sawyer's share of others' logs among them."""
        found: dict[str, list[PieceStands]] = defaultdict(list)
        for piece in self.pieces:
            found[piece.log if piece.log in self.own_logs else ""].append(piece)
        return found

    @cached_property
    def own_logs(self) -> frozenset[str]:
        """Logs of the shop, by id."""
        return frozenset(log.id for log in self.logs)

    @cached_property
    def named(self) -> Mapping[str, str]:
        """Names of pieces by their ids."""
        return {piece.id: piece.name for piece in self.pieces}

    @cached_property
    def told(self) -> Mapping[str, list[SpentStands]]:
        """What was spent, by the stream it went into."""
        found: dict[str, list[SpentStands]] = defaultdict(list)
        for each in self.spent:
            found[each.about].append(each)
        return found

    @cached_property
    def sold(self) -> Mapping[str, tuple[int, date]]:
        """Pieces that are sold: for how much, and when."""
        parts = ((sale, part) for sale in self.sales for part in sale.pieces if not part.gone and not part.returned)
        return {part.piece: (part.cents, date.fromisoformat(sale.on)) for sale, part in parts}

    @cached_property
    def kept(self) -> Mapping[str, list[KeptFor]]:
        """Money that stayed though nothing was sold for it, by piece."""
        found: dict[str, list[KeptFor]] = defaultdict(list)
        for each in self.stayed:
            found[each.piece].append(each)
        return found


def shelf_prices(settled: Mapping[str, str]) -> ShelfPrices:
    """The prices sheet. Raises SheetProblems."""
    return read_price_sheet(settled.get(Setting.PRICES, ""))


def shop_terms(settled: Mapping[str, str]) -> Terms:
    """The terms sheet. Raises SheetProblems."""
    return read_terms(settled.get(Setting.TERMS, ""))


def _own(book: Book, some: Sequence[Stands]) -> tuple[Stands, ...]:
    """Logs or pieces without those that are a customer's."""
    theirs = customers_logs(book) | customers_pieces(book)
    return tuple(each for each in some if each.id not in theirs)


def on_shelf(piece: PieceStands, rule: WidthRule, today: date, came: date | None) -> OnShelf:
    """A piece as it is priced, with its figure; it goes with its set where it has one."""
    days = None if came is None else (today - came).days
    sizes = (piece.thickness_m, piece.length_m, width_m(piece, rule))
    return OnShelf(piece.name, known_wood(piece.species), *sizes, piece.figure, days, bool(piece.together))


def price_ways(book: Book, piece: PieceStands, today: date) -> tuple[Asked, ...]:
    """The three prices of a piece by the prices sheet. Raises SheetProblems, NotPriced."""
    prices = shelf_prices(settings(book))
    return three_ways(on_shelf(piece, prices.width_rule, today, came_on(book, [piece.id]).get(piece.id)), prices)


def set_ways(book: Book, sets: Sequence[Sequence[PieceStands]], today: date) -> tuple[tuple[Asked, ...], ...]:
    """The same for each of several sets, whose pieces are sold together and stay whole. Raises SheetProblems, NotPriced."""
    prices, came = shelf_prices(settings(book)), came_on(book, [piece.id for some in sets for piece in some])
    each = ([on_shelf(piece, prices.width_rule, today, came.get(piece.id)) for piece in some] for some in sets)
    return tuple(of_set([replace(piece, set_whole=True) for piece in some], prices) for some in each)


def log_costs(yard: Yard, log: str, sharing: Sharing | None = None) -> Costed:
    """What was spent on a log, borne by its pieces. Raises BadCosting, NotInBook."""
    stands = next((each for each in yard.logs if each.id == log), None)
    if stands is None:
        raise NotInBook("There is no such log in the book.")
    return costed(_on_log(yard, stands), [_wood(yard, piece) for piece in yard.of_log.get(log, [])], sharing or yard.shop.sharing)


def floor_of(yard: Yard, piece: PieceStands) -> int:
    """What a piece has cost [cents]. Raises BadCosting, with the reason, where its log's costs cannot be shared yet, and for a
    piece that bears none."""
    return _floor(yard, piece, {})


def floors_of(yard: Yard, some: Iterable[PieceStands]) -> dict[str, int | None]:
    """The same for several, by their ids; None where it cannot be told. The costs of a log are shared once."""
    shared: dict[str, Costed] = {}
    floors: dict[str, int | None] = {}
    for piece in some:
        try:
            floors[piece.id] = _floor(yard, piece, shared)
        except BadCosting:
            floors[piece.id] = None
    return floors


def sold_below_cost(book: Book, some: Iterable[tuple[PieceStands, int | None]], today: date) -> dict[str, int]:
    """How far prices of pieces lie below what those have cost [cents], by the pieces' ids; of those that do, as far as it can be
    told."""
    priced = tuple(some)
    pieces = [piece for piece, _ in priced]
    try:
        floors = floors_of(Yard.around(book, today, *pieces), pieces)
    except SheetProblems:
        return {}
    found = {piece.id: below_cost(cents, floors[piece.id]) for piece, cents in priced}
    return {piece: cents for piece, cents in found.items() if cents}


def _floor(yard: Yard, piece: PieceStands, shared: dict[str, Costed]) -> int:
    if piece.log not in yard.own_logs:
        return sum(cost.cents for cost in _on_piece(yard, piece))
    costs = shared.get(piece.log) or log_costs(yard, piece.log)
    shared[piece.log] = costs
    if piece.name not in {each.name for each in costs.pieces}:
        raise BadCosting(f"{piece.name} is lost or was sawn up: it bears nothing.")
    return costs.floor_cents([piece.name])


def _on_log(yard: Yard, log: LogStands) -> list[Cost]:
    """Paid for it, as its sheet says; its end coat; what was told since."""
    paid = _paid(log.sheet)
    sealed = yard.shop.sealing_cents if log.sealed_on else None
    known = ((What.LOG, paid), (What.COATING, sealed))
    return [*(Cost(what, round(cents)) for what, cents in known if cents), *_told(yard, f"log:{log.id}")]


@lru_cache(maxsize=1024)
def _paid(sheet: str) -> float | None:
    """What a log's sheet says was paid [cents]; read once, for all sums of a year and for each of its pages."""
    try:
        return log_sheet(sheet).log.paid_cents
    except SheetProblems:
        return None


def _on_piece(yard: Yard, piece: PieceStands) -> list[Cost]:
    """What was told, and its place in the shed."""
    shed = yard.shop.shed_cents
    told = _told(yard, f"piece:{piece.id}")
    return told if not shed else [*told, Cost(What.SHED, whole_cents(shed * shed_of(yard, piece)))]


def shed_of(yard: Yard, piece: PieceStands) -> float:
    """Shed that a piece took until it was sold or until today [m2 a]; nothing where its size is not known."""
    came, width = yard.came.get(piece.id), width_m(piece, WidthRule.WIDEST)
    if came is None or width is None or piece.length_m is None:
        return 0.0
    until = yard.sold.get(piece.id, (0, yard.today))[1]
    return shed_m2_years(width * piece.length_m, yard.layers.get(piece.id, 1), max((until - came).days, 0))


def _told(yard: Yard, about: str) -> list[Cost]:
    """Money as it was told; hours at what an hour costs, none where nobody typed that."""
    hour = yard.shop.costs.hour_cents or 0.0
    return [
        Cost(What(each.what), whole_cents((each.hours or 0.0) * hour) if each.cents is None else each.cents)
        for each in yard.told.get(about, ())
    ]


def _wood(yard: Yard, piece: PieceStands) -> Wood:
    price = yard.sold.get(piece.id, yard.asked.get(piece.id, (None, "")))[0]
    return Wood(
        piece.name, tuple(_on_piece(yard, piece)), yard.named.get(piece.parent, ""), piece.volume_m3, price, piece.ended in GONE
    )


def year_of_logs(yard: Yard, year: int | None = None) -> tuple[Earned, ...]:
    """What each log earned: in all, or, for a year, the pieces sold in it beside what those have cost.

    Logs that did not count are left out; wood without a log is one row at the end.
    """
    rows = [_earned(yard, log, year) for log in yard.logs]
    rest = _of_pieces(yard, "wood without a log", None, yard.of_log.get("", []), None, year)
    return tuple(row for row in (*rows, rest) if _counts(row, year))


def _counts(row: Earned, year: int | None) -> bool:
    return bool(row.pieces_sold or row.kept_cents or (year is None and (row.spent_cents or row.pieces_left)))


def sawn_for_others(yard: Yard, year: int | None = None) -> Earned | None:
    """What custom jobs were billed before tax, with their hours at the saw, setting up and on the way; None for no invoice."""
    billed = [each for each in yard.customs if each.bill is not None and _in(year)(date.fromisoformat(each.bill.on))]
    if not billed:
        return None
    net = sum(each.bill.net_cents for each in billed if each.bill is not None)
    set_up = sum(read_terms(each.terms).set_up_hours + each.way_hours for each in billed)
    hours = set_up + sum(held.hours or 0.0 for each in billed for held in each.logs)
    return Earned("sawn for others", "", 0, net, hours=hours)


def _earned(yard: Yard, log: LogStands, year: int | None) -> Earned:
    why = ""
    try:
        costs = log_costs(yard, log.id)
    except BadCosting as missing:  # a size or a price: by the piece it can always be told, and is said
        costs, why = log_costs(yard, log.id, Sharing.PIECE), str(missing)
    row = _of_pieces(yard, log.name, log, yard.of_log.get(log.id, []), costs, year)
    return replace(row, shared=str(costs.sharing), why_shared=why) if costs.total_cents else row


def _of_pieces(
    yard: Yard, name: str, log: LogStands | None, some: Sequence[PieceStands], costs: Costed | None, year: int | None
) -> Earned:
    gone = [piece for piece in some if piece.id in yard.sold and _in(year)(yard.sold[piece.id][1])]
    left = [piece for piece in some if not piece.ended]
    total = sum(cost.cents for piece in some for cost in _on_piece(yard, piece)) if costs is None else costs.total_cents
    about = [f"piece:{piece.id}" for piece in some] + ([] if log is None else [f"log:{log.id}"])
    hours = sum(each.hours or 0.0 for one in about for each in yard.told.get(one, ()))
    spent = total if year is None else _of_those_sold(yard, gone, costs)
    return Earned(
        name,
        "" if log is None else called_wood(log.species),
        spent,
        sum(yard.sold[piece.id][0] for piece in gone),
        0 if year else sum(yard.asked.get(piece.id, (0, ""))[0] for piece in left),
        () if year or log is None else log.money_cents,
        hours if year is None or not total else hours * spent / total,
        sum(shed_of(yard, piece) for piece in (some if year is None else gone)),
        len(gone),
        len(left),
        sum(piece.id not in yard.asked for piece in left),
        sum(each.cents for piece in some for each in yard.kept.get(piece.id, ()) if _in(year)(each.on)),
    )


def _of_those_sold(yard: Yard, gone: Sequence[PieceStands], costs: Costed | None) -> int:
    if costs is not None:
        return costs.floor_cents([piece.name for piece in gone])
    return sum(cost.cents for piece in gone for cost in _on_piece(yard, piece))


def _in(year: int | None) -> Callable[[date], bool]:
    return lambda day: year is None or day.year == year
