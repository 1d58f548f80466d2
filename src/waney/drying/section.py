"""Drying in two dimensions: a square, the edge of a live-edge slab, a short piece in thickness and length.

Letters: x across the width (or along the length), z through the thickness, both from the outside inwards [m].
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix, csc_matrix, diags
from scipy.sparse.linalg import splu

from waney.drying.board import CAPACITY
from waney.drying.grid import positions
from waney.drying.kernel.records import AirSteps, Array, Law
from waney.drying.reference import (
    LATENT,
    LATENT_PER_K,
    POINTS,
    STAGES,
    WATER_CAPACITY,
    WEIGHTS,
    Edge,
    Wood,
    at_temperature,
    edge_at,
)
from waney.figures.problem import Problem
from waney.wood.density import WATER

Whole = NDArray[np.int64]


class BadSection(Problem):
    """A section that cannot be laid out."""


@dataclass(frozen=True)
class Section:
    """Points (n, 2) [m], triangles (t, 3), and for every point its control volume [m3 per m: m2] and the length of drying
    surface it stands for [m]. conductances (n, n): K of the design, for a coefficient of 1 across and `along` in x."""

    points: Array
    triangles: Whole
    volumes: Array
    surface: Array
    conductances: csc_matrix

    @property
    def area(self) -> float:
        """Of the part that is calculated [m2]."""
        return float(self.volumes.sum())


def mapped(x: Array, z: Array, along: float, sides: tuple[bool, bool, bool, bool], coated: float = 1.0) -> Section:
    """A section from points laid in rows: x, z of shape (nz, nx). Each quadrilateral becomes two triangles.

    sides: whether water leaves at the first column, last column, first row, last row. coated: share of the film's flow that
    the first column lets through (a painted end, bark).
    """
    rows, columns = x.shape
    number = np.arange(rows * columns).reshape(rows, columns)
    a, b, c, d = number[:-1, :-1].ravel(), number[:-1, 1:].ravel(), number[1:, 1:].ravel(), number[1:, :-1].ravel()
    triangles = np.concatenate((np.stack((a, b, c), axis=1), np.stack((a, c, d), axis=1)))
    points = np.stack((x.ravel(), z.ravel()), axis=1)
    volumes, conductances = _assembled(points, triangles, along)
    lines = (
        (number[:, 0], sides[0] * coated),
        (number[:, -1], float(sides[1])),
        (number[0], float(sides[2])),
        (number[-1], float(sides[3])),
    )
    surface = np.zeros(points.shape[0])
    for line, share in lines:
        lengths = share * np.linalg.norm(np.diff(points[line], axis=0), axis=1)
        np.add.at(surface, line[:-1], lengths / 2.0)
        np.add.at(surface, line[1:], lengths / 2.0)
    return Section(points, triangles, volumes, surface, conductances)


def _assembled(points: Array, triangles: Whole, along: float) -> tuple[Array, csc_matrix]:
    """Lumped volumes and the stiffness of linear triangles with coefficient diag(along, 1)."""
    p = points[triangles]
    edges = np.stack((p[:, 2] - p[:, 1], p[:, 0] - p[:, 2], p[:, 1] - p[:, 0]), axis=1)
    area = 0.5 * np.abs(edges[:, 2, 0] * -edges[:, 1, 1] + edges[:, 2, 1] * edges[:, 1, 0])
    if float(area.min()) <= 0.0:
        raise BadSection("The section's outline crosses itself: its faces and edges must enclose wood everywhere.")
    # gradient of a corner's function: its opposite edge turned by a right angle, over twice the area
    k = (along * edges[:, :, None, 1] * edges[:, None, :, 1] + edges[:, :, None, 0] * edges[:, None, :, 0]) / (
        4.0 * area[:, None, None]
    )
    i, j = np.repeat(triangles, 3, axis=1), np.tile(triangles, (1, 3))
    n = points.shape[0]
    stiffness = coo_matrix((k.reshape(-1), (i.reshape(-1), j.reshape(-1))), shape=(n, n)).tocsc()
    volumes = np.zeros(n)
    np.add.at(volumes, triangles, area[:, None] / 3.0)
    return volumes, stiffness


def rectangle(width_m: float, thickness_m: float, cells: tuple[int, int] = (16, 16), ratio: float = 1.2) -> Section:
    """A quarter of a square or a rectangle that dries from all four faces."""
    x, z = np.meshgrid(positions(cells[0], ratio) * width_m / 2.0, positions(cells[1], ratio) * thickness_m / 2.0)
    return mapped(x, z, 1.0, (True, False, True, False))


def short_piece(
    length_m: float, thickness_m: float, along: float, coated: float = 1.0, cells: tuple[int, int] = (20, 12)
) -> Section:
    """A quarter of a section in length and thickness: flow along the grain `along` times as easy; ends perhaps coated."""
    x, z = np.meshgrid(positions(cells[0], 1.3) * length_m / 2.0, positions(cells[1], 1.25) * thickness_m / 2.0)
    return mapped(x, z, along, (True, False, True, False), coated)


def live_edge(thickness_m: float, slope: float, reach_m: float, bark: float = 1.0, cells: tuple[int, int] = (20, 17)) -> Section:
    """One edge of a live-edge slab: face A at z = 0 from x = 0, the other face from x = -slope · thickness, wood up to x = reach.

    slope: how far the edge leans out, per thickness [-]; bark: share of the film's flow that the edge lets through.
    """
    half = positions((cells[1] + 1) // 2, 1.25) / 2.0
    down = np.concatenate((half, 1.0 - half[-2::-1]))[:, None] * thickness_m
    edge = -slope * down
    x = edge + positions(cells[0], 1.25)[None, :] * (reach_m - edge)
    return mapped(x, np.broadcast_to(down, x.shape), 1.0, (True, False, True, True), bark)


@dataclass(frozen=True)
class SectionCourse:
    """Mean moisture [-] and temperature [°C] after every interval, (t,); the moistures at the points at the end, (n,); water that
    left [kg per m of length], counted at the surface."""

    mean: Array
    temperature_c: Array
    moistures: Array
    left_kg_m: float


def dry_section(
    section: Section, law: Law, sg_green: float, air: AirSteps, moistures: Array, temperature_c: float = 20.0,
    factor: float = 1.0, tolerance: float = 1e-4,
) -> SectionCourse:  # fmt: skip
    """Take a section through the air; moistures: at its points, (n,). The same surface and heat as for boards."""
    density, perimeter = WATER * sg_green, float(section.surface.sum())
    y, h, temperature, left = moistures.copy(), float(air.seconds[0]), temperature_c, 0.0
    rows, before = [], temperature_c
    for seconds, vapour, resistance, heat_of_air, source_c, total in zip(*air, strict=True):
        latent = LATENT - LATENT_PER_K * temperature
        mean = float(section.volumes @ y) / section.area
        stored = density * section.area / perimeter * (CAPACITY + WATER_CAPACITY * mean)
        heat = heat_of_air + stored / seconds
        source = (heat_of_air * source_c + stored / seconds * temperature) / heat
        humidity = float(section.surface @ at_temperature(law, before, factor).humidity(y)) / perimeter
        edge = edge_at(law, source, vapour, resistance, total, heat / latent, humidity)
        at_surface = (humidity * edge.at_source - vapour) / (resistance + humidity * edge.g)
        before = source - at_surface * latent / heat
        through = _Through(section, at_temperature(law, before, factor), edge, density)
        y, h, water = through.interval(y, seconds, h, tolerance)
        left += water * density
        cooled = latent * water * density / perimeter
        temperature = (heat_of_air * seconds * source_c + stored * temperature - cooled) / (heat_of_air * seconds + stored)
        rows.append((float(section.volumes @ y) / section.area, temperature))
    found = np.array(rows)
    return SectionCourse(found[:, 0], found[:, 1], y, left)


@dataclass(frozen=True)
class _Through:
    """One interval: what stays the same in it."""

    section: Section
    wood: Wood
    edge: Edge
    density: float

    def leaving(self, y: Array) -> tuple[Array, Array]:
        """Flow out at every point [m2/s: kg per m and second over dry density], and its rise with the point's moisture."""
        e, h, slope = self.edge, self.wood.humidity(y), self.wood.humidity_slope(y)
        below = e.resistance + h * e.g
        share = self.section.surface / self.density
        return share * (h * e.at_source - e.vapour) / below, share * (
            e.at_source * e.resistance + e.vapour * e.g
        ) / below**2 * slope

    def inflow(self, y: Array) -> Array:
        """Net inflow of every control volume [m2/s]."""
        return np.asarray(-(self.section.conductances @ self.wood.potential(y)) - self.leaving(y)[0])

    def step(self, y: Array, h: float) -> tuple[Array, float, float]:
        """One step of RODAS3: new moistures, error in the mean square, water that left [m2], counted at the surface."""
        volumes = self.section.volumes
        rise = self.leaving(y)[1]
        matrix = diags(volumes / (0.5 * h) + rise) + self.section.conductances @ diags(self.wood.diffusion(y))
        factors = splu(matrix.tocsc())
        k: list[Array] = []
        left: list[float] = []
        for mixed, point in zip(STAGES, POINTS, strict=True):
            at = y + sum((a * ki for a, ki in zip(point, k, strict=False)), np.zeros_like(y))
            earlier = sum((c * ki for c, ki in zip(mixed, k, strict=False)), np.zeros_like(y))
            k.append(factors.solve(self.inflow(at) + volumes * earlier / h))
            earlier_left = sum(c * li for c, li in zip(mixed, left, strict=False))
            left.append(0.5 * h * (float(self.leaving(at)[0].sum() + rise @ k[-1]) + earlier_left / h))
        new = y + sum((w * ki for w, ki in zip(WEIGHTS, k, strict=True)), np.zeros_like(y))
        water = sum(w * li for w, li in zip(WEIGHTS, left, strict=True))
        return new, float(np.sqrt(volumes @ k[3] ** 2 / volumes.sum())), float(water)

    def interval(self, y: Array, seconds: float, h: float, tolerance: float) -> tuple[Array, float, float]:
        """The whole interval with steps as long as the error allows; moistures, next step, water that left [m2]."""
        gone, left = 0.0, 0.0
        while gone < seconds:
            now = min(h, seconds - gone)
            new, error, water = self.step(y, now)
            ratio = (error / tolerance) ** (1.0 / 3.0)
            grown = now * min(5.0, max(0.2, 0.9 / max(ratio, 1e-9)))
            if ratio <= 1.0 or now <= 1e-6 * seconds:
                y, left = new, left + water
                gone = seconds if now >= seconds - gone else gone + now
                h = max(grown, h) if now < h else grown
            else:
                h = grown
        return y, h, left
