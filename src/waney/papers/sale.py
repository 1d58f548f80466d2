"""Sale sheet: one piece as a buyer may read it: what it is, how wide by which rule, how dry, where it grew, what is asked.

Nothing that is the shop's own stands on it, neither what it has cost nor who has or wants it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from waney.papers.history import Known, known_table
from waney.papers.inline import inline
from waney.papers.paper import Column, Heading, Paper, Part, Picture, Sentence, Table, cell, paper, warn
from waney.papers.words import Shop, said

WIDE_MM, HIGH_MM = 120.0, 72.0
CARE = (
    "Keep it flat on stickers, ends sealed, out of sun and rain, away from heaters.",
    "Before you work it, let it lie where it will be used until its weight stands still.",
    "It swells and shrinks across its width with the seasons: fasten it so that it can.",
)
"""common practice, no source"""


@dataclass(frozen=True)
class Width:
    """A width, the rule by which it is counted, and the board feet it counts for; figures as they are written."""

    rule: str
    width: str
    surface_measure: str
    board_feet: str


@dataclass(frozen=True)
class AsItLies:
    """What was measured of a piece as it lies: on which day, what and how much, and its widths by every rule."""

    on: str
    rows: tuple[tuple[str, str], ...]
    widths: tuple[Width, ...]


@dataclass(frozen=True)
class ForSale:
    """A piece as a buyer may read it. sizes, state, story: what is known of it, None: it is said that it is not known;
    asked: money, as it is written, empty: nothing is asked; photo: as JPEG, of the dry piece; of_set, sold: sentences, empty for
    none; ask: questions of the place, with whom to ask and what is known."""

    name: str
    wood: str
    sizes: tuple[Known, ...]
    state: tuple[Known, ...]
    story: tuple[Known, ...]
    asked: str = ""
    measured: AsItLies | None = None
    photo: bytes | None = None
    of_set: str = ""
    sold: str = ""
    ask: tuple[tuple[str, str], ...] = ()


def sale_sheet(piece: ForSale, shop: Shop, printed: date) -> Paper:
    """The sheet that lies on a piece, or goes to whoever asks for it."""
    parts: list[Part] = [
        *([Sentence(said(f"{piece.asked} before tax"), large=True)] if piece.asked else []),
        *([Sentence(said(f"{piece.sold}."), large=True)] if piece.sold else []),
        *([Sentence(said(piece.of_set))] if piece.of_set else []),
        *_photo(piece),
        warn("sale"),
        known_table("size", piece.sizes),
        *_measured(piece.measured),
        known_table("how dry, and whether treated", piece.state),
        known_table("its tree", piece.story),
        Heading("Care"),
        *(Sentence(said(line)) for line in CARE),
        *_ask(piece.ask),
    ]
    return paper("For sale", piece.name, piece.wood, parts, shop, printed)


def _ask(ask: tuple[tuple[str, str], ...]) -> Iterator[Part]:
    if ask:
        yield Table((Column("ask where it goes", 1.5), Column("", 1.5)), tuple((cell(asks), cell(told)) for asks, told in ask))


def _photo(piece: ForSale) -> Iterator[Part]:
    if piece.photo is None:
        return
    size = f'width="{WIDE_MM:g}mm" height="{HIGH_MM:g}mm" viewBox="0 0 {WIDE_MM:g} {HIGH_MM:g}"'
    drawn = f'<image width="{WIDE_MM:g}" height="{HIGH_MM:g}" preserveAspectRatio="xMinYMid meet" href="{inline(piece.photo)}"/>'
    yield Picture(f'<svg xmlns="http://www.w3.org/2000/svg" {size}>{drawn}</svg>', f"Photo of {piece.name}, dry")


def _measured(found: AsItLies | None) -> Iterator[Part]:
    """Every width under its rule; nothing where the piece was not measured as it lies."""
    if found is None:
        return
    yield Heading(f"Measured as it lies, {found.on}")
    yield known_table("what", tuple(Known(*row) for row in found.rows))
    columns = (
        Column("width by rule", 1.6),
        *(Column("width", 1.0, True), Column("surface measure", 1.2, True), Column("board feet", 1.0, True)),
    )
    rows = ((one.rule, one.width, one.surface_measure, one.board_feet) for one in found.widths)
    yield Table(columns, tuple(tuple(map(cell, row)) for row in rows), strong=1)
