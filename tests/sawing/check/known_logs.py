"""Logs of known form, a mill, and things to want from them."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from waney.figures.estimate import Basis, Estimate, Ground
from waney.logs.measured import Hidden
from waney.logs.rings import RingField
from waney.logs.shape import LogShape, Zone
from waney.prices.product import Edges, Per, PriceRule, Product, WidthRule
from waney.prices.rules import DryingAllowance, PriceRules, Ranking
from waney.sawing.mill import Feed, Mill
from waney.sawing.wants import Wants

GUESS = Basis(Ground.DEFAULT, "")


def sure(value: float) -> Estimate:
    return Estimate.known(value, GUESS)


def rings_about(
    z: np.ndarray, pith: Callable[[float], tuple[float, float]], centre: np.ndarray, radius: np.ndarray, m: int = 72
) -> RingField:
    """Circles about the centre of each section; the pith anywhere inside, its reach in closed form."""
    angle = 2 * np.pi * np.arange(m) / m
    ways = np.column_stack([np.cos(angle), np.sin(angle)])
    piths = np.array([pith(float(h)) for h in z])
    off = piths - centre
    along = off @ ways.T
    reach = -along + np.sqrt(radius[:, None] ** 2 - np.sum(off**2, axis=1)[:, None] + along**2)
    return RingField(z, piths[None], reach[None])


def log(
    length: float,
    radius: Callable[[float, np.ndarray], np.ndarray],
    *,
    centre: Callable[[float], tuple[float, float]] = lambda z: (0.0, 0.0),
    pith: Callable[[float], tuple[float, float]] | None = None,
    bark: float = 0.0,
    stations: int = 13,
    m: int = 72,
    zones: Sequence[Zone] = (),
) -> LogShape:
    """A log whose radius inside bark is a function of z and direction."""
    z = np.linspace(0.0, length, stations)
    angle = 2 * np.pi * np.arange(m) / m
    radii = np.array([np.broadcast_to(radius(float(h), angle), (m,)) for h in z])
    centres = np.array([centre(float(h)) for h in z])
    rings = rings_about(z, pith or centre, centres, radii.mean(axis=1))
    return LogShape(z, centres, radii, np.full_like(radii, bark), rings, tuple(zones))


def cylinder(radius: float, length: float, **more: object) -> LogShape:
    return log(length, lambda z, a: np.full_like(a, radius), **more)  # type: ignore[arg-type]


def cone(butt: float, top: float, length: float, **more: object) -> LogShape:
    return log(length, lambda z, a: np.full_like(a, butt + (top - butt) * z / length), **more)  # type: ignore[arg-type]


def lobed(z: float, a: np.ndarray) -> np.ndarray:
    return (0.24 - 0.012 * z) * (1 + 0.04 * np.cos(3 * a + 0.5) + 0.02 * np.cos(5 * a))


def bowed(z: float) -> tuple[float, float]:
    return 0.03 * np.sin(np.pi * z / 3.0), -0.01 * np.sin(np.pi * z / 3.0)


STEP = 0.0254 / 16


MILL = Mill(
    kerf_m=0.0022, widest_cut_m=0.75, lowest_m=0.02, highest_m=0.70, bed_length_m=4.0, step_m=STEP, thickest_m=0.5,
    backstop_lowest_m=0.015, feeds=(Feed(0.2, 12.0, 9.0), Feed(0.6, 5.0, 3.5)), minutes_per_pass=1.3, minutes_per_turn=4.0,
    minutes_per_edging=3.0, minutes_per_loading=8.0, hourly_cents=6000.0, blade_cents=3200.0, blade_life_m2=90.0,
)  # fmt: skip


NAIL = Zone(Hidden.METAL, 1.0, 1.02, -0.16, 0.03, 0.015, 0.6, "nail")


KNOT = Zone(Hidden.KNOT, 0.6, 0.9, 0.05, 0.11, 0.02)


ROT = Zone(Hidden.ROT, 0.0, 0.55, 0.02, 0.01, 0.04)


def live_slab(name: str = "slab", thickness: float = 0.036, **more: object) -> Product:
    rule = PriceRule(Per.BOARD_FOOT, 900.0, WidthRule.MEAN_OF_FACES, wide_factors=((0.3, 1.25), (0.4, 1.5)))
    kept = {
        "price": rule, "edges": Edges.LIVE, "lengths_m": (2.4, 1.8), "least_width_m": 0.15, "trim_m": 0.05, "planing_m": 0.003,
        "flattening_m": 0.002, "finishing_cents_per_m2": 400.0, "nominal_quarters": 6, "pith_factor": 0.8,
    }  # fmt: skip
    return Product(name, thickness, **(kept | more))  # type: ignore[arg-type]


def board(name: str = "board", thickness: float = 0.019, **more: object) -> Product:
    kept = {
        "price": PriceRule(Per.BOARD_FOOT, 500.0), "edges": Edges.EDGED, "lengths_m": (2.4, 1.2), "least_width_m": 0.10,
        "trim_m": 0.05, "planing_m": 0.002, "finishing_cents_per_m2": 150.0, "nominal_quarters": 4, "pith_kept": False,
    }  # fmt: skip
    return Product(name, thickness, **(kept | more))  # type: ignore[arg-type]


def wants(*products: Product) -> Wants:
    allowances = {p.name: DryingAllowance(sure(35.0), sure(0.08), sure(0.3)) for p in products}
    rules = PriceRules(Ranking.MONEY, "USD", 2500.0, 20.0, 220.0)
    return Wants(products, rules, allowances, 0.08, 0.09, metal_margin_m=0.01)
