"""Marks: what is drawn on a log's end wherever it is seen: outlines, rings, pith, cuts, names, hidden things, clock, scale."""

from __future__ import annotations

import numpy as np
import shapely

from waney.logs.frames import clock_to_xy
from waney.logs.measured import Hidden
from waney.logs.shape import Zone
from waney.papers.ends import LogEnd
from waney.papers.ink import BARK, DIMENSION, EDGE, PLAIN, RING, SMALL, WOOD, Stroke
from waney.papers.onto import Onto
from waney.papers.subject import Subject
from waney.papers.svg import ABOVE, LETTER_WIDTH, Sheet, Spot, lines_of, measure_width
from waney.papers.words import Measure
from waney.sawing.facts.walk import Cut, Part, Point, SectionPlane
from waney.sawing.plan import PlannedPiece

HATCHED = frozenset({Hidden.METAL, Hidden.ROT, Hidden.HOLLOW, Hidden.SPLIT})
"""what a cut or a buyer must know of; the others are only named"""
LEAST_SPOT_M = 0.008
"""smaller things are drawn this large, so that they are seen"""
TOUCHING_M = 1e-6
"""floating point between an outline and what is left of it"""
OVERSHOOT_MM = 2.0
"""a chalk line runs on a little past the wood"""


def outlines(sheet: Sheet, onto: Onto, bark: shapely.Geometry, wood: shapely.Geometry) -> None:
    """Bark thin, wood firm."""
    for outline in onto.outlines(bark):
        sheet.line(outline, BARK, closed=True)
    for outline in onto.outlines(wood):
        sheet.line(outline, WOOD, closed=True)


def rings(sheet: Sheet, onto: Onto, end: LogEnd, where: shapely.Geometry) -> None:
    """Rings within an area; outside slabs are left open."""
    for ring in end.rings:
        for stroke in lines_of(shapely.LineString(ring).intersection(where)):
            sheet.line(onto.spots(np.array(stroke)), RING)


def pith(sheet: Sheet, onto: Onto, end: LogEnd) -> None:
    """A small cross for each pith."""
    for point in end.piths:
        cross(sheet, onto, point)


def cross(sheet: Sheet, onto: Onto, point: Point) -> None:
    """A small cross on a point of the log."""
    x, y = onto.spot(point)
    sheet.line([(x - 1.6, y), (x + 1.6, y)], EDGE)
    sheet.line([(x, y - 1.6), (x, y + 1.6)], EDGE)


def cut(sheet: Sheet, onto: Onto, stroke: tuple[Point, Point], looks: Stroke) -> tuple[Spot, Spot]:
    """One cut with its overshoot; returns its ends on the sheet."""
    a, b = np.array(onto.spots(np.array(stroke)))
    along = (b - a) / max(float(np.hypot(*(b - a))), 1e-6) * OVERSHOOT_MM
    start, stop = (float(a[0] - along[0]), float(a[1] - along[1])), (float(b[0] + along[0]), float(b[1] + along[1]))
    sheet.line([start, stop], looks)
    return start, stop


def edges(sheet: Sheet, onto: Onto, planned: PlannedPiece, plane: SectionPlane) -> None:
    """Where an edged product ends across the piece: two short strokes from face to face."""
    piece, worth = planned.piece, planned.worth
    if piece.to_log is None:
        return
    for y in (worth.low_y_m, worth.high_y_m):
        if np.isfinite(y):
            faces = np.array([(0.0, y, side * piece.thickness_m / 2) for side in (-1, 1)])
            sheet.line(onto.spots(_slid_to(piece.to_log.there(faces), piece.to_log.turn, plane.z_m)), EDGE)


def _slid_to(points: np.ndarray, turn: tuple[tuple[float, float, float], ...], z_m: float) -> np.ndarray:
    """Points of the log frame moved along the piece until they lie in the end; x, y only."""
    along = np.array([row[0] for row in turn])
    moved: np.ndarray = points + ((z_m - points[:, 2]) / along[2])[:, None] * along
    return moved[:, :2]


def label(sheet: Sheet, onto: Onto, part: Part, subject: Subject, place: float, plane: SectionPlane | None = None) -> None:
    """Name and thickness along the middle of a piece; `place` 0..1 across it, so that thin neighbours do not collide.

    `plane` is the lie it was sawn in, where the drawing shows another one.
    """
    sawn = plane or onto.plane
    assert sawn is not None
    chord = middle_chord(part, sawn)
    if chord is None:
        return
    a, b = chord
    size = min(PLAIN, max(SMALL * 0.8, _tall(part, sawn) * onto.scale / 1.25))
    spots = [onto.spot((a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]))) for t in (place, 1.0 - place, 0.5)]
    x, y = next((spot for spot in spots if _clear(onto, subject.shape.zones, spot, size)), spots[0])
    with sheet.turned(onto.angle((b[0] - a[0], b[1] - a[1])), (x, y)):
        name_and_size(sheet, (x, y + ABOVE * size), subject.short(part.name), subject.thickness(part.name), size)


