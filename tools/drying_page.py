"""Writes what `fit_drying.py` found: the tables of the pace and the page that holds model and printed times side by side."""

# ruff: noqa: E501
from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np
from drying_model import NOISE, PRIOR, ROOT, Held, Kilned

from waney.drying.pace import Pace


def headline(found: Sequence[Held]) -> str:
    off = np.abs([e for one in found for e in one.errors])
    bias = np.array([one.errors for one in found])
    return (
        f"{len(found)} | {np.median([one.overlap for one in found]):.2f} | {np.median(off):.2f} (a factor of {math.exp(np.median(off)):.2f}) | "
        f"{np.median(bias[:, 0]):+.2f} | {np.median(bias[:, 1]):+.2f}"
    )


Kilns = Sequence[tuple[Kilned, tuple[float, float]]]
"""Rows of kiln times, each with the model's days from 20 % and from green."""


def kiln_headline(found: Kilns) -> str:
    """Rows and days, median error and bias against the middle of the printed ranges, and how many lie within them."""
    off, within = [], 0
    for row, days_found in found:
        for value, (low, high) in zip(days_found, (row.from_20, row.from_green), strict=True):
            if high == high:
                off.append(math.log(value / math.sqrt(low * high)))
                within += low <= value <= high
    middle = float(np.median(np.abs(off)))
    return f"{len(found)} | {len(off)} | {middle:.2f} (a factor of {math.exp(middle):.2f}) | {np.median(off):+.2f} | {within} of {len(off)}"


def open_ended(blind: Kilns, fitted: Kilns) -> Iterator[str]:
    """Rows that print a least number of days from green and no most: no error can be told of them, only whether it is reached."""
    for (row, plain), (_, better) in zip(blind, fitted, strict=True):
        low, high = row.from_green
        if low == low and high != high:
            yield (
                f"{row.name} prints no most from green, {low:.0f} days or more, and is not among the days above: left out of the fit "
                f"{plain[1]:.1f}, with its factor {better[1]:.1f} ([why](drying.md#white-oak-from-green))."
            )


def write_tables(x: Sequence[float], deviations: np.ndarray, factors: dict[str, float]) -> None:
    data = ROOT / "src" / "waney" / "data"
    names = ("level", "density_slope", "free", "film")
    logs = (True, False, True, True)
    lines = [
        "# Shared numbers of the drying model, fitted to air_drying_times.csv by tools/fit_drying.py; low and high: 5 and 95 %.",
        "name,likely,low,high",
    ]
    for name, value, sd, logarithm in zip(names, x, deviations, logs, strict=True):
        points = [value + z * sd for z in (0.0, -1.645, 1.645)]
        shown = [math.exp(p) if logarithm else p for p in points]
        lines.append(f"{name}," + ",".join(f"{p:.4g}" for p in shown))
    (data / "drying_pace.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")
    rows = [
        "# Factor on the diffusion coefficient of one species, beside what its density says; fitted like drying_pace.csv, prior 1 with a",
        f"# spread of {PRIOR} in its logarithm. spread: standard deviation of the logarithm that is left.",
        "species_id,factor,spread",
        *(f"{wood},{factor:.3f},{SPREAD_LEFT:.2f}" for wood, factor in sorted(factors.items())),
    ]
    (data / "drying_factors.csv").write_text("\n".join(rows) + "\n", encoding="utf-8")


