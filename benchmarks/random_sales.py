"""Random selling: 10,000 sales among holds, requests, leases and returns; stock, money and promises held against a model of a few lines.

Everything is drawn (seed 1). Two desks that reach the book and a phone that does not: its queue arrives late. The clock of the book
goes on, so that holds run out. Writes docs/methods/selling.md.
"""

from __future__ import annotations

import os
import platform
import random
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path
from uuid import UUID

from sqlalchemy import event

from waney.yard.acts.every import Act
from waney.yard.acts.people_places import PersonAdded
from waney.yard.acts.pieces import PieceCounted, PieceEnd, PieceEnded
from waney.yard.acts.promises import DepositSettled, Held, HoldAsked, HoldEnded, LeaseClosed, LeaseTaken, PricedPiece
from waney.yard.acts.sales import Paid, Returned, Sold, SoldAway
from waney.yard.book.book import Book, make_book
from waney.yard.book.deposits_seen import deposits_here
from waney.yard.book.engine import in_folder, reading
from waney.yard.book.looking import pieces, version_of
from waney.yard.book.replaying import standing, standing_anew
from waney.yard.book.selling_seen import money_taken, promises, sales
from waney.yard.commands import Command, Read
from waney.yard.problems import Refused
from waney.yard.services.earning import Yard, year_of_logs

PAGE = Path(__file__).parents[1] / "docs" / "methods" / "selling.md"
START = datetime(2026, 5, 4, 8, 0, tzinfo=UTC)
SALES, PIECES = 10_000, 400
MOSTLY_FREE = 0.85
"""how often somebody asks for what is free"""


class Disagrees(Exception):
    """Book and model say different things."""


@dataclass
class Model:
    """What should be so, in plain dictionaries. by: piece -> stream; until, of: holds; sold: sale -> piece -> gone or back."""

    by: dict[str, str] = field(default_factory=dict)
    until: dict[str, str] = field(default_factory=dict)
    of: dict[str, list[str]] = field(default_factory=dict)
    who: dict[str, str] = field(default_factory=dict)
    leased: dict[str, list[str]] = field(default_factory=dict)
    sold: dict[str, dict[str, str]] = field(default_factory=dict)
    deposit: dict[str, int] = field(default_factory=dict)
    priced: dict[str, dict[str, int]] = field(default_factory=dict)
    paid: dict[str, int] = field(default_factory=dict)
    kept: int = 0
    burnt: set[str] = field(default_factory=set)
    money: int = 0

    def free(self, piece: str, today: str, mine: str = "") -> bool:
        """Whether a piece may be promised."""
        by = self.by.get(piece)
        ran_out = by is not None and by in self.until and self.until[by] < today
        return piece not in self.burnt and (by is None or by == mine or ran_out)

    def take(self, some: list[str], by: str) -> None:
        """Promise pieces; a hold that had run out lets all of its pieces go."""
        for piece in some:
            former = self.by.get(piece)
            if former in self.until and former != by:
                self.let_go(str(former))
            self.by[piece] = by

    def earned(self) -> int:
        """What was sold and stayed sold, what was kept at returns, and kept deposits [cents]; nothing was spent."""
        earned = self.kept
        for sale, prices in self.priced.items():
            back = sum(cents for piece, cents in prices.items() if self.sold[sale][piece] == "back")
            earned += sum(cents for piece, cents in prices.items() if self.sold[sale][piece] == "")
            earned += max(0, min(back, self.paid[sale] - sum(prices.values()) + back))
        return earned

    def standing(self) -> list[str]:
        """Holds that a piece is promised by."""
        return list(dict.fromkeys(by for by in self.by.values() if by in self.until))

    def let_go(self, by: str) -> None:
        """Nothing is promised by this any more."""
        self.by = {piece: other for piece, other in self.by.items() if other != by}