def _clear(onto: Onto, zones: tuple[Zone, ...], spot: Spot, size: float) -> bool:
    """Whether a name of this size about a spot keeps clear of the hatched spots and of the words beside them."""
    half = 5.0 * size * LETTER_WIDTH
    for zone in zones:
        if zone.kind in HATCHED:
            x, y = onto.spot((zone.x_m, zone.y_m))
            radius = max(zone.radius_m, LEAST_SPOT_M) * onto.scale
            word = len(zone.kind.value) * LETTER_WIDTH * SMALL
            if -radius - half < spot[0] - x < radius + word + half and abs(spot[1] - y) < radius + size:
                return False
    return True


def tallness(part: Part, onto: Onto) -> float:
    """How tall a part stands on the sheet [mm]; 0 where it does not reach this end."""
    assert onto.plane is not None
    return 0.0 if part.area.is_empty else _tall(part, onto.plane) * onto.scale


def _tall(part: Part, plane: SectionPlane) -> float:
    heights = plane.uv(np.array(shapely.get_coordinates(part.area)))[:, 1]
    return float(heights.max() - heights.min())


def name_and_size(sheet: Sheet, at: Spot, name: str, thickness: Measure | None, size: float) -> None:
    """`3  2 1/4 in` about a spot."""
    gap = 1.1 * size
    wide = len(name) * LETTER_WIDTH * size + (gap + measure_width(thickness, size) if thickness else 0.0)
    sheet.letters((at[0] - wide / 2, at[1]), name, size, bold=True)
    if thickness:
        sheet.measure((at[0] - wide / 2 + len(name) * LETTER_WIDTH * size + gap, at[1]), thickness, size)


def middle_chord(part: Part, plane: SectionPlane) -> tuple[Point, Point] | None:
    """The longest level stroke through the middle of a part, log frame."""
    if part.area.is_empty:
        return None
    heights = plane.uv(np.array(shapely.get_coordinates(part.area)))[:, 1]
    strokes = lines_of(part.area.intersection(plane.level(float(heights.min() + heights.max()) / 2)))
    if not strokes:
        return None
    longest = max(strokes, key=lambda stroke: shapely.LineString(stroke).length)
    return longest[0], longest[-1]


def hidden(sheet: Sheet, onto: Onto, zones: tuple[Zone, ...]) -> None:
    """Hatched spots, named, for metal, rot, hollows and splits, wherever along the log they lie."""
    for zone in zones:
        if zone.kind in HATCHED:
            disc = shapely.Point(zone.x_m, zone.y_m).buffer(max(zone.radius_m, LEAST_SPOT_M), quad_segs=6)
            sheet.hatched(onto.outlines(disc)[0])
            _, _, right, bottom = onto.extent(disc)
            sheet.letters((right + 0.8, bottom), zone.kind.value, SMALL, bold=True)


def clock(sheet: Sheet, onto: Onto, bark: shapely.Polygon, area: shapely.Geometry) -> list[Spot]:
    """A small 12 and 9 where that bark is still there, and where they stand. They are the butt's, at the top end too."""
    places: list[Spot] = []
    centre = np.array([bark.centroid.x, bark.centroid.y])
    for hour in (12, 9):
        away = np.array(clock_to_xy(hour, 1.0))
        ray = bark.boundary.intersection(shapely.LineString([centre, centre + 5 * away]))
        if ray.is_empty or area.distance(ray) > TOUCHING_M:
            continue
        rim = np.array(shapely.get_coordinates(ray)[-1])
        x0, y0 = onto.spot((rim[0], rim[1]))
        x1, y1 = onto.spot((rim[0] + away[0], rim[1] + away[1]))
        dx, dy = (x1 - x0) / onto.scale, (y1 - y0) / onto.scale
        sheet.line([(x0 + dx, y0 + dy), (x0 + 3 * dx, y0 + 3 * dy)], WOOD)
        places.append((x0 + 5.5 * dx, y0 + 5.5 * dy + ABOVE * PLAIN))
        sheet.letters(places[-1], str(hour), PLAIN, anchor="middle", bold=True)
    return places


def scale_bar(sheet: Sheet, subject: Subject, at: Spot, scale: float) -> None:
    """A bar of a round length with its length beside it; the spot is its left end."""
    lengths = (0.05, 0.1, 0.2, 0.5) if subject.shop.sizes.metric else (0.0508, 0.1524, 0.3048, 0.6096)
    metres = max((m for m in lengths if m * scale <= 32), default=lengths[0])
    x0, y = at
    x1 = x0 + metres * scale
    sheet.line([(x0, y - 1.2), (x0, y), (x1, y), (x1, y - 1.2)], WOOD)
    sheet.measure((x1 + 1.5, y), subject.shop.read(metres), SMALL)


def dimension(sheet: Sheet, a: Spot, b: Spot, words: Measure) -> None:
    """A level dimension line with slanting ticks and its figure in the middle."""
    sheet.line([a, b], DIMENSION)
    for x, y in (a, b):
        sheet.line([(x - 0.9, y + 0.9), (x + 0.9, y - 0.9)], WOOD)
    sheet.measure(((a[0] + b[0]) / 2, a[1] + ABOVE * PLAIN), words, PLAIN, anchor="middle")


def stroke_of(one: Cut) -> tuple[Point, Point]:
    """The stroke of a cut that is known to be on this end."""
    assert one.stroke is not None
    return one.stroke