def write_page(
    pace: Pace,
    deviations: np.ndarray,
    yards: tuple[list[Held], ...],
    kilns: tuple[Kilns, Kilns, Kilns],
    factors: dict[str, float],
    crossing: np.ndarray,
) -> None:
    alone, blind, fitted = yards
    seen, seen_blind = ([one for one in found if one.row.seen] for found in (fitted, blind))
    maple = seen[0]
    kiln_alone, kiln_blind, kiln_fitted = kilns
    kiln_seen, kiln_seen_blind = ([one for one in found if one[0].seen] for found in (kiln_fitted, kiln_blind))
    medians, means = np.median(crossing, axis=0), np.sqrt((crossing**2).mean(axis=0))
    text = [
        "# Drying times: the model beside the published ones",
        "",
        "Written by `tools/fit_drying.py`. Yard: one-inch lumber from green to 20 %, stacked on the first of each of twelve months at three stations",
        "of the wood's region (monthly normals, in the open, in piles of 6 to 16 ft by their middle of 9.8 ft, `fpl-tn-233`): the model's least and most days of the 36 runs beside the printed ones. Kiln: 4/4, by",
        "the wood's own schedule, to 6 %. All printed times come from memory of FPL-GTR-117 and AH-188, but for the rows marked seen. Regions and",
        "stations are our reading. Yard and kiln are fitted together, so that one wood is one wood.",
        "",
        f"Four shared numbers: level {pace.level:.2f}, density slope {pace.density_slope:.2f}, free-water factor {pace.free:.2f}, film factor outdoors "
        f"{pace.film:.2f} (standard deviations of logarithm, value, logarithm, logarithm: {', '.join(f'{d:.2f}' for d in deviations)}).",
        f"A species' factor has the prior 1 with a spread of {PRIOR} in its logarithm; a printed end is held to be good to {NOISE} in its logarithm.",
        "",
        "| yard | rows | median overlap | median error of an end (logarithm) | bias, least | bias, most |",
        "|---|---|---|---|---|---|",
        f"| density alone | {headline(alone)} |",
        f"| density alone, each species left out of the fit | {headline(blind)} |",
        f"| with the species' factor (fitted to the same rows) | {headline(fitted)} |",
        f"| seen rows alone, with the factor | {headline(seen)} |",
        f"| seen rows alone, density alone, species left out | {headline(seen_blind)} |",
        "",
        "| kiln | rows | days | median error against the middle (logarithm) | bias | within the printed range |",
        "|---|---|---|---|---|---|",
        f"| density alone | {kiln_headline(kiln_alone)} |",
        f"| density alone, each species left out of the fit | {kiln_headline(kiln_blind)} |",
        f"| with the species' factor (fitted to the same rows) | {kiln_headline(kiln_fitted)} |",
        f"| seen rows alone, with the factor | {kiln_headline(kiln_seen)} |",
        f"| seen rows alone, density alone, species left out | {kiln_headline(kiln_seen_blind)} |",
        "",
        *open_ended(kiln_blind, kiln_fitted),
        "One statement was seen, so that the rows marked seen say next to nothing of kilns; all others are memory until somebody reads the books.",
        "",
        f"Does the factor earn its place? Fitted to a wood's kiln times and judged on its yard times, and the other way round ({len(crossing)} ends), the median "
        f"error is {medians[0]:.3f} with it and {medians[1]:.3f} without, the root mean square {means[0]:.3f} and {means[1]:.3f}.",
        "",
        f"Sugar maple flooring stock in Upper Michigan (Houghton Lake, Sault Ste. Marie, Green Bay, Duluth, Alpena): model {maple.least:.0f} to {maple.most:.0f} "
        f"days, mean {maple.mean:.0f}; printed 40 to 205, mean 90 (FPL Report 2086, seen). Left out of the fit and by density alone: {seen_blind[0].least:.0f} to "
        f"{seen_blind[0].most:.0f}, mean {seen_blind[0].mean:.0f}.",
        "",
        "## Yard, days to 20 %",
        "",
        "| wood, as printed | status | printed | density alone | left out | factor | with factor |",
        "|---|---|---|---|---|---|---|",
    ]
    for a, b, c in zip(alone, blind, fitted, strict=True):
        row = a.row
        text.append(
            f"| {row.name} | {'seen' if row.seen else 'memory'} | {row.least:.0f} to {row.most:.0f} | {a.least:.0f} to {a.most:.0f} | {b.least:.0f} to {b.most:.0f} | "
            f"{factors[row.wood]:.2f} | {c.least:.0f} to {c.most:.0f} |"
        )
    text += [
        "",
        "## Kiln, days to 6 %",
        "",
        "| wood, as printed | status | schedule | printed from 20 % | density alone | left out | with factor | printed from green | density alone | left out | with factor |",
        "|---|---|---|---|---|---|---|---|---|---|---|",
    ]
    for (one, plain), (_, out), (_, better) in zip(*kilns, strict=True):
        (low, high), (green, most) = one.from_20, one.from_green
        last = f"{green:.0f} to {most:.0f}" if most == most else f"{green:.0f} or more" if green == green else ""
        text.append(
            f"| {one.name} | {'seen' if one.seen else 'memory'} | {one.code} | {low:.0f} to {high:.0f} | {plain[0]:.1f} | {out[0]:.1f} | {better[0]:.1f} "
            f"| {last} | {plain[1]:.1f} | {out[1]:.1f} | {better[1]:.1f} |"
        )
    (ROOT / "docs" / "methods" / "drying-times.md").write_text("\n".join(text) + "\n", encoding="utf-8")


SPREAD_LEFT = 1.0 / math.sqrt(1.0 / PRIOR**2 + 2.0 / NOISE**2 / 4.0)
"""What is left of the prior after one row, when days go with the root of the factor (winters hold them up): an estimate."""
