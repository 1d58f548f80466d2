"""Receipt and packing list of a sale: what was sold for how much, how it was paid; what is loaded and what it weighs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from waney.papers.paper import Cell, Column, Paper, Part, Sentence, Table, cell, paper, warn
from waney.papers.words import Shop, day, said, sized
from waney.units.moisture import print_mc


@dataclass(frozen=True)
class SoldPiece:
    """A piece of a sale; sizes [m] as they stand in the book, None: not known. came_back: it was returned."""

    name: str
    wood: str
    thickness_m: float | None
    length_m: float | None
    least_width_m: float | None
    most_width_m: float | None
    money: str = ""
    came_back: bool = False


@dataclass(frozen=True)
class Receipt:
    """A sale as its receipt says it; money as it is written. buyer: empty for nobody named; owed, back: empty for nothing;
    back: what came back, with its tax."""

    yard: str
    on: date
    buyer: str
    pieces: tuple[SoldPiece, ...]
    taxes: tuple[tuple[str, str], ...]
    total: str
    paid: str
    owed: str = ""
    back: str = ""


@dataclass(frozen=True)
class Weighs:
    """What a piece weighs [kg], from low to high, and what that stands on; None: not known."""

    low_kg: float
    high_kg: float
    weighed_on: str = ""
    mc: float | None = None


def receipt(sale: Receipt, shop: Shop, printed: date) -> Paper:
    """The receipt of a sale."""
    lines = [(f"{one.name}{', came back' if one.came_back else ''}", what_it_is(one, shop), one.money) for one in sale.pieces]
    last = (("Sum", sale.total), ("Came back, with its tax", sale.back), ("Paid", sale.paid), ("Still owed", sale.owed))
    sums = [*sale.taxes, *((words, money) for words, money in last if money)]
    parts: list[Part] = [
        *([Sentence(said(f"Sold to {sale.buyer}."))] if sale.buyer else []),
        Table(
            (Column("piece", 1.3), Column("what", 3.2), Column("price before tax", 1.2, figures=True)),
            tuple((cell(name), what, cell(money)) for name, what, money in lines),
            strong=1,
        ),
        Table((Column("", 3.2), Column("", 1.2, figures=True)), tuple(tuple(map(cell, row)) for row in sums)),
        warn("sale"),
    ]
    return paper("Receipt", sale.yard, f"sold on {day(sale.on)}", parts, shop, printed)


def what_it_is(one: SoldPiece, shop: Shop) -> Cell:
    """Wood and sizes; what is not known is left out."""
    sizes = sized(shop, one.thickness_m, one.least_width_m, one.most_width_m, one.length_m)
    return (one.wood, ", ", *sizes) if sizes else (one.wood,)


def packing_list(
    yard: str, on: date, pieces: Sequence[tuple[SoldPiece, Weighs | None]], shop: Shop, printed: date, buyer: str = ""
) -> Paper:
    """What is loaded: each piece with its weight, the heaviest first, and all together; a box for the pencil before each."""
    order = sorted(pieces, key=lambda one: (one[1] is None, -(one[1].high_kg if one[1] else 0.0), one[0].name))
    known = [load for _, load in order if load is not None]
    columns = (
        Column("load", 0.7), Column("piece", 1.2), Column("what", 2.6), Column("weight", 1.9, figures=True),
        Column("known from", 2.3),
    )  # fmt: skip
    rows = tuple(
        (cell("[  ]"), cell(one.name), what_it_is(one, shop), cell(_range(load, shop)), cell(_basis(load))) for one, load in order
    )
    total = _range(Weighs(sum(one.low_kg for one in known), sum(one.high_kg for one in known)), shop) if known else "not known"
    rest = len(order) - len(known)
    parts: list[Part] = [
        Sentence(
            said(f"All together {total}{f', without {rest} of which nothing is known' if rest and known else ''}"), large=True
        ),
        Sentence(
            said("Rope, straps, trailer and whoever lifts must bear the high end. What was weighed wetter weighs less today.")
        ),
        warn("packing", "straps"),
        Table(columns, rows, strong=2),
        *([Sentence(said(f"For {buyer}."))] if buyer else []),
    ]
    count = f"{len(order)} {'piece' if len(order) == 1 else 'pieces'}, sold on {day(on)}"
    return paper("Packing list", yard, count, parts, shop, printed)


def _range(load: Weighs | None, shop: Shop) -> str:
    if load is None:
        return "not known"
    low, high = shop.bears(load.low_kg), shop.heavy(load.high_kg)
    return high if load.weighed_on or low == high else f"{low} to {high}"


def _basis(load: Weighs | None) -> str:
    if load is None:
        return "neither weighed nor measured"
    if load.weighed_on:
        return f"weighed {day(date.fromisoformat(load.weighed_on))}"
    return "sizes and wood, moisture not read: dry to green" if load.mc is None else f"sizes and wood, at {print_mc(load.mc)}"
