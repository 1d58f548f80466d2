"""Lobed, bent logs with things inside, and wants of every kind, drawn from a seed."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

import numpy as np

from waney.figures.estimate import Basis, Estimate, Ground
from waney.logs.measured import Hidden
from waney.logs.rings import RingField
from waney.logs.shape import LogShape, Zone
from waney.pieces.shrinking import Shrinking
from waney.prices.product import Edges, Grain, Per, PriceRule, Product, WidthRule
from waney.prices.rules import DryingAllowance, PriceRules, Ranking
from waney.sawing.log_to_saw import LogToSaw
from waney.sawing.mill import Mill
from waney.sawing.wants import Wants

INCH = 0.0254
NONE = Basis(Ground.DEFAULT, "")
SHRINKING = Shrinking(0.044, 0.089, 0.08)


def sure(value: float) -> Estimate:
    return Estimate.known(value, NONE)


def drawn_shape(rng: Random, piths: int = 1) -> LogShape:
    n, m, length = 17, 72, rng.uniform(1.5, 3.5)
    z, a = np.linspace(0.0, length, n), 2.0 * np.pi * np.arange(m) / m
    size, two, three = rng.uniform(0.15, 0.3), rng.uniform(0.0, 0.1), rng.uniform(0.0, 0.06)
    radius = np.array([size * (1 - 0.1 * h / length) * (1 + two * np.cos(2 * a + 0.3 * h) + three * np.cos(3 * a)) for h in z])
    centre, t = np.zeros((n, 2)), z / length
    centre[:, 0] = rng.uniform(0.0, 0.03) * 4 * t * (1 - t)
    pith = np.stack([centre + np.array([rng.uniform(-0.04, 0.04), rng.uniform(-0.04, 0.04)]) for _ in range(piths)])
    rings = RingField(z, pith, np.stack([radius * rng.uniform(0.95, 1.05) for _ in range(piths)]))
    zones = []
    if rng.random() < 0.6:
        run = rng.choice([0.0, 0.02, 0.3])
        zones.append(Zone(Hidden.METAL, length * 0.3, length * 0.3 + run, rng.uniform(-0.1, 0.1), rng.uniform(-0.1, 0.1), 0.01))
    if rng.random() < 0.6:
        zones.append(Zone(Hidden.ROT, 0.0, length * 0.4, rng.uniform(-0.05, 0.05), rng.uniform(-0.05, 0.05), 0.05))
    return LogShape(z, centre, radius, np.full((n, m), 0.01), rings, tuple(zones))


def drawn_product(rng: Random, name: str, edges: Edges, thickness: float, length: float) -> Product:
    rule = PriceRule(
        rng.choice(list(Per)),
        rng.uniform(50.0, 900.0),
        rng.choice(list(WidthRule)),
        wide_factors=((0.2, 1.1), (0.3, 1.3)) if rng.random() < 0.5 else (),
    )
    return Product(
        name,
        thickness,
        rule,
        edges,
        tuple(rng.sample((length - 0.02, length * 0.7, length * 0.5), rng.randint(1, 3))),
        rng.uniform(0.05, 0.15),
        trim_m=rng.choice([0.0, 0.05]),
        planing_m=0.003,
        flattening_m=0.002,
        finishing_cents_per_m2=rng.choice([0.0, 500.0]),
        pith_kept=rng.random() < 0.5,
        pith_factor=rng.uniform(0.5, 1.1),
        grain=rng.choice([None, None, Grain.FLAT, Grain.QUARTER, Grain.RIFT]),
        grain_share=0.5,
        widths_m=(0.1, 0.15, 0.2, 0.25) if edges is Edges.EDGED and rng.random() < 0.5 else (),
        may_hold=frozenset(rng.sample(list(Hidden), 4)),
    )


def drawn_wants(rng: Random, length: float) -> Wants:
    kinds = (("a", Edges.LIVE, 0.04), ("b", Edges.EDGED, 0.025), ("c", Edges.LIVE, 0.02), ("d", Edges.EDGED, 0.03))
    products = tuple(drawn_product(rng, name, edges, thickness, length) for name, edges, thickness in kinds)
    rules = PriceRules(Ranking.MONEY, "USD", rng.choice([0.0, 5000.0]), 20.0, rng.choice([0.0, 77.0]))
    allowances = {
        p.name: DryingAllowance(sure(rng.uniform(0, 90)), sure(rng.uniform(0, 0.3)), sure(rng.uniform(0.1, 0.6)))
        for p in products
    }
    return Wants(products, rules, allowances, 0.08, 0.04, rolls_deg=(rng.uniform(0, 360),))


def a_mill(**more: float) -> Mill:
    given = {
        "kerf_m": INCH / 16,
        "widest_cut_m": 1.0,
        "lowest_m": 0.03,
        "highest_m": 1.0,
        "bed_length_m": 5.0,
        "step_m": INCH / 16,
    }
    return Mill(**(given | {"minutes_per_pass": 1.5, "hourly_cents": 5000.0, "minutes_per_turn": 4.0} | more))


@dataclass(frozen=True)
class Drawn:
    log: LogToSaw
    mill: Mill
    wants: Wants


def drawn(seed: int) -> Drawn:
    rng = Random(seed)
    shape = drawn_shape(rng, rng.choice([1, 1, 2]))
    mill = a_mill(kerf_m=rng.choice([0.001, INCH / 16, 0.003]))
    return Drawn(LogToSaw("log", "oak", True, shape, SHRINKING), mill, drawn_wants(rng, shape.length_m))
