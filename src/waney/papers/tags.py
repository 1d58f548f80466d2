"""Tags: a name to be stapled or stuck on the wood, large, with its code. Printed ahead with free names, or for known wood.

A tag is read at arm's length, wet: the name takes the whole width, nothing is grey, the end that is stapled stays free.
Labels fill their sheet, so a sheet of tags has no heading, no page number and no day; the file's own record holds the day.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from waney.figures.problem import Problem
from waney.papers.label_stock import BadStock, LabelStock, Place
from waney.papers.qr import code_svg, squares
from waney.papers.typeset import pdf, pictures
from waney.yard.names import OF_LOG, Name

PAD_MM = 2.0
"""free along the edges: printers and shears miss by as much"""
STRIP_MM, STRIP_SHARE = 11.0, 0.14
"""the end for hole or staple: so wide, on small labels so much of the width"""
SQUARE_MM = 0.4
"""least size of a code's square; common practice, no source"""
CODE_MOST_MM = 45.0
CODE_BESIDE_MM = 22.0
"""where something else than the name stands large: its lines need the room"""
NAME_SHARE = 0.33
"""of the height, for the name's letters"""
LETTER, CAPITAL = 0.602, 0.729
"""width of a letter and height of a capital in the paper's face, in letter heights"""
LINE_MOST_MM, LINE_LEAST_MM = 7.5, 2.2
LINE_STEP = 1.25
MOST_LINES = 3
MOST_TAGS = 5000


class BadTag(Problem):
    """A tag that cannot be printed as it was asked for."""


@dataclass(frozen=True)
class Tag:
    """A name and up to three short lines beside its code: species, thickness, what else is known.

    large: what stands large in the name's stead; its name is then one of the lines.
    """

    name: Name
    lines: tuple[str, ...] = ()
    large: str = ""

    def __post_init__(self) -> None:
        if len(self.lines) > MOST_LINES:
            raise BadTag(f"{self.name} has {len(self.lines)} lines; a tag has room for {MOST_LINES}.")


@dataclass(frozen=True)
class Calibration:
    """How a printer misses, found with the try-out sheet: shift right and down [mm], and size. Raises BadTag."""

    right_mm: float = 0.0
    down_mm: float = 0.0
    size: float = 1.0

    def __post_init__(self) -> None:
        if not (abs(self.right_mm) <= 10 and abs(self.down_mm) <= 10):
            raise BadTag(f"A shift of {self.right_mm:g} and {self.down_mm:g} mm is over 10 mm; lay the paper in again.")
        if not 0.95 <= self.size <= 1.05:
            raise BadTag(f"A size of {self.size:g} is not within 0.95 and 1.05; print at 100 %, not fitted to the page.")

    def put(self, place: Place) -> Place:
        """Where a label must be drawn so that it is printed in its place."""
        x, y = place.x * self.size + self.right_mm, place.y * self.size + self.down_mm
        return Place(x, y, place.width * self.size, place.height * self.size)


@dataclass(frozen=True)
class Laid:
    """One tag laid out, sizes in mm: what the typesetter draws. large: the name, or what stands in its stead."""

    place: Place
    name: str
    large: str
    lines: tuple[str, ...]
    code: str
    strip: float
    name_size: float
    line_size: float
    code_side: float


@dataclass(frozen=True)
class TagSheets:
    """Sheets of tags as they go to the typesetter."""

    page: tuple[float, float]
    title: str
    sheets: tuple[tuple[Laid, ...], ...]


def log_tag(code: str, *lines: str) -> Tag:
    """The tag of a log itself: number 0, the word LOG first."""
    return Tag(Name(code, OF_LOG), ("LOG", *lines))


def names_ahead(code: str, first: int, how_many: int) -> tuple[Tag, ...]:
    """Tags with names and nothing else, to be bound to pieces later. Raises BadTag, BadName."""
    if not 1 <= how_many <= MOST_TAGS:
        raise BadTag(f"{how_many} tags cannot be printed at once; write 1 to {MOST_TAGS}.")
    return tuple(Tag(Name(code, number)) for number in range(first, first + how_many))


