"""Heights form: heights of both faces, typed on a grid, written as a table of the piece's sheet."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from waney.figures.problem import Problem
from waney.units.length import length_of
from waney.web.forms import Sent
from waney.web.piece_told import Told, slip_of
from waney.web.toml import quoted

WAYS = {
    "both": "both faces over a level bench",
    "calliper": "the upper face, and the thickness under each point",
    "even": "the upper face; it is as thick everywhere",
}
MOST_ALONG, MOST_ACROSS = 12, 7
"""places that a form has fields for"""
FEWEST = 2
STEPS = {"in": 1, "mm": 25}
"""what places on a piece are rounded to, by the unit of the sheet"""
USUAL = (5, 3)
NO_WOOD = "-"


class BadHeightsForm(Problem):
    """The fields of a grid do not fit together."""


@dataclass
class HeightsForm:
    """A grid as it was typed: places along (n) and across (k), n rows of k for each face.

    lower: heights of the under face, or thicknesses, by the way it was read; thick: of one that is as thick everywhere; wrong:
    a sentence for each field that cannot be read.
    """

    way: str
    at: list[str]
    across: list[str]
    upper: list[list[str]]
    lower: list[list[str]]
    thick: str = ""
    wrong: dict[str, str] = field(default_factory=dict)

    @classmethod
    def told(cls, told: Told, way: str, n: int | None, k: int | None, thick: str) -> HeightsForm:
        """The grid of the sheet; an empty one of n by k places where another size or way is asked for, or there is none."""
        had = told.content.get("heights")
        if isinstance(had, dict) and (found := _in_sheet(had, thick)) and way in ("", found.way) and found._is(n, k):
            return found
        n, k = min(max(n or USUAL[0], FEWEST), MOST_ALONG), min(max(k or USUAL[1], FEWEST), MOST_ACROSS)
        at, across = evenly(n, told.long_m, told.unit), evenly(k, told.wide_m, told.unit)
        upper, lower = ([[""] * k for _ in range(n)] for _ in range(2))
        return cls(way if way in WAYS else "both", at, across, upper, lower, thick)

    def _is(self, n: int | None, k: int | None) -> bool:
        asked = (n or len(self.at), k or len(self.across))
        return asked == (len(self.at), len(self.across)) and asked[0] <= MOST_ALONG and asked[1] <= MOST_ACROSS

    @classmethod
    def sent(cls, sent: Sent, told: Told) -> HeightsForm:
        """As it was sent. Raises BadHeightsForm for fields that no page of ours sends."""
        at, across = (list(map(str.strip, sent.all(name))) for name in ("at", "across"))
        cells = {name: list(map(str.strip, sent.all(name))) for name in ("upper", "lower")}
        way, many = sent.text("way"), len(at) * len(across)
        whole = len(cells["upper"]) == many and len(cells["lower"]) == (0 if way == "even" else many)
        if way not in WAYS or not whole or not FEWEST <= len(at) <= MOST_ALONG or not FEWEST <= len(across) <= MOST_ACROSS:
            raise BadHeightsForm("This form is not whole; load the page anew and send it again.")
        upper, lower = (_rows(cells[name] or [""] * many, len(across)) for name in ("upper", "lower"))
        found = cls(way, at, across, upper, lower, sent.text("thick"))
        found.wrong.update(found._slips(told.unit))
        return found

    def _slips(self, unit: str) -> Iterator[tuple[str, str]]:
        for name, places in (("at", self.at), ("across", self.across)):
            for n, text in enumerate(places):
                slip = slip_of(text, unit) if text else "Write where it is."
                if slip:
                    yield f"{name}-{n}", slip
        for name, rows in (("upper", self.upper), ("lower", self.lower)):
            for i, row in enumerate(rows):
                for j, text in enumerate(row):
                    slip = "" if text == NO_WOOD else slip_of(text, unit)
                    other = self.upper[i][j] if name == "lower" else self.lower[i][j]
                    if self.way != "even" and not text and other not in ("", NO_WOOD):
                        slip = "Read this too, or empty both."
                    if slip:
                        yield f"{name}-{i}-{j}", slip
        if self.way == "even" and (slip := slip_of(self.thick, unit) if self.thick else "Write how thick it is."):
            yield "thick", slip

    def lines(self) -> Iterator[str]:
        """The table of the sheet."""
        yield f"at = {listed(self.at)}"
        yield f"across = {listed(self.across)}"
        yield f"upper = {grid(self.upper)}"
        if self.way == "even":
            yield f"thickness = {grid([[self.thick] * len(self.across)] * len(self.at))}"
        else:
            yield f"{'under' if self.way == 'both' else 'thickness'} = {grid(self.lower)}"


def evenly(count: int, over_m: float | None, unit: str) -> list[str]:
    """So many places over a length, the outer ones a little inside; nothing where the length is not known."""
    if over_m is None or unit not in STEPS:
        return [""] * count
    step = STEPS[unit]
    steps = over_m / length_of(1.0, unit) / step
    return [f"{step * max(1, min(round(1 + n * (steps - 2) / (count - 1)), int(steps) - 1)):g}" for n in range(count)]


def _in_sheet(had: dict[str, Any], thick: str) -> HeightsForm | None:
    """The table as texts; None for one that has another form."""
    try:
        at, across = ([str(one) for one in had[name]] for name in ("at", "across"))
        lower = had["under"] if "under" in had else had["thickness"]
        upper, under = ([[str(one) for one in row] for row in grid] for grid in (had["upper"], lower))
    except (KeyError, TypeError):
        return None
    if any([len(row) for row in grid] != [len(across)] * len(at) for grid in (upper, under)):
        return None
    return HeightsForm("both" if "under" in had else "calliper", at, across, upper, under, thick)


def _rows(cells: list[str], k: int) -> list[list[str]]:
    return [cells[start : start + k] for start in range(0, len(cells), k)]


def listed(places: list[str]) -> str:
    """A list of lengths, as a sheet has it."""
    return f"[{', '.join(map(quoted, places))}]"


def grid(rows: list[list[str]]) -> str:
    """Rows of lengths, as a sheet has them; where nothing stands there is no wood."""
    return f"[{', '.join(listed([text or NO_WOOD for text in row]) for row in rows)}]"
