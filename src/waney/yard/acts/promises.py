"""Who a piece is promised to: its price, quotes, holds, and what a device takes along to sell out of reach."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from waney.yard.acts.base import Decision, Fact, between, day_if_any, ids, ids_if_any, lines
from waney.yard.acts.stacks import each_once
from waney.yard.problems import BadAct
from waney.yard.streams import Stream, checked_id, stream

MOST_CENTS = 10**12


def day(**given: str) -> None:
    """Each is a date. Raises BadAct."""
    day_if_any(**given)
    for what, text in given.items():
        if not text:
            raise BadAct(f"{what} is empty; write a day as 2026-05-04.")


def state_or_country(goes_to: str) -> None:
    """Where wood goes to leads to nobody's door; empty: not told. Raises BadAct."""
    lines(goes_to=goes_to)
    if any(map(str.isdigit, goes_to)):
        raise BadAct("Where the wood goes to has a number in it; write the state or the country alone, an address is not kept.")


def of_pieces(pieces: tuple[str, ...]) -> tuple[Stream, ...]:
    """The streams of some pieces."""
    return tuple(stream("piece", each) for each in pieces)


@dataclass(frozen=True)
class PricedPiece:
    """A piece and what is asked or paid for it, before tax."""

    piece: str
    cents: int

    def __post_init__(self) -> None:
        checked_id(self.piece, "pieces")
        between(0, MOST_CENTS, cents=self.cents)


@dataclass(frozen=True)
class Priced(Decision):
    """What is asked for a piece from now on; None: nothing. way: how it came about, in words."""

    piece: str
    cents: int | None
    way: str = ""

    def __post_init__(self) -> None:
        ids(piece=self.piece)
        between(0, MOST_CENTS, cents=self.cents)
        lines(way=self.way)

    def streams(self) -> tuple[Stream, ...]:
        """The piece."""
        return (stream("piece", self.piece),)


@dataclass(frozen=True)
class Quoted(Decision):
    """Prices that hold for somebody until the end of a day. hold: what keeps the pieces back so long; empty: nothing does;
    goes_to: the state or country that the wood goes to, empty: not told."""

    quote: str
    person: str
    pieces: tuple[PricedPiece, ...]
    until: str
    words: str = ""
    hold: str = ""
    goes_to: str = ""

    def __post_init__(self) -> None:
        state_or_country(self.goes_to)
        ids(quote=self.quote, person=self.person)
        ids_if_any(hold=self.hold)
        each_once(tuple(each.piece for each in self.pieces))
        day(until=self.until)
        lines(words=self.words)

    def streams(self) -> tuple[Stream, ...]:
        """The quote and its pieces."""
        return (self.makes(), *of_pieces(tuple(each.piece for each in self.pieces)))

    def makes(self) -> Stream:
        """The quote."""
        return stream("quote", self.quote)

    def needs(self) -> tuple[str, ...]:
        """The pieces, who asked, and the hold."""
        kept = [stream("hold", self.hold)] if self.hold else []
        return (*of_pieces(tuple(each.piece for each in self.pieces)), stream("person", self.person), *kept)


@dataclass(frozen=True)
class QuoteEnded(Fact):
    """Nothing comes of a quote."""

    quote: str
    words: str = ""

    def __post_init__(self) -> None:
        ids(quote=self.quote)
        lines(words=self.words)

    def streams(self) -> tuple[Stream, ...]:
        """The quote."""
        return (stream("quote", self.quote),)


@dataclass(frozen=True)
class _Hold:
    """Pieces kept for somebody until the end of a day."""

    hold: str
    person: str
    pieces: tuple[str, ...]
    until: str

    def _checked(self) -> None:
        ids(hold=self.hold, person=self.person)
        each_once(self.pieces)
        day(until=self.until)

    def streams(self) -> tuple[Stream, ...]:
        """The hold and its pieces."""
        return (self.makes(), *of_pieces(self.pieces))

    def makes(self) -> Stream:
        """The hold."""
        return stream("hold", self.hold)

    def needs(self) -> tuple[str, ...]:
        """The pieces and who they are kept for."""
        return (*of_pieces(self.pieces), stream("person", self.person))


@dataclass(frozen=True)
class Held(_Hold, Decision):
    """Kept for somebody, at a device that reaches the book. breaks_set: the rest of a set may be parted from these."""

    deposit_cents: int = 0
    breaks_set: bool = False

    def __post_init__(self) -> None:
        self._checked()
        between(0, MOST_CENTS, deposit_cents=self.deposit_cents)


@dataclass(frozen=True)
class HoldAsked(_Hold, Fact):
    """Somebody asks for a hold out of reach of the book: granted when it arrives, or it came after somebody else."""

    def __post_init__(self) -> None:
        self._checked()


class HoldEnd(StrEnum):
    """How a hold ends without a sale."""

    RELEASED = "released"
    RAN_OUT = "ran out"


@dataclass(frozen=True)
class HoldEnded(Fact):
    """A hold is no more. returned_cents: of the deposit."""

    hold: str
    how: HoldEnd = HoldEnd.RELEASED
    returned_cents: int = 0

    def __post_init__(self) -> None:
        ids(hold=self.hold)
        between(0, MOST_CENTS, returned_cents=self.returned_cents)

    def streams(self) -> tuple[Stream, ...]:
        """The hold."""
        return (stream("hold", self.hold),)


@dataclass(frozen=True)
class DepositSettled(Fact):
    """What became of a deposit, or of what was left of it: given back, or kept by the shop."""

    hold: str
    returned_cents: int = 0
    kept_cents: int = 0

    def __post_init__(self) -> None:
        ids(hold=self.hold)
        between(0, MOST_CENTS, returned_cents=self.returned_cents, kept_cents=self.kept_cents)

    def streams(self) -> tuple[Stream, ...]:
        """The hold."""
        return (stream("hold", self.hold),)


@dataclass(frozen=True)
class LeaseTaken(Decision):
    """A device takes pieces along until the end of a day: only it can sell them meanwhile, and does so for certain. With none it
    can only ask."""

    lease: str
    device: str
    pieces: tuple[str, ...]
    until: str
    words: str = ""

    def __post_init__(self) -> None:
        ids(lease=self.lease, device=self.device)
        each_once(self.pieces, 0)
        day(until=self.until)
        lines(words=self.words)

    def streams(self) -> tuple[Stream, ...]:
        """The lease and its pieces."""
        return (self.makes(), *of_pieces(self.pieces))

    def makes(self) -> Stream:
        """The lease."""
        return stream("lease", self.lease)

    def needs(self) -> tuple[str, ...]:
        """The pieces."""
        return of_pieces(self.pieces)


@dataclass(frozen=True)
class LeaseClosed(Fact):
    """The day is over. home: the pieces that came home; what was neither sold nor came home is looked for."""

    lease: str
    home: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        ids(lease=self.lease)
        each_once(self.home, 0)

    def streams(self) -> tuple[Stream, ...]:
        """The lease and what came home."""
        return (stream("lease", self.lease), *of_pieces(self.home))
