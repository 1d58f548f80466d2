"""What a piece's sheet tells, word for word, for forms that add to it; where there is none they begin one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from waney.figures.problem import Problem
from waney.logs.sheet_text import with_fields
from waney.pieces.sheet_told import has_edges, has_shape, told_in
from waney.units.length import LengthUnit, parse_length
from waney.web.forms import Sent
from waney.web.piece_form import HEAD
from waney.web.showing import Figures
from waney.web.toml import quoted
from waney.yard.acts.pieces import PieceMeasured
from waney.yard.book.looking import PieceStands

UNIT_WORDS = {
    LengthUnit.INCH: "inches",
    LengthUnit.FOOT: "feet",
    LengthUnit.MM: "millimetres",
    LengthUnit.CM: "centimetres",
    LengthUnit.METRE: "metres",
}
SIZES = ("thickness", "length", "width")


@dataclass(frozen=True)
class Told:
    """The last sheet of a piece; empty where none was written. unit: what a bare number counts in it."""

    piece: PieceStands
    text: str
    photo: str
    content: dict[str, Any]
    unit: str

    @classmethod
    def of(cls, piece: PieceStands, last: PieceMeasured | None, shop_unit: str) -> Told:
        """As it stands; a sheet that cannot be read tells nothing."""
        content = told_in(last.sheet) if last else {}
        unit = str(content.get("units", shop_unit))
        return cls(piece, last.sheet if last else "", last.photo if last else "", content, unit)

    @property
    def unit_words(self) -> str:
        """What a bare number counts, for a person."""
        return UNIT_WORDS.get(LengthUnit(self.unit), self.unit) if self.unit in tuple(LengthUnit) else self.unit

    @property
    def live_edge(self) -> bool:
        """Whether its edges are told, by hand or on a photo."""
        return has_edges(self.content)

    @property
    def shaped(self) -> bool:
        """Whether its edges, or its length and width, are told."""
        return has_shape(self.content)

    def has(self, *names: str) -> bool:
        """Whether one of these stands in the sheet."""
        return any(name in self.content for name in names)

    def word(self, name: str) -> str:
        """A value as it was written; empty for none."""
        value = self.content.get(name, "")
        return str(value) if isinstance(value, str | int | float) else ""

    def entries(self, name: str) -> list[dict[str, Any]]:
        """The tables of a list."""
        found = self.content.get(name, [])
        return [one for one in (found if isinstance(found, list) else [found]) if isinstance(one, dict)]

    def sizes(self, show: Figures) -> dict[str, str]:
        """Thickness, length and width: as the sheet says them, else as the book does, a width only where it is one all along."""
        piece = self.piece
        book = {
            "thickness": None if piece.thickness_m is None else show.writes.read(piece.thickness_m),
            "length": None if piece.length_m is None else show.writes.long(piece.length_m),
            "width": None if piece.one_width_m is None else show.writes.have(piece.one_width_m),
        }
        return {name: self.word(name) or (str(size) if size else "") for name, size in book.items()}

    @property
    def long_m(self) -> float | None:
        """How long it is: as the sheet says, else as the book has it."""
        return self._metres("length") or self.piece.length_m

    @property
    def wide_m(self) -> float | None:
        """How wide it is: as the sheet says, else at its widest, as the book has it."""
        return self._metres("width") or self.piece.most_width_m

    def _metres(self, name: str) -> float | None:
        text = self.word(name)
        return None if not text or slip_of(text, self.unit) else parse_length(text, self.unit)

    def begun(self, thickness: str) -> str:
        """The last sheet, or a new one without a shape."""
        return self.text or "\n".join([HEAD, *self._head(thickness)]) + "\n"

    def _head(self, thickness: str) -> Iterator[str]:
        yield 'format = "waney-piece/1"'
        yield f'units = "{self.unit}"'
        yield f"name = {quoted(self.piece.name)}"
        if self.piece.species:
            yield f"species = {quoted(self.piece.species)}"
        yield f"thickness = {quoted(thickness)}"


@dataclass
class SizeFields:
    """Sizes as somebody typed them, with a sentence for each that cannot be read."""

    typed: dict[str, str]
    wrong: dict[str, str] = field(default_factory=dict)

    @classmethod
    def sent(cls, sent: Sent, told: Told, needed: tuple[str, ...]) -> SizeFields:
        """Those of a form; needed: what must be there."""
        typed = {name: sent.text(name) for name in SIZES}
        found = cls(typed)
        for name in SIZES:
            slip = "Write it; the book does not know." if name in needed and not typed[name] else slip_of(typed[name], told.unit)
            if slip and not (name == "thickness" and "/" in typed[name]):  # 8/4 is a name; the reader of sheets looks at it
                found.wrong[name] = slip
        return found

    def on(self, text: str, names: tuple[str, ...]) -> str:
        """The sheet with these of them. Raises CannotAdd."""
        return with_fields(text, {name: quoted(self.typed[name]) for name in names if self.typed[name]})


def slip_of(typed: str, unit: str, *, either_side: bool = False) -> str:
    """What is wrong with a length; empty for nothing, or for nothing typed. either_side: one below zero is meant."""
    try:
        if typed:
            parse_length(typed.lstrip("-") if either_side else typed, unit)
    except Problem as slip:
        return str(slip)
    return ""
