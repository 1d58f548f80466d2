"""Mark rows: rows of a form that tell what is wrong with the faces of a piece, written as tables of its sheet."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import zip_longest

from waney.pieces.face_map import MarkKind
from waney.web.forms import Sent
from waney.web.piece_told import Told, slip_of
from waney.web.toml import quoted

KINDS = tuple(map(str, MarkKind))
FACES = ("both", "A", "B")
PLACES = ("at", "across", "long", "wide")
WORDS = {"at": "From the marked end", "across": "From the marked edge", "long": "Long", "wide": "Wide"}
COLUMNS = ("kind", "face", *PLACES, "note")
SPARE = 3
"""empty rows that a form offers"""


@dataclass(frozen=True)
class MarkRow:
    """A mark as it was typed, and a sentence for each field that cannot be read."""

    typed: dict[str, str]
    wrong: dict[str, str]

    @property
    def lines(self) -> Iterator[str]:
        """The fields of its table."""
        yield from (f"{name} = {quoted(self.typed[name])}" for name in ("kind", "face", *PLACES))
        if self.typed["note"]:
            yield f"note = {quoted(self.typed['note'])}"


def empty() -> MarkRow:
    """A row to fill in."""
    return MarkRow({"kind": KINDS[0], "face": FACES[0], **dict.fromkeys((*PLACES, "note"), "")}, {})


def told_rows(told: Told) -> list[MarkRow]:
    """The marks that stand in the sheet."""
    said = ({name: str(one[name]) for name in COLUMNS if name in one} for one in told.entries("mark"))
    return [MarkRow({**empty().typed, **one}, {}) for one in said]


def sent_rows(sent: Sent, told: Told) -> list[MarkRow]:
    """The rows of a form in which a place or a size was typed."""
    columns = zip_longest(*(sent.all(f"mark_{name}") for name in COLUMNS), fillvalue="")
    rows = (dict(zip(COLUMNS, map(str.strip, row), strict=True)) for row in columns)
    return [MarkRow(typed, dict(_slips(typed, told.unit))) for typed in rows if any(typed[name] for name in PLACES)]


def _slips(typed: dict[str, str], unit: str) -> Iterator[tuple[str, str]]:
    for name in PLACES:
        slip = slip_of(typed[name], unit, either_side=name == "across") if typed[name] else "Write it too."
        if slip:
            yield name, slip
