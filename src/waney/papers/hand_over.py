"""Hand-over sheet: wood that goes to someone else's kiln, what is wanted of it, and room for what came of it; two signatures."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from html import escape

from waney.papers.inline import inline
from waney.papers.paper import Cell, Column, Heading, Paper, Part, Picture, Sentence, Table, cell, paper, warn
from waney.papers.words import Shop, day, said
from waney.units.moisture import print_mc
from waney.units.temperature import Degree, print_temperature

ROW_MM = 11.5
"""A row for a pencil; common practice, no source."""
SIGNED = "__________________________   day ______________"
TO_FILL_IN = (
    "In the kiln ________ days.   Fee ____________",
    "Core held at ________ for ________ minutes; record enclosed:  yes   no",
)
STEPS = ("hand over", "straps")
"""whose cautions both forms carry"""
ABREAST = 3
PHOTO_MM, HIGH_MM, WORDS_MM = 52.0, 40.0, 6.0


@dataclass(frozen=True)
class Handed:
    """A piece as it is handed over. moisture: with method and day, in words; sides: bark and ends; empty, None: not known, left
    to the pencil. shell_mc, core_mc: wanted [-]; photo: as JPEG."""

    name: str
    wood: str
    owner: str = ""
    thickness_m: float | None = None
    length_m: float | None = None
    mass_kg: float | None = None
    moisture: str = ""
    cracks: str = ""
    stain: str = ""
    metal: str = ""
    shell_mc: float | None = None
    core_mc: float | None = None
    hottest_c: float | None = None
    heat_treat: bool = False
    photo: bytes | None = None
    sides: str = ""


@dataclass(frozen=True)
class HandOver:
    """A load as it is handed over. yard: who hands it over; kiln, whose: to which kiln and whom; fee: the rule, in words."""

    yard: str
    kiln: str
    whose: str
    on: date
    pieces: tuple[Handed, ...]
    fee: str = ""
    words: str = ""


def hottest(temperature_c: float | None, shop: Shop) -> str:
    """A temperature as the shop reads it; empty for none."""
    degree = Degree.CELSIUS if shop.sizes.metric else Degree.FAHRENHEIT
    return "" if temperature_c is None else print_temperature(temperature_c, degree)


def wishes(pieces: Sequence[Handed], shop: Shop) -> tuple[tuple[str, ...], ...]:
    """What is wanted, each wish once: the pieces it is for, shell, core, hottest, heat treatment."""
    grouped: dict[tuple[str, ...], list[str]] = {}
    for one in pieces:
        mcs = tuple("" if mc is None else print_mc(mc) for mc in (one.shell_mc, one.core_mc))
        wish = (*mcs, hottest(one.hottest_c, shop), "yes, with a core record" if one.heat_treat else "not asked for")
        grouped.setdefault(wish, []).append(one.name)
    return tuple((", ".join(names) if len(grouped) > 1 else "all pieces", *wish) for wish, names in grouped.items())


def hand_over_sheet(load: HandOver, shop: Shop, printed: date) -> Paper:
    """The paper that goes along: what it is, how dry and how sound, what is wanted, photos, room for what came of it."""
    unit = "mm" if shop.sizes.metric else "in"
    sizes = (Column(f"thick {unit}", 1.0, True), Column("long", 1.0, True), Column("weight", 1.1, True))
    sound = (Column("cracks", 1.2), Column("stain", 1.1), Column("metal", 1.1))
    state = (Column("name", 1.6), Column("moisture", 2.2), Column("bark, ends", 1.4), *sound)
    wanted = (
        Column("pieces", 2.2),
        Column("shell", 0.9),
        Column("core", 0.9),
        Column("hottest", 1.1),
        Column("heat treated", 1.6),
    )
    back = (Column("name", 1.6), Column("weight", 1.2), Column("shell %", 1.0), Column("core %", 1.0), Column("damage", 2.6))
    parts: list[Part] = [
        Sentence(said(f"From {load.yard} to {load.whose}, {load.kiln}, {day(load.on)}.")),
        *([Sentence(said(load.words))] if load.words else []),
        warn(*STEPS),
        Table(
            (Column("name", 1.6), Column("wood, owner", 2.0), *sizes), tuple(_what(one, shop) for one in load.pieces), strong=1
        ),
        Heading("How dry, how sound"),
        Table(state, tuple(_state(one) for one in load.pieces), strong=1),
        Heading("What is wanted"),
        Table(wanted, tuple(tuple(map(cell, wish)) for wish in wishes(load.pieces, shop))),
        Sentence(said("Hottest: what the wood may get, not the air alone. Where nothing stands, ask before it is done.")),
        Sentence(said(f"Fee: {load.fee or '________________________________________'}")),
        Sentence(said(f"Handed over by  {SIGNED}")),
        Sentence(said(f"Taken over by   {SIGNED}")),
        *_photos(load.pieces),
        Heading("When it comes back"),
        Table(back, tuple((cell(one.name), (), (), (), ()) for one in load.pieces), ROW_MM, strong=1),
        *(Sentence(said(line)) for line in TO_FILL_IN),
    ]
    return paper("Hand-over", load.kiln, load.whose, parts, shop, printed)


def _what(one: Handed, shop: Shop) -> tuple[Cell, ...]:
    thick = cell(None if one.thickness_m is None else shop.read(one.thickness_m))
    long = cell(None if one.length_m is None else shop.long(one.length_m))
    heavy = cell(None if one.mass_kg is None else shop.weighed(one.mass_kg))
    return cell(one.name), cell(", ".join(each for each in (one.wood, one.owner) if each)), thick, long, heavy


def _state(one: Handed) -> tuple[Cell, ...]:
    return tuple(cell(words) for words in (one.name, one.moisture, one.sides, one.cracks, one.stain, one.metal))


def _photos(pieces: Sequence[Handed]) -> Iterator[Part]:
    """Photos with their names below, three abreast."""
    shown = [one for one in pieces if one.photo]
    if shown:
        yield Heading("Photos")
    for at in range(0, len(shown), ABREAST):
        row = shown[at : at + ABREAST]
        yield Picture(_row(row), f"Photos of {', '.join(one.name for one in row)}")


def _row(row: Sequence[Handed]) -> str:
    high = HIGH_MM + WORDS_MM
    lettered = f'y="{high - 1.5:g}" font-family="DejaVu Sans Mono" font-size="4"'
    marks = "".join(
        f'<image x="{at * (PHOTO_MM + 4):g}" y="0" width="{PHOTO_MM:g}" height="{HIGH_MM:g}" href="{inline(one.photo or b"")}"/>'
        f'<text x="{at * (PHOTO_MM + 4):g}" {lettered}>{escape(one.name)}</text>'
        for at, one in enumerate(row)
    )
    wide = ABREAST * PHOTO_MM + 8
    size = f'width="{wide:g}mm" height="{high:g}mm" viewBox="0 0 {wide:g} {high:g}"'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {size}>{marks}</svg>'


# the same as a file that needs no Waney: one page with everything in it, no script, nothing from elsewhere

STYLE = (
    "body{font:16px/1.4 sans-serif;max-width:60rem;margin:1rem auto;padding:0 1rem;color:#000;background:#fff}"
    "table{border-collapse:collapse;width:100%;margin:.5rem 0 1.5rem}th,td{border:1px solid #000;padding:.3rem .5rem;"
    "text-align:left;vertical-align:top}.wide{overflow-x:auto}td:empty{min-width:5rem;height:2rem}img{max-width:16rem;"
    "max-height:16rem}"
    "td:first-child{white-space:nowrap}figure{display:inline-block;margin:.5rem}li{margin:.2rem 0}.sign{margin:2rem 0 0}"
)
EMPTY = "not known"
OPEN_WISH = "not told: ask before it is done"


def hand_over_file(load: HandOver, shop: Shop) -> str:
    """The hand-over sheet as one HTML page that any phone opens and any printer prints."""
    title = f"Hand-over: {load.kiln}, {day(load.on)}"
    warned = "".join(f"<li>{escape(sentence)}</li>" for sentence in warn(*STEPS).sentences)
    heads = ("name", "wood", "owner", "thick", "long", "weight", "moisture", "bark, ends", "cracks", "stain", "metal")
    body = [
        f"<h1>{escape(title)}</h1><p>From {escape(load.yard)} to {escape(load.whose)}.</p>",
        f"<p>{escape(load.words)}</p>" if load.words else "",
        f"<ul>{warned}</ul><h2>What is handed over</h2>{_html(heads, [_filed(one, load.yard, shop) for one in load.pieces])}",
        "<h2>What is wanted</h2>",
        _html(("pieces", "shell", "core", "hottest the wood may get", "heat treatment"), wishes(load.pieces, shop), OPEN_WISH),
        f"<p>Fee: {escape(load.fee or EMPTY)}</p>",
        "".join(f'<p class="sign">{who} {SIGNED}</p>' for who in ("Handed over by", "Taken over by")),
        "<h2>Photos</h2>" if any(one.photo for one in load.pieces) else "",
        *(_figure(one) for one in load.pieces if one.photo),
        "<h2>When it comes back</h2>",
        _html(("name", "weight", "shell %", "core %", "damage"), [(one.name, "", "", "", "") for one in load.pieces], ""),
        *(f"<p>{escape(line)}</p>" for line in TO_FILL_IN),
    ]
    head = f'<meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>{escape(title)}</title>'
    return f'<!doctype html><html lang="en"><head>{head}<style>{STYLE}</style></head><body>{"".join(body)}</body></html>\n'


def _filed(one: Handed, yard: str, shop: Shop) -> tuple[str, ...]:
    thick = "" if one.thickness_m is None else _whole(shop.read(one.thickness_m))
    long = "" if one.length_m is None else _whole(shop.long(one.length_m))
    heavy = "" if one.mass_kg is None else _whole(shop.weighed(one.mass_kg))
    whose = one.owner or yard
    return one.name, one.wood, whose, thick, long, heavy, one.moisture, one.sides, one.cracks, one.stain, one.metal


def _whole(figure: object) -> str:
    """A figure that is not broken at the end of a line."""
    return str(figure).replace(" ", "\N{NO-BREAK SPACE}")


def _html(heads: Sequence[str], rows: Sequence[Sequence[str]], empty: str = EMPTY) -> str:
    above = "".join(f"<th>{escape(head)}</th>" for head in heads)
    below = "".join(f"<tr>{''.join(f'<td>{escape(words or empty)}</td>' for words in row)}</tr>" for row in rows)
    return f'<div class="wide"><table><thead><tr>{above}</tr></thead><tbody>{below}</tbody></table></div>'


def _figure(one: Handed) -> str:
    name = escape(one.name)
    shown = f'<img alt="Photo of {name}" src="{inline(one.photo or b"")}">'
    return f"<figure>{shown}<figcaption>{name}</figcaption></figure>"