def laid_out(
    tags: Sequence[Tag],
    stock: LabelStock,
    calibration: Calibration = Calibration(),
    *,
    used: int = 0,
    stapled: bool = True,
    title: str = "Tags",
) -> TagSheets:
    """The tags on their sheets. `used`: labels of the first sheet that are gone already. Raises BadTag, BadStock."""
    if not tags or not 0 <= used < stock.each_sheet:
        raise BadTag(f"{len(tags)} tags, {used} labels used; a sheet has {stock.each_sheet}, and one tag at least is printed.")
    places = stock.places()
    at = [divmod(used + i, stock.each_sheet) for i in range(len(tags))]
    sheets = tuple(
        tuple(_laid(tag, calibration.put(places[spot]), stapled) for tag, (on, spot) in zip(tags, at, strict=True) if on == sheet)
        for sheet in range(at[-1][0] + 1)
    )
    return TagSheets(stock.page, f"{title} {tags[0].name} to {tags[-1].name}", sheets)


def _laid(tag: Tag, place: Place, stapled: bool) -> Laid:
    strip = min(STRIP_MM, STRIP_SHARE * place.width) if stapled else 0.0
    wide, tall = place.width - strip - 2 * PAD_MM, place.height - 2 * PAD_MM
    name, large = str(tag.name), tag.large or str(tag.name)
    name_size = min(wide / (LETTER * len(large)), NAME_SHARE * place.height / CAPITAL)
    # the white squares around the code are the edge: no further room is lost to it
    side = min(place.height - PAD_MM - CAPITAL * name_size - PAD_MM / 2, wide, CODE_BESIDE_MM if tag.large else CODE_MOST_MM)
    if side < SQUARE_MM * squares(tag.name):
        raise BadStock(
            f"A label of {place.width:.0f} x {place.height:.0f} mm has no room for the code of {name}; take a larger one, "
            f"{SQUARE_MM * squares(tag.name) + 12:.0f} mm high at least."
        )
    line_size = _line_size(tag, wide - side, tall - CAPITAL * name_size - PAD_MM)
    return Laid(place, name, large, tag.lines, code_svg(tag.name), strip, name_size, line_size, side)


def _line_size(tag: Tag, wide: float, tall: float) -> float:
    """Height of the letters beside the code: as large as they fit."""
    if not tag.lines:
        return LINE_MOST_MM
    longest = max(map(len, tag.lines))
    size = min(LINE_MOST_MM, wide / (LETTER * max(longest, 1)), tall / (LINE_STEP * len(tag.lines)))
    if size < LINE_LEAST_MM:
        fits = max(int(wide / (LETTER * LINE_LEAST_MM)), 0)
        raise BadTag(
            f"{tag.name}: {len(tag.lines)} lines of up to {longest} letters do not fit on this label; "
            f"write up to {int(tall / (LINE_STEP * LINE_LEAST_MM))} of {fits} letters, or take a larger one."
        )
    return size


def tags_pdf(sheets: TagSheets, printed: date) -> bytes:
    """The sheets as tagged PDF."""
    return pdf("tags", sheets, printed)


def tags_pictures(sheets: TagSheets, printed: date, dots_per_inch: float = 203.0) -> tuple[bytes, ...]:
    """The sheets as PNG, for label printers that take pictures; most of those print 203 dots an inch."""
    return pictures("tags", sheets, printed, dots_per_inch)


@dataclass(frozen=True)
class TryOut:
    """The sheet that is printed on plain paper first: the edges of every label and two rulers."""

    page: tuple[float, float]
    stock: str
    places: tuple[Place, ...]
    ruler: float
    """length of the rulers as drawn [mm]"""
    tick: float
    """from one line of a ruler to the next, as drawn [mm]"""
    says: str
    """the length that a ruler should have [mm]"""


def try_out(stock: LabelStock, calibration: Calibration = Calibration()) -> TryOut:
    """What to hold against a sheet of labels, before the light."""
    ruler = 10.0 * (min(100.0, stock.page[0] - stock.first[0] - 6.0, stock.page[1] - stock.first[1] + 6.0) // 10)
    places = tuple(calibration.put(place) for place in stock.places())
    return TryOut(stock.page, stock.name, places, ruler * calibration.size, 10.0 * calibration.size, f"{ruler:g}")


def try_out_pdf(sheet: TryOut, printed: date) -> bytes:
    """The try-out sheet as tagged PDF."""
    return pdf("try_out", sheet, printed)
