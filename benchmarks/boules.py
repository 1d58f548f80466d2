"""Counts how often a jumbled boule comes back in order by widths alone and by outlines too; writes docs/performance.md.

usage: python3 dev.py prove boules.py (three minutes)
"""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
from pages import BOULES, write_part

from waney.pieces.boule_order import A_TAPE_M, A_TRACE_M, BouleOrder, boule_order

sys.path.insert(0, str(Path(__file__).parents[1]))
from tests.pieces.drawn_boules import (
    KNOTTY,
    SMOOTH,
    Kind,
    Sawn,
    Told,
    by_outlines,
    by_widths,
    drawn_log,
    jumbled,
    sawn,
)

LOGS, KERF_M, MOST = 40, 0.0024, 9
THICK = ((0.054, "54 mm"), (0.028, "28 mm"))
WAYS: tuple[tuple[str, Told, float], ...] = (
    ("widths by tape, one place", by_widths(1), A_TAPE_M),
    ("widths by tape, three places", by_widths(3), A_TAPE_M),
    ("three widths, and the outline of one face", by_outlines(False, 3), A_TAPE_M),
    ("outlines of both faces", by_outlines(True), A_TRACE_M),
    ("outlines of both faces, and three widths", by_outlines(True, 3), A_TRACE_M),
)


def right(found: BouleOrder, heap: list[Sawn]) -> bool:
    """Whether it is the order that was sawn, from either end."""
    names, order = [place.name for place in found.places], [piece.name for piece in heap]
    return names in (order, order[::-1])


def rows(kind: Kind, thickness_m: float, words: str) -> list[str]:
    """The lines of one kind of log."""
    heaps = [sawn(drawn_log(np.random.default_rng(seed), kind), thickness_m, KERF_M, MOST) for seed in range(LOGS)]
    pieces, lines = sum(map(len, heaps)) / LOGS, []
    for name, told, same_m in WAYS:
        found = [boule_order(jumbled(np.random.default_rng((seed, 7)), heap, told), same_m) for seed, heap in enumerate(heaps)]
        came = [right(one, heap) for one, heap in zip(found, heaps, strict=True)]
        sure = [one.sure for one in found]
        both = sum(a and b for a, b in zip(sure, came, strict=True))
        lines.append(f"| {kind.name}, {words} | {pieces:.1f} | {name} | {sum(came)} of {LOGS} | {sum(sure)} | {both} |")
        print(lines[-1], flush=True)
    return lines


def main() -> None:
    """Measures and writes."""
    table = "\n".join(line for kind in (SMOOTH, KNOTTY) for thick, words in THICK for line in rows(kind, thick, words))
    text = f"""Written by `python3 dev.py prove boules.py`: {LOGS} drawn logs of a kind (1.8 to 3 m, 0.30 to 0.55 m, tapered, lobed, bent; swellings over knots of 4 mm and one a metre, or of
12 mm and four a metre; a rough surface), sawn through and through, {MOST} pieces about the middle at most, shuffled, turned over and end for end. A tape is off by
1.5 mm (standard error), a traced edge by 2 mm over a hand's width and by 0.3 % of its length: ours, no source. *Right*: the whole order, from either end. *Called sure*: the next best order is
worse by 4.5 mm in the sum by tape, by 1.5 mm where both faces of all are traced.

| logs | pieces | known of them | right | called sure | of these right |
|---|---|---|---|---|---|
{table}

One face traced adds little: faces that met are seldom both among the traced. A straight, smooth, round log has few marks of its own: pieces as far above the heart as below it stay alike.
"""
    write_part(BOULES, text)


if __name__ == "__main__":
    main()
