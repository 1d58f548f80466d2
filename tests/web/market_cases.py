"""Drawn sales for the page's module: what each is taxed, and the act that comes of it, as the server says."""

from __future__ import annotations

import random
from fractions import Fraction
from typing import Any
from uuid import UUID

from waney.figures.json_out import Encoder
from waney.trade.tax import On, Rounding, Tax, tax_lines
from waney.web.market_day import TaxRule, tax_rule
from waney.web.names_along import Run, runs
from waney.yard.acts.every import act_json
from waney.yard.acts.promises import PricedPiece
from waney.yard.acts.sales import PaidBy, SoldAway, TaxTaken
from waney.yard.names import Name

SALE, LEASE, BUYER = (f"00000000-0000-4000-8000-00000000000{n}" for n in (1, 2, 3))


def market_case(seed: int) -> dict[str, Any]:
    rng = random.Random(seed)
    taxes = [
        Tax(
            f"tax {n}",
            Fraction(rng.choice(["0.0625", "0.07", "0.1", "0.0825", "0.005"])),
            rng.choice(list(On)),
            rng.choice(list(Rounding)),
        )
        for n in range(rng.randint(0, 2))
    ]
    lines = [
        PricedPiece(f"00000000-0000-4000-8000-0000000001{n:02d}", rng.choice([0, 40, 120, rng.randint(1, 90_000)]))
        for n in range(rng.randint(1, 4))
    ]
    by = rng.choice(list(PaidBy))
    taken = tuple(TaxTaken(line.words, line.cents) for line in tax_lines([each.cents for each in lines], taxes))
    total = sum(each.cents for each in lines) + sum(tax.cents for tax in taken)
    person = rng.choice(["", BUYER])
    sold = SoldAway(SALE, tuple(lines), "2026-05-04", person, 0 if by is PaidBy.OWED else total, by, taken, lease=LEASE)
    return {
        "taxes": [Encoder().encode(tax_rule(tax), TaxRule) for tax in taxes],
        "lease": LEASE,
        "sale": SALE,
        "lines": [{"piece": each.piece, "cents": each.cents} for each in lines],
        "person": person,
        "by": str(by),
        "act": {"kind": "sold-away", "person": "", "paid_cents": 0, "paid_by": "cash", "taxes": []} | act_json(sold),
    }


def name_case(seed: int) -> dict[str, Any]:
    """Pieces of which a page that is away knows the name alone, as they are packed, and what each is."""
    rng = random.Random(seed)
    some = {
        Name(rng.choice(["B", "AB", "XY", "Y"]), rng.choice([rng.randint(1, 60), rng.randint(1, 99_999)])) for _ in range(300)
    }
    pieces = [(name, str(UUID(int=rng.getrandbits(128), version=4))) for name in sorted(some)]
    return {
        "names": [Encoder().encode(run, Run) for run in runs((name.code, name.number, piece) for name, piece in pieces)],
        "pieces": [(str(name), piece) for name, piece in pieces],
    }
