"""Sales, payments, returns, and money that was spent."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from waney.trade.costing import What
from waney.yard.acts.base import Decision, Fact, between, filled_lines, ids, ids_if_any, lines
from waney.yard.acts.promises import MOST_CENTS, PricedPiece, day, of_pieces, state_or_country
from waney.yard.acts.stacks import each_once
from waney.yard.problems import BadAct
from waney.yard.streams import Stream, checked_id, checked_stream, stream

MOST_HOURS = 10_000.0
COST_SOMETHING = ("log", "piece")
ARE_PAID = ("sale", "hold", "custom")


class PaidBy(StrEnum):
    """How money came."""

    CASH = "cash"
    CARD = "card"
    TRANSFER = "transfer"
    CHECK = "check"
    OWED = "owed"


MONEY_COMES_BY = tuple(way for way in PaidBy if way is not PaidBy.OWED)
"""ways in which money does come"""


@dataclass(frozen=True)
class TaxTaken:
    """A tax line as it stood on the paper."""

    name: str
    cents: int

    def __post_init__(self) -> None:
        filled_lines(name=self.name)
        between(0, MOST_CENTS, cents=self.cents)


@dataclass(frozen=True)
class _Sale:
    """Pieces sold to somebody (empty: nobody named). paid_cents: now, a deposit that was paid before not counted."""

    sale: str
    pieces: tuple[PricedPiece, ...]
    on: str
    person: str = ""
    paid_cents: int = 0
    paid_by: PaidBy = PaidBy.CASH
    taxes: tuple[TaxTaken, ...] = ()
    words: str = ""

    def _checked(self) -> None:
        ids(sale=self.sale)
        ids_if_any(person=self.person)
        each_once(self.piece_ids())
        day(on=self.on)
        between(0, MOST_CENTS, paid_cents=self.paid_cents)
        lines(words=self.words)

    def piece_ids(self) -> tuple[str, ...]:
        """The pieces."""
        return tuple(each.piece for each in self.pieces)

    def streams(self) -> tuple[Stream, ...]:
        """The sale and its pieces."""
        return (self.makes(), *of_pieces(self.piece_ids()))

    def makes(self) -> Stream:
        """The sale."""
        return stream("sale", self.sale)

    def needs(self) -> tuple[str, ...]:
        """The pieces and the buyer."""
        return (*of_pieces(self.piece_ids()), *([stream("person", self.person)] if self.person else []))


@dataclass(frozen=True)
class Sold(_Sale, Decision):
    """Sold at a device that reaches the book. hold, quote: those that are settled by it; breaks_set: part of a set; goes_to: the
    state or country that the wood goes to, empty: not told.

    deposit_cents: of the hold's deposit, into this sale; the hold goes on for its other pieces. None: all of it, and it ends.
    """

    hold: str = ""
    breaks_set: bool = False
    quote: str = ""
    deposit_cents: int | None = None
    goes_to: str = ""

    def __post_init__(self) -> None:
        self._checked()
        state_or_country(self.goes_to)
        ids_if_any(hold=self.hold, quote=self.quote)
        between(0, MOST_CENTS, deposit_cents=self.deposit_cents)
        if self.deposit_cents is not None and not self.hold:
            raise BadAct("a deposit was paid for a hold; name the hold.")

    def needs(self) -> tuple[str, ...]:
        """The pieces, the buyer, the hold, the quote."""
        settled = (("hold", self.hold), ("quote", self.quote))
        return (*super().needs(), *(stream(kind, ident) for kind, ident in settled if ident))


@dataclass(frozen=True)
class SoldAway(_Sale, Fact):
    """Sold out of reach: money was taken. lease: the pieces were taken along, so that nobody else could sell them."""

    lease: str = ""

    def __post_init__(self) -> None:
        self._checked()
        ids_if_any(lease=self.lease)

    def needs(self) -> tuple[str, ...]:
        """The pieces, the buyer, the lease."""
        return (*super().needs(), *([stream("lease", self.lease)] if self.lease else []))


@dataclass(frozen=True)
class Paid(Fact):
    """Money came later, for a sale, as the deposit of a hold, or for sawing somebody's logs."""

    about: str
    cents: int
    by: PaidBy = PaidBy.CASH

    def __post_init__(self) -> None:
        checked_stream(self.about, "about", ARE_PAID)
        between(1, MOST_CENTS, cents=self.cents)

    def streams(self) -> tuple[Stream, ...]:
        """What it is for."""
        return (Stream(self.about),)


@dataclass(frozen=True)
class Returned(Fact):
    """Pieces of a sale came back. refund_cents: what was given back for them; spot: where they stand."""

    sale: str
    pieces: tuple[str, ...]
    refund_cents: int = 0
    spot: str = ""
    words: str = ""

    def __post_init__(self) -> None:
        ids(sale=self.sale)
        ids_if_any(spot=self.spot)
        each_once(self.pieces)
        between(0, MOST_CENTS, refund_cents=self.refund_cents)
        lines(words=self.words)

    def streams(self) -> tuple[Stream, ...]:
        """The sale, its pieces, and the spot."""
        return (stream("sale", self.sale), *of_pieces(self.pieces), *([stream("spot", self.spot)] if self.spot else []))


@dataclass(frozen=True)
class Spent(Fact):
    """Money or hours went into a log or a piece. cents: below zero, money came (paid for taking a tree away)."""

    about: str
    what: What
    cents: int | None = None
    hours: float | None = None
    words: str = ""

    def __post_init__(self) -> None:
        checked_stream(self.about, "about", COST_SOMETHING)
        between(-MOST_CENTS, MOST_CENTS, cents=self.cents)
        between(0.0, MOST_HOURS, hours=self.hours)
        lines(words=self.words)
        if (self.cents is None) == (self.hours is None):
            raise BadAct("tell what was spent as money or as hours, one of them.")

    def streams(self) -> tuple[Stream, ...]:
        """What it went into."""
        return (Stream(self.about),)


@dataclass(frozen=True)
class KilnShared(Decision):
    """What a load in a kiln cost goes into the costs of the shop's own pieces that were in it: once, until it is taken back."""

    load: str
    pieces: tuple[PricedPiece, ...]

    def __post_init__(self) -> None:
        ids(load=self.load)
        each_once(tuple(each.piece for each in self.pieces))
        if not self.pieces:
            raise BadAct("the cost of a load goes into at least one piece.")

    def streams(self) -> tuple[Stream, ...]:
        """The load and each piece."""
        return (stream("load", self.load), *of_pieces(tuple(each.piece for each in self.pieces)))


@dataclass(frozen=True)
class BuysHere(Fact):
    """Somebody the shop knows buys here; who works here is somebody else."""

    person: str

    def __post_init__(self) -> None:
        checked_id(self.person, "person")

    def streams(self) -> tuple[Stream, ...]:
        """The person."""
        return (stream("person", self.person),)
