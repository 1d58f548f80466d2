"""Parts drawn lots into the loads of a kiln twice, greedily and exactly; writes docs/performance.md.

usage: python3 dev.py prove grouping.py (five minutes)
"""

from __future__ import annotations

import numpy as np
from pages import GROUPS, write_part

from waney.drying.kiln_sheet import KilnSheet
from waney.drying.load_plan import LIKELY, MAY, Aim, exactly, fewest, greedily
from waney.drying.lot import Lot
from waney.drying.pile_parts import PilePiece
from waney.figures.estimate import Basis, Estimate, Ground
from waney.wood.species import species

SEEDS, LOTS = range(10), (4, 5, 6)
FOOT = 0.3048
KILN = KilnSheet("drawn", 2.6, 1.2, 1.0, 5000.0)
WOODS = (
    "oak_white", "oak_northern_red", "maple_sugar", "maple_red", "cherry_black", "walnut_black", "ash_white",
    "yellow_poplar", "basswood",
)  # fmt: skip
READ = Basis(Ground.READING, "drawn")
WEIGHT = Estimate(10.0, 9.0, 11.0, READ)


def drawn(seed: int, count: int) -> list[Lot]:
    """Lots of 6 to 39 boards, each of one of nine woods, 4/4 to 8/4, at 15 to 35 %."""
    rng = np.random.default_rng(seed)
    return [_lot(number, rng) for number in range(count)]


def _lot(number: int, rng: np.random.Generator) -> Lot:
    wood, thick = species(str(rng.choice(WOODS))), float(rng.choice([0.0286, 0.0349, 0.054]))
    mc = float(rng.choice([0.15, 0.20, 0.25, 0.35]))
    pieces = tuple(
        PilePiece(f"l{number}p{i}", FOOT * float(rng.choice([6, 8])), float(rng.uniform(0.12, 0.30)), thick, WEIGHT)
        for i in range(int(rng.integers(6, 40)))
    )
    return Lot(f"lot {number}", wood, thick, Estimate(mc, 0.9 * mc, 1.1 * mc, READ, 0.0), 0.08, pieces)


def row(aim: Aim, count: int) -> str:
    """One line of the table: how often and by how much the exact way is better."""
    loads, days, least, tried = 0, [], 0, 0
    for seed in SEEDS:
        lots = drawn(100 * count + seed, count)
        greedy, exact = (way(KILN, lots, MAY[aim], LIKELY, {}) for way in (greedily, exactly))
        if greedy is None or exact is None:
            continue
        tried += 1
        least += len(exact.loads) == fewest(KILN, lots)
        loads += len(exact.loads) < len(greedy.loads)
        if len(exact.loads) == len(greedy.loads):
            days.append(exact.days[0] / greedy.days[0])
    fewer = sum(one < 0.999 for one in days)
    line = f"| {aim} | {count} | {tried} | {loads} | {fewer} | {min(days, default=1.0):.2f} | {least} |"
    print(line, flush=True)
    return line


def main() -> None:
    """Measures and writes."""
    table = "\n".join(row(aim, count) for aim in (Aim.FEW, Aim.CLOSED) for count in LOTS)
    text = f"""Written by `python3 dev.py prove grouping.py`: drawn yards, {len(SEEDS)} of a kind, their lots taken through one kiln in the likely case. *Greedy*: from the slowest lot on, each
load takes every lot that fits whole and may share. *Exact*: all groups that fit and may share, of all ways to part the lots into them the fewest loads, then the fewest days (by what is
left, for every set of lots once; up to six lots no solver is needed). *Bound*: loads that any plan needs by room and weight.

| aim | lots | yards | exact has fewer loads | as many, fewer days | least share of the days | exact is at the bound |
|---|---|---|---|---|---|---|
{table}

The better is kept for the first aim, up to six lots that need not be divided; 63 loads are run at most, in the likely case. For the second aim few groups may share at all, so greedy
finds them.
"""
    write_part(GROUPS, text)


if __name__ == "__main__":
    main()
