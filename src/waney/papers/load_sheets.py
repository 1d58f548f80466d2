"""Load sheet and end-of-load sheet, for one owner or for all: what goes into a kiln, what came out, what each owes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from waney.papers.paper import Cell, Column, Heading, Paper, Part, Picture, Sentence, Table, cell, paper, warn
from waney.papers.words import Shop, day, said
from waney.units.moisture import print_mc

NOT_KNOWN = "not known"


@dataclass(frozen=True)
class InLoad:
    """A piece of a load. moisture, moisture_out: with method and day, in words; mass_kg, mass_out_kg: as it went in and came out;
    ready: against what was wanted, in words; empty, None: not known. owes: money, as it is written."""

    name: str
    wood: str
    thickness_m: float | None = None
    length_m: float | None = None
    mass_kg: float | None = None
    moisture: str = ""
    shell_mc: float | None = None
    core_mc: float | None = None
    mass_out_kg: float | None = None
    moisture_out: str = ""
    ready: str = ""
    damage: str = ""
    owes: str = ""


@dataclass(frozen=True)
class LaidAs:
    """How a load can be laid. pictures: SVG and what it shows, from the front, then layer by layer; says: how high and how heavy;
    left: pieces that are not drawn, and why; sentence: why there is no drawing."""

    pictures: tuple[tuple[str, str], ...] = ()
    says: str = ""
    left: tuple[tuple[str, str], ...] = ()
    sentence: str = ""


@dataclass(frozen=True)
class LoadOf:
    """A load as one owner sees it, or all of it. kiln: and whose it is; in_on, out_on: days it went in and was out."""

    kiln: str
    owner: str
    in_on: date
    pieces: tuple[InLoad, ...]
    out_on: date | None = None
    days: float | None = None
    treated: str = ""
    core: str = ""
    """what the core record says, in words"""
    total: str = ""
    owes: str = ""
    method: str = ""
    words: str = ""


def load_sheet(load: LoadOf, shop: Shop, printed: date, laid: LaidAs | None = None) -> Paper:
    """What goes in: pieces, sizes, weights, how dry they are, what is wanted, and how all of the load can be laid."""
    unit = "mm" if shop.sizes.metric else "in"
    columns = (
        *(Column("name", 1.6), Column("wood", 1.6), Column(f"thick {unit}", 1.0, True)),
        *(Column("weight", 1.1, True), Column("moisture", 2.2), Column("wanted", 1.4)),
    )
    parts: list[Part] = [
        Sentence(said(f"{load.owner}: {_counted(load.pieces)} into {load.kiln}, {day(load.in_on)}.")),
        *_words(load.words),
        warn("kiln"),
        Table(columns, tuple(_goes_in(one, shop) for one in load.pieces), strong=1),
        Sentence(said("Weighed, or read with a meter, on the way:")),
        Table((Column("day"), Column("piece"), Column("weight"), Column("shell %"), Column("core %")), ((),) * 6, 11.5),
        *_laid(laid),
    ]
    return paper("Load sheet", load.kiln, load.owner, parts, shop, printed)


def _laid(laid: LaidAs | None) -> Iterator[Part]:
    if laid is None:
        return
    yield Heading("How it can be laid, all of the load")
    if laid.sentence:
        yield Sentence(said(laid.sentence))
    if laid.pictures:
        yield Sentence(
            said(f"{laid.says} Layers are drawn as high as each other; lengths and stickers, in line over the bearers, to scale.")
        )
    yield from (Picture(svg, shows) for svg, shows in laid.pictures)
    yield from (Sentence(said(f"{name} is not drawn: {why}.")) for name, why in laid.left)


def end_sheet(load: LoadOf, shop: Shop, printed: date) -> Paper:
    """What came out: weights and moistures before and after, whether ready, damage, heat treatment, what is owed and how that was
    found."""
    came = (Column("name", 1.6), Column("weight in", 1.1, True), Column("out", 1.1, True), Column("at the end", 2.6))
    parts: list[Part] = [
        Sentence(said(f"{load.owner}: {_counted(load.pieces)}, in {day(load.in_on)}, {_out(load)}.")),
        *_words(load.words),
        Sentence(
            said(f"Heat treated: {load.treated or NOT_KNOWN}{f'; {load.core}' if load.core else ''}. This is no certificate.")
        ),
        Table(came, tuple(_came_out(one, shop) for one in load.pieces), strong=1),
        *_found(load.pieces),
        *_owed(load),
        warn("sale"),
    ]
    return paper("End of load", load.kiln, load.owner, parts, shop, printed)


def _words(words: str) -> list[Part]:
    return [Sentence(said(words))] if words else []


def _counted(pieces: Sequence[InLoad]) -> str:
    return f"{len(pieces)} {'piece' if len(pieces) == 1 else 'pieces'}"


def _out(load: LoadOf) -> str:
    out = "not all out yet" if load.out_on is None else f"out {day(load.out_on)}"
    days = f"{load.days:g} days in the kiln" if load.days is not None else f"days in the kiln {NOT_KNOWN}"
    return f"{out}; {days}"


def _goes_in(one: InLoad, shop: Shop) -> tuple[Cell, ...]:
    wanted = [f"{name} {print_mc(mc)}" for name, mc in (("shell", one.shell_mc), ("core", one.core_mc)) if mc is not None]
    thick = None if one.thickness_m is None else shop.read(one.thickness_m)
    return (
        *(cell(one.name), cell(one.wood), cell(thick)),
        *(_weight(one.mass_kg, shop), cell(one.moisture or NOT_KNOWN), cell(", ".join(wanted))),
    )


def _weight(mass_kg: float | None, shop: Shop) -> Cell:
    return cell(NOT_KNOWN if mass_kg is None else shop.weighed(mass_kg))


def _came_out(one: InLoad, shop: Shop) -> tuple[Cell, ...]:
    end = one.ready or one.moisture_out or NOT_KNOWN
    return cell(one.name), _weight(one.mass_kg, shop), _weight(one.mass_out_kg, shop), cell(end)


def _found(pieces: Sequence[InLoad]) -> list[Part]:
    """Damage, by piece; nothing where none was seen."""
    harmed = [one for one in pieces if one.damage]
    columns = (Column("name", 1.0), Column("", 3.0))
    rows = tuple((cell(one.name), cell(one.damage)) for one in harmed)
    return [Heading("Damage"), Table(columns, rows, strong=1)] if harmed else [Sentence(said("No damage was told."))]


def _owed(load: LoadOf) -> list[Part]:
    if not load.owes:
        return [Sentence(said(f"Fee: {NOT_KNOWN}."))]
    rows = tuple((cell(one.name), cell(one.owes)) for one in load.pieces if one.owes)
    return [
        Heading("Fee"),
        Sentence(said(f"{load.owner}: {load.owes} of {load.total}."), large=True),
        Table((Column("piece", 2.0), Column("its part", 1.0, True)), rows, strong=1),
        Sentence(said(load.method)),
    ]
