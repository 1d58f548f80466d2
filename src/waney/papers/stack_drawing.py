"""Stack drawing: a stack from the front, and every layer from above with names, stickers and pull-out places."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from waney.drying.pile_parts import Laid, Layer, Pile
from waney.drying.pull_out import PullOut, Side
from waney.papers.ink import CHALK, DIMENSION, FAR_END, LARGE, PAPER, PLAIN, SMALL, WOOD, Stroke
from waney.papers.svg import ABOVE, LETTER_WIDTH, Sheet, Spot
from waney.papers.words import Shop

WIDE_MM = 166.0
NAMES_MM = 21.0
ROW_MM, STICKER_MM, BEARER_MM = 6.4, 2.2, 5.0
PLAN_MM = 78.0
LEAST_MM = 4.6
"""a piece from above is drawn at least so wide, so that its name can be read"""
BESIDE = 2
STICKER = Stroke(0.3, dash="1.2 0.8")


@dataclass(frozen=True)
class Drawn:
    """A stack to be drawn; pulls: by the name of the piece that is drawn out."""

    name: str
    pile: Pile
    pulls: Mapping[str, PullOut]
    shop: Shop


def front(drawn: Drawn) -> str:
    """The stack from the front: every layer as high as the next, so that names can be read; lengths and stickers to scale."""
    pile = drawn.pile
    scale = (WIDE_MM - NAMES_MM - 4.0) / pile.base.length_m
    step = ROW_MM + STICKER_MM
    floor = 6.0 + len(pile.layers) * step
    sheet = Sheet(WIDE_MM, floor + BEARER_MM + 9.0, PAPER, f"{drawn.name} from the front")
    for number, layer in enumerate(pile.layers, 1):
        _row(sheet, drawn, layer, number, floor - number * step, scale)
    for at in pile.base.bearers_m:
        x = NAMES_MM + scale * at
        sheet.line(_box(x - 2.5, x + 2.5, floor, floor + BEARER_MM), WOOD, closed=True)
    sheet.letters((0.0, floor + BEARER_MM), "bearers", SMALL)
    _length(sheet, drawn, scale, floor + BEARER_MM + 3.0)
    return sheet.text()


def _row(sheet: Sheet, drawn: Drawn, layer: Layer, number: int, top: float, scale: float) -> None:
    """One layer: the pieces one sees from the front, and the stickers below it."""
    sheet.letters((0.0, top + 5.0), f"layer {number}", SMALL)
    for one in _nearest(layer):
        left, right = NAMES_MM + scale * one.x_m, NAMES_MM + scale * one.end_m
        sheet.line(_box(left, right, top, top + ROW_MM), WOOD, closed=True)
        pulled = drawn.pulls.get(one.piece.name)
        mark = " weigh" if pulled and pulled.side is Side.FRONT else ""
        sheet.letters(((left + right) / 2.0, top + 5.0), one.piece.name + mark, PLAIN, anchor="middle", bold=bool(mark))
    for line in layer.stickers:
        x = NAMES_MM + scale * drawn.pile.base.bearers_m[line]
        sheet.filled(_box(x - 1.0, x + 1.0, top + ROW_MM, top + ROW_MM + STICKER_MM))


def _box(left: float, right: float, top: float, bottom: float) -> list[Spot]:
    return [(left, top), (right, top), (right, bottom), (left, bottom)]


def _nearest(layer: Layer) -> list[Laid]:
    """Pieces with nothing in front of them; of two at one place the nearer."""
    return [one for one in layer.laid if not any(_hides(other, one) for other in layer.laid if other is not one)]


def _hides(other: Laid, one: Laid) -> bool:
    return other.y_m < one.y_m and min(other.end_m, one.end_m) - max(other.x_m, one.x_m) > 1e-9


def _length(sheet: Sheet, drawn: Drawn, scale: float, y: float) -> None:
    """How long it is, below."""
    left, right = NAMES_MM, NAMES_MM + scale * drawn.pile.base.length_m
    sheet.line([(left, y), (right, y)], DIMENSION)
    for x in (left, right):
        sheet.line([(x, y - 1.5), (x, y + 1.5)], DIMENSION)
    sheet.measure(((left + right) / 2.0, y + 5.0), drawn.shop.long(drawn.pile.base.length_m), PLAIN, anchor="middle")


def plans(drawn: Drawn) -> list[tuple[str, str]]:
    """Every layer from above, two beside each other, the lowest first: SVG and what it shows."""
    layers = list(enumerate(drawn.pile.layers, 1))
    return [_pair(drawn, layers[first : first + BESIDE]) for first in range(0, len(layers), BESIDE)]


def _pair(drawn: Drawn, layers: Sequence[tuple[int, Layer]]) -> tuple[str, str]:
    scale = PLAN_MM / drawn.pile.base.length_m
    tall = max(sum(max(one.piece.width_m * scale, LEAST_MM) for one in layer.laid) for _, layer in layers) + 17.0
    shows = "; ".join(f"layer {number}: " + ", ".join(one.piece.name for one in layer.laid) for number, layer in layers)
    sheet = Sheet(WIDE_MM, tall, PAPER, f"{drawn.name} from above, {shows}")
    for column, (number, layer) in enumerate(layers):
        _plan(sheet, drawn, layer, number, column * (WIDE_MM - PLAN_MM), scale)
    return sheet.text(), f"From above, {shows}"


def _plan(sheet: Sheet, drawn: Drawn, layer: Layer, number: int, left: float, scale: float) -> None:
    """One layer, its front edge below; a chosen piece has an arrow to the side it is drawn from."""
    sheet.letters((left, 4.5), f"Layer {number}", LARGE, bold=True)
    sheet.letters((left + PLAN_MM, 4.5), "from above, front below", SMALL, anchor="end")
    heights = [max(one.piece.width_m * scale, LEAST_MM) for one in layer.laid]
    bottom = 8.0 + sum(heights)
    for line in layer.stickers:  # below the names
        x = left + scale * drawn.pile.base.bearers_m[line]
        sheet.line([(x, 6.5), (x, bottom + 1.5)], STICKER)
    y = bottom
    for one, high in zip(layer.laid, heights, strict=True):
        y -= high
        _piece(sheet, drawn, one, (left, y), high, scale)


def _piece(sheet: Sheet, drawn: Drawn, one: Laid, corner: tuple[float, float], high: float, scale: float) -> None:
    left, y = corner[0] + scale * one.x_m, corner[1]
    right = corner[0] + scale * one.end_m
    pulled = drawn.pulls.get(one.piece.name)
    sheet.line(_box(left, right, y, y + high), CHALK if pulled else WOOD, closed=True)
    size = min(PLAIN, high - 1.0)
    words = one.piece.name + (f", weigh, from the {pulled.side}" if pulled else "")
    if len(words) * LETTER_WIDTH * size > right - left - 2.0:
        words = one.piece.name
    sheet.letters(((left + right) / 2.0, y + high / 2.0 + size * ABOVE), words, size, anchor="middle", bold=bool(pulled))
    if pulled:
        out = y + high + 4.0 if pulled.side is Side.FRONT else y - 4.0
        start = y + high if pulled.side is Side.FRONT else y
        sheet.arrow([(right - 5.0, start), (right - 5.0, out)])
        for line in pulled.cut_out:
            x = corner[0] + scale * drawn.pile.base.bearers_m[line]
            sheet.line([(x - 1.2, y + 0.6), (x + 1.2, y + high - 0.6)], FAR_END)
