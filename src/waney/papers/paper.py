"""Paper: a sheet of headings, sentences, tables, drawings and cautions, in the order in which it is read.

Every paper has its name large and its code in the same corner, page n of m, and the day it was printed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date

from waney.papers.cautions import cautions
from waney.papers.qr import code_svg
from waney.papers.typeset import pdf, pictures
from waney.papers.words import Measure, Said, Shop, day
from waney.yard.names import Name, read_name
from waney.yard.problems import BadName

Cell = Said
"""One cell of a table: words and figures; an empty cell is written in by hand."""


@dataclass(frozen=True)
class Column:
    """A column of a table: its heading, its share of the width, and whether figures stand in it (set to the right)."""

    heading: str
    share: float = 1.0
    figures: bool = False


@dataclass(frozen=True)
class Heading:
    """Opens a part of the paper."""

    words: str
    kind: str = field(default="heading", init=False)


@dataclass(frozen=True)
class Sentence:
    """Words and figures; large for what is acted on."""

    said: Said
    large: bool = False
    kind: str = field(default="sentence", init=False)


@dataclass(frozen=True)
class Table:
    """Rows under headings that come again on every page. tall_mm: at least so high, for a pencil in a glove."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    tall_mm: float = 0.0
    strong: int = 0
    """so many columns from the left are printed bold"""
    kind: str = field(default="table", init=False)


@dataclass(frozen=True)
class Picture:
    """An SVG drawing and what it shows, in words."""

    svg: str
    shows: str
    kind: str = field(default="picture", init=False)


@dataclass(frozen=True)
class Warn:
    """Cautions, at the point of danger."""

    sentences: tuple[str, ...]
    kind: str = field(default="warn", init=False)


Part = Heading | Sentence | Table | Picture | Warn


@dataclass(frozen=True)
class Paper:
    """Everything that stands on a paper."""

    title: str
    name: str
    below: str
    """under the name: the plan, the day's sawing, the wood"""
    printed: str
    paper: str
    code: str | None
    parts: tuple[Part, ...]


def paper(title: str, name: str, below: str, parts: Sequence[Part], shop: Shop, printed: date) -> Paper:
    """A paper about what has this name; only a name with its check character gets a code."""
    return Paper(title, name, below, day(printed), shop.paper, _code_of(name), tuple(parts))


def _code_of(name: str) -> str | None:
    try:
        read: Name = read_name(name)
    except BadName:
        return None
    return code_svg(read)


def warn(*steps: str) -> Warn:
    """The cautions of these steps of the work."""
    return Warn(tuple(caution.sentence for caution in cautions(*steps)))


def cell(words: str | Measure | None) -> Cell:
    """One word or figure as a cell; None stays empty."""
    return () if words is None or words == "" else (words,)


def paper_pdf(made: Paper, printed: date) -> bytes:
    """The paper as tagged PDF. The same paper and day give the same bytes."""
    return pdf("paper", made, printed)


def paper_pictures(made: Paper, printed: date, dots_per_inch: float = 150.0) -> tuple[bytes, ...]:
    """The paper as PNG, one picture a page."""
    return pictures("paper", made, printed, dots_per_inch)