class RandomSales:
    """Draws what people do, sends it, and knows what the book should answer."""

    def __init__(self, book: Book, seed: int, count: int = 40) -> None:
        self.book, self.draw, self.model, self.now = book, random.Random(seed), Model(), START
        self.devices, self.counts = [self.new() for _ in range(3)], Counter[str]()
        self.counted: Counter[str] = Counter()
        self.queue: list[tuple[Command, Callable[[], None]]] = []
        self.people, self.pieces = [self.new() for _ in range(8)], [self.new() for _ in range(count)]
        for person in self.people:
            self.send(PersonAdded(person, "somebody invented"))
        for piece in self.pieces:
            self.send(PieceCounted(piece, "ash"))

    def new(self) -> str:
        """An id."""
        return str(UUID(int=self.draw.getrandbits(128), version=4))

    @property
    def today(self) -> str:
        """The day by the clock of the book."""
        return self.now.date().isoformat()

    def some(self) -> list[str]:
        """One to three pieces, mostly free ones; where few are left, new wood comes in."""
        free = [piece for piece in self.pieces if self.model.free(piece, self.today)]
        if 3 * len(free) < len(self.pieces):
            self.restock()
        count = self.draw.choice([1, 1, 1, 2, 3])
        choice = free if len(free) >= count and self.draw.random() < MOSTLY_FREE else self.pieces
        return self.draw.sample(choice, count)

    def restock(self) -> None:
        """New pieces in the place of those that are sold; a few of the sold ones are still asked for."""
        for place, piece in enumerate(self.pieces):
            if self.model.by.get(piece, "").startswith("sale:") and self.draw.random() < MOSTLY_FREE:
                self.pieces[place] = self.new()
                self.send(PieceCounted(self.pieces[place], "ash"))

    def soon(self) -> str:
        """A day today or later."""
        return (self.now.date() + timedelta(days=self.draw.randint(0, 3))).isoformat()

    def priced(self, some: list[str]) -> tuple[PricedPiece, ...]:
        """Pieces with prices."""
        return tuple(PricedPiece(piece, self.draw.randint(0, 90_000)) for piece in some)

    def command(self, act: Act, device: int = 0, *, decides: bool = False) -> Command:
        """An act on its way, read as things stand now if it decides."""
        self.counts[self.devices[device]] += 1
        read = tuple(Read(each, version_of(self.book, each)) for each in act.streams()) if decides else ()
        return Command(self.new(), self.devices[device], self.counts[self.devices[device]], "", self.now.isoformat(), act, read)

    def send(self, act: Act, *, decides: bool = False) -> bool:
        """Whether it was written."""
        try:
            self.book.send(self.command(act, self.draw.randint(0, 1), decides=decides), self.now)
        except Refused:
            return False
        return True

    def decide(self, act: Act, allowed: bool) -> bool:
        """A decision is written exactly when the model allows it."""
        written = self.send(act, decides=True)
        if written != allowed:
            raise Disagrees(f"{act} was {'written' if written else 'refused'}")
        self.counted[f"{type(act).__name__} {'written' if written else 'refused'}"] += 1
        return written

    def step(self) -> None:
        """One thing that somebody does."""
        self.now += timedelta(minutes=self.draw.randint(1, 120))
        often = [self.sell, self.sell, self.sell, self.away, self.away, self.sell_held, self.hold, self.ask, self.arrive]
        self.draw.choice(
            [*often, self.end_hold, self.settle_deposit, self.lease, self.home, self.give_back, self.pay, self.burn]
        )()

    def hold(self) -> None:
        """Somebody wants pieces kept."""
        some, hold, cents = self.some(), self.new(), self.draw.choice([0, 2_000])
        person, until = self.draw.choice(self.people), self.soon()
        free = all(self.model.free(piece, self.today) for piece in some)
        if self.decide(Held(hold, person, tuple(some), until, cents), free):
            self._held(hold, person, some, until)
            self.model.money += cents
            self.model.deposit[f"hold:{hold}"] = cents

    def _held(self, hold: str, person: str, some: list[str], until: str) -> None:
        m, by = self.model, f"hold:{hold}"
        m.until[by], m.of[by], m.who[by] = until, some, person
        m.take(some, by)

    def ask(self) -> None:
        """From the phone: queued, granted or not when it arrives."""
        some, hold, person, until = self.some(), self.new(), self.draw.choice(self.people), self.soon()

        def arrives() -> None:
            granted = all(self.model.free(piece, self.today) for piece in some)
            self.counted[f"HoldAsked {'granted' if granted else 'came second'}"] += 1
            if granted:
                self._held(hold, person, some, until)

        self.queue.append((self.command(HoldAsked(hold, person, tuple(some), until), 2), arrives))

    def sell(self) -> None:
        """Pieces are sold over the desk."""
        some, sale = self.some(), self.new()
        priced = self.priced(some)
        total = sum(each.cents for each in priced)
        free = all(self.model.free(piece, self.today) for piece in some)
        if self.decide(Sold(sale, priced, self.today, paid_cents=total), free):
            self._sold(sale, priced, total)

    def _sold(self, sale: str, priced: tuple[PricedPiece, ...], total: int, of_deposit: int = 0) -> None:
        some = [each.piece for each in priced]
        self.model.take(some, f"sale:{sale}")
        self.model.sold[sale] = dict.fromkeys(some, "")
        self.model.priced[sale] = {each.piece: each.cents for each in priced}
        self.model.paid[sale] = total + of_deposit
        self.model.money += total

    def sell_held(self) -> None:
        """A hold is settled, now and then by the wrong person."""
        standing = self.model.standing()
        if not standing:
            return
        by, sale = self.draw.choice(standing), self.new()
        kept = [piece for piece, other in self.model.by.items() if other == by]
        some, person = (
            self.draw.choice([self.model.of[by], kept, kept[:1]]),
            self.draw.choice([self.model.who[by], self.model.who[by], self.people[0]]),
        )
        priced = self.priced(some)
        total = sum(each.cents for each in priced)
        mine = person == self.model.who[by] and all(self.model.free(piece, self.today, by) for piece in some)
        here = max(self.model.deposit.get(by, 0), 0)
        goes_in = self.draw.choice([None, here, here // 2, here + 1])
        mine = mine and (not goes_in or goes_in <= here)
        if self.decide(Sold(sale, priced, self.today, person, total, hold=by.partition(":")[2], deposit_cents=goes_in), mine):
            of_deposit = self.model.deposit.get(by, 0) if goes_in is None else goes_in
            if goes_in is None:
                self.model.let_go(by)
                self.model.deposit[by] = 0
            else:
                self.model.by = {piece: other for piece, other in self.model.by.items() if piece not in some}
                self.model.deposit[by] = self.model.deposit.get(by, 0) - goes_in
            self._sold(sale, priced, total, of_deposit)

    def end_hold(self) -> None:
        """A hold is given up."""
        standing = self.model.standing()
        if standing:
            by, back = self.draw.choice(standing), self.draw.choice([0, 2_000])
            self.send(HoldEnded(by.partition(":")[2], returned_cents=back))
            self.model.money -= back
            self.model.deposit[by] = self.model.deposit.get(by, 0) - back
            self.model.let_go(by)

    def settle_deposit(self) -> None:
        """Somebody says what becomes of a deposit: given back, or kept."""
        here = [(by, cents) for by, cents in self.model.deposit.items() if cents > 0]
        if here:
            by, cents = self.draw.choice(here)
            back = self.draw.randint(0, cents)
            self.send(DepositSettled(by.partition(":")[2], back, cents - back))
            self.model.money -= back
            self.model.kept += cents - back
            self.model.deposit[by] = 0

    def lease(self) -> None:
        """The phone takes pieces along."""
        some, lease = self.some(), self.new()
        free = all(self.model.free(piece, self.today) for piece in some)
        if self.decide(LeaseTaken(lease, self.devices[2], tuple(some), self.soon()), free):
            self.model.take(some, f"lease:{lease}")
            self.model.leased[lease] = some

    def away(self) -> None:
        """The phone sells what it took along, or what it only has a photo of; the book hears of it later."""
        lease = self.draw.choice([*self.model.leased, ""])
        some = [self.draw.choice(self.model.leased[lease])] if lease else self.some()
        priced, sale = self.priced(some), self.new()
        total = sum(each.cents for each in priced)

        def arrives() -> None:
            m = self.model
            m.money += total
            m.sold[sale], m.paid[sale] = {}, total
            m.priced[sale] = {each.piece: each.cents for each in priced}
            for piece in some:
                mine = m.free(piece, self.today, f"lease:{lease}")
                m.sold[sale][piece] = "" if mine else "gone"
                self.counted[f"SoldAway {'piece' if mine else 'of a piece that is gone'}"] += 1
                if mine:
                    m.take([piece], f"sale:{sale}")

        self.queue.append((self.command(SoldAway(sale, priced, self.today, paid_cents=total, lease=lease), 2), arrives))

    def arrive(self) -> None:
        """The phone is in reach again."""
        for command, then in self.queue:
            self.book.send(command, self.now)
            then()
        self.queue.clear()

    def home(self) -> None:
        """The phone comes home, now and then short."""
        if self.model.leased:
            lease = self.draw.choice(list(self.model.leased))
            some = self.model.leased.pop(lease)
            self.send(LeaseClosed(lease, tuple(self.draw.sample(some, self.draw.randint(0, len(some))))))
            self.model.let_go(f"lease:{lease}")

    def give_back(self) -> None:
        """A buyer brings a piece back."""
        there = [(sale, piece) for sale, held in self.model.sold.items() for piece, state in held.items() if state != "back"]
        if there:
            sale, piece = self.draw.choice(there)
            refund = self.draw.randint(0, 30_000)
            self.send(Returned(sale, (piece,), refund))
            if self.model.sold[sale][piece] == "":
                del self.model.by[piece]
            self.model.sold[sale][piece] = "back"
            self.model.money -= refund
            self.model.paid[sale] -= refund
            self.counted["Returned"] += 1

    def pay(self) -> None:
        """Money comes later."""
        if self.model.sold:
            sale, cents = self.draw.choice(list(self.model.sold)), self.draw.randint(1, 5_000)
            self.send(Paid(f"sale:{sale}", cents))
            self.model.money += cents
            self.model.paid[sale] += cents

    def burn(self) -> None:
        """Now and then a piece is lost, and another takes its place."""
        piece = self.draw.choice(self.pieces)
        if self.draw.random() < 0.2 and not self.model.by.get(piece, "").startswith("sale:"):
            self.send(PieceEnded(piece, PieceEnd.BURNT))
            self.model.burnt.add(piece)
            self.pieces[self.pieces.index(piece)] = fresh = self.new()
            self.send(PieceCounted(fresh, "ash"))

    def look(self) -> None:
        """Raises Disagrees unless stock, money and promises are what the model says."""
        m = self.model
        stood = {piece.id: piece.ended for piece in pieces(self.book)}
        sold = {piece for piece, by in m.by.items() if by.startswith("sale:")}
        for piece, ended in stood.items():
            should = "burnt" if piece in m.burnt else "sold" if piece in sold else ""
            if ended != should:
                raise Disagrees(f"stock: {piece} is {ended or 'there'}, should be {should or 'there'}")
        told = {piece: f"{each.kind}:{each.ident}" for piece, each in promises(self.book, self.today).items()}
        if told != m.by:
            raise Disagrees(f"promises: {set(told.items()) ^ set(m.by.items())}")
        here = {f"hold:{hold}": cents for hold, cents in deposits_here(self.book).items()}
        if here != {by: cents for by, cents in m.deposit.items() if cents}:
            raise Disagrees(f"deposits: {set(here.items()) ^ set(m.deposit.items())}")
        if money_taken(self.book) != m.money:
            raise Disagrees(f"money: {money_taken(self.book)} in the book, {m.money} in the till")
        earned = sum(row.net_cents for row in year_of_logs(Yard.of(self.book, self.now.date())))
        if earned != m.earned():
            raise Disagrees(f"earned: {earned} by the book, {m.earned()} by the till")
        known = {
            sale.id: {part.piece: "back" if part.returned else "gone" if part.gone else "" for part in sale.pieces}
            for sale in sales(self.book)
        }
        if known != m.sold:
            raise Disagrees("sales")
        held = Counter(piece for parts in known.values() for piece, state in parts.items() if state == "")
        if any(count > 1 for count in held.values()):
            raise Disagrees(f"sold twice: {held.most_common(1)}")

    def replays(self) -> None:
        """Raises Disagrees unless the events read anew give the same."""
        with reading(self.book.engine) as at:
            if standing(at) != standing_anew(at):
                raise Disagrees("the events read anew give something else")


def main() -> None:
    """Sell at random and write the page."""
    begun = time.perf_counter()
    with tempfile.TemporaryDirectory() as folder:
        book = make_book(in_folder(Path(folder)), START)
        event.listen(book.engine, "connect", lambda connection, _: connection.execute("PRAGMA synchronous=OFF").close())
        book.engine.dispose()
        seller = RandomSales(book, 1, PIECES)
        steps = 0
        while len(seller.model.sold) < SALES:
            seller.step()
            steps += 1
            if steps % 1000 == 0:
                seller.look()
                print(steps, len(seller.model.sold), file=sys.stderr, flush=True)
        seller.arrive()
        seller.look()
        seller.replays()
        book.close()
    rows = "\n".join(f"| {what} | {count} |" for what, count in sorted(seller.counted.items()))
    machine = f"{os.cpu_count()} cores, {platform.machine()}, Python {platform.python_version()}"
    page = f"""# Selling at random

Written by `python3 dev.py prove random_sales.py` on {time.strftime("%Y-%m-%d")} ({machine}; {time.perf_counter() - begun:.0f} s).

{len(seller.model.sold)} sales in {steps} drawn steps (seed 1) over {PIECES} pieces at a time: two desks that reach the book and a phone whose queue arrives late; holds run out, leases come home short,
pieces burn, buyers bring wood back. Each decision was written exactly when a model of a few lines allowed it. Stock, money and promises agreed with the model at every
1000th step and at the end, no piece was sold to two, and the events read anew gave the same tables.

| what | times |
|---|---|
{rows}

Money taken less given back: {seller.model.money} cents, in the book and in the model.
"""
    PAGE.write_text(page, encoding="utf-8")
    print(page)


if __name__ == "__main__":
    main()
