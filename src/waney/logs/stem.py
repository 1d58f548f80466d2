"""How thick the wood is along a log: readings joined by straight lines, and what is not known between and beyond them.

The diameter is  straight(z) + flare · fade(z):  butt flare, which fades up the stem, stands on a line that runs straight from
reading to reading. Names of the doubts, all in metres of diameter unless said otherwise:

log.flare             what the flare adds at the butt
log.flare.height      [m] where 1/e of it is left
log.taper             [m/m] loss of diameter per metre beyond the last reading
log.butt.fullness     what the butt (or log.top., the top) has above that, where it was not read
log.A-B.fullness      what the middle between two readings has above the straight line, A and B being their places

Between readings the stem is taken to wander from the line as a random walk does: its spread grows with the root of the
distance, and what happens in one gap says nothing about the next. So a reading can only narrow, and each gap has its doubt.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise
from math import exp, sqrt

import numpy as np
from numpy.typing import NDArray

from waney.figures.estimate import Z_95, Basis, Estimate, Ground
from waney.logs.measured import MeasuredLog
from waney.logs.rounds import AT_AN_END_M, Round, place

Array = NDArray[np.float64]
Values = Mapping[str, float]

WANDER = 0.027
"""Standard deviation of the wander, as a share of the diameter, for one metre [m^-1/2].

Source: sweetgum-tx, the ten stems numbered 1 to 19; how well it serves on the others was seen before it was settled. Eucalypt
clones (forestmangr-exfm8, 30 stems in 1 m sections) have 0.013 to 0.018: plantation stems are the smoothest there are."""
BRIDGE = 1.5 / sqrt(12.0)
"""A random walk tied at both ends has a mean with deviation sqrt(length / 12); a parabola's mean is 2/3 of its height."""
TAPER = (0.035, 0.02)
"""Loss of diameter per metre as a share of the diameter: typical, standard deviation.

Source: forestmangr-exfm8, 1 to 11 m up: 0.024, 0.035, 0.048 (5, 50, 95 %), above that 0.03 to 0.10; made wider for open-grown
trees, which is common practice, no source. The International rule takes 1/2 in for 4 ft: 0.03 for a log of 14 in."""
FLARE = {True: (0.22, 0.12), None: (0.12, 0.15), False: (0.0, 0.0)}
"""What the flare adds at the butt as a share of the diameter without it: typical, deviation; by `butt_log`.

Common practice, no source; chosen with an eye on the same ten sweetgums, felled 0.5 to 1.4 ft above the ground."""
FADE_M = (0.7, 0.4, 1.2)
"""Height over which the flare falls to 1/e: likely, low, high. As FLARE."""
LEAST = 0.3
"""However the doubts fall together, no place is thinner than this share of the thinnest reading."""


def fade(z_m: float, height_m: float) -> float:
    """What is left of the flare at a distance from the butt, 1 at the butt, 1/e at this height."""
    return exp(-z_m / height_m)


def stem_doubts(log: MeasuredLog, likely: Sequence[Round]) -> Mapping[str, Estimate]:
    """Doubts about the wood between and beyond the readings, given what these likely say inside bark, ordered along the log."""
    flared = FLARE[log.butt_log][0]
    typical = float(np.median([r.size_m / (1.0 + flared * fade(r.at_m, FADE_M[0])) for r in likely]))
    taper, flare = _taper_and_flare(log, likely, typical)
    found: dict[str, Estimate] = {}
    if log.butt_log is not False:
        found["log.flare"] = flare
        found["log.flare.height"] = Estimate(*FADE_M, Basis(Ground.DEFAULT, "", "how far butt flare reaches up"), 0.2, 3.0)
    beyond = {"butt": likely[0].at_m, "top": log.length_m - likely[-1].at_m}
    missing = {end: gap for end, gap in beyond.items() if gap > AT_AN_END_M}
    if missing:
        found["log.taper"] = taper
    for end, gap in missing.items():
        found[f"log.{end}.fullness"] = _spread(WANDER * typical * sqrt(gap))
    for a, b in dict.fromkeys([*pairwise(likely), *pairwise(_trusted(likely))]):
        found[gap_name(log, a, b)] = _spread(BRIDGE * WANDER * typical * sqrt(b.at_m - a.at_m))
    return found


def _trusted(rounds: Sequence[Round]) -> list[Round]:
    """The readings that need no help from those below and above them."""
    return [r for r in rounds if r.trust >= 1.0]


def gap_name(log: MeasuredLog, a: Round, b: Round) -> str:
    """The name of the doubt about the stem between two readings."""
    return f"log.{place(log, a.at_m)}-{place(log, b.at_m)}.fullness"


def _spread(deviation: float) -> Estimate:
    basis = Basis(Ground.SOURCE, "sweetgum-tx", "how far a stem strays from a straight taper")
    return Estimate(0.0, -Z_95 * deviation, Z_95 * deviation, basis)


def _taper_and_flare(log: MeasuredLog, likely: Sequence[Round], typical: float) -> tuple[Estimate, Estimate]:
    """Typical taper and flare, corrected by what the readings show: the usual least squares with a prior, two unknowns.

    Each gap says  drop = taper · length + flare · (fade at its lower end - fade at its upper end)  + wander + errors read.
    """
    (t0, st), (f0, sf) = TAPER, FLARE[log.butt_log]
    weight = np.diag([1.0 / (st * typical) ** 2, 1.0 / (max(sf, 1e-6) * typical) ** 2])
    pull = weight @ np.array([t0 * typical, f0 * typical])
    if len(likely) > 1:
        at = np.array([r.at_m for r in likely])
        rows = np.stack([np.diff(at), -np.diff([fade(z, FADE_M[0]) for z in at])], axis=1)
        certainty = np.linalg.inv(_drop_covariance(likely, typical))
        weight = weight + rows.T @ certainty @ rows
        pull = pull - rows.T @ certainty @ np.diff([r.size_m for r in likely])
    covariance = np.linalg.inv(weight)
    taper, flare = covariance @ pull
    source = Basis(Ground.SOURCE, "forestmangr-exfm8", "taper of eucalypt clones, made wider; corrected by this log's readings")
    default = Basis(Ground.DEFAULT, "", "flare corrected by this log's readings")
    limit = 0.15 * typical
    return (
        _normal(float(taper), sqrt(covariance[0, 0]), source, -limit, limit),
        _normal(float(flare), sqrt(covariance[1, 1]), default, 0.0, typical),
    )


def _drop_covariance(likely: Sequence[Round], typical: float) -> Array:
    """Covariance of the drops from reading to reading [m2]: wander of each gap, and the errors that neighbouring drops share."""
    gaps = np.diff([r.at_m for r in likely])
    n = len(likely)
    differ = np.eye(n - 1, n, 1) - np.eye(n - 1, n)
    errors = np.diag([(r.error_m / Z_95) ** 2 for r in likely])
    covariance: Array = np.diag((WANDER * typical) ** 2 * gaps) + differ @ errors @ differ.T
    return covariance


def _normal(mean: float, deviation: float, basis: Basis, hard_min: float, hard_max: float) -> Estimate:
    likely, low, high = (min(max(mean + k * Z_95 * deviation, hard_min), hard_max) for k in (0.0, -1.0, 1.0))
    return Estimate(likely, low, high, basis, hard_min, hard_max)


def sizes(log: MeasuredLog, rounds: Sequence[Round], values: Values, z_m: Array) -> Array:
    """Diameter of equal area inside bark [m] at each z, from the readings (inside bark, ordered) and the doubts' values."""
    flare, height = values.get("log.flare", 0.0), values.get("log.flare.height", 1.0)
    knots, straight = _knots(log, rounds, values, flare, height)
    diameter = np.interp(z_m, knots, straight)
    for a, b in pairwise(rounds):
        t = np.minimum(np.maximum((z_m - a.at_m) / (b.at_m - a.at_m), 0.0), 1.0)
        diameter = diameter + values[gap_name(log, a, b)] * 4.0 * t * (1.0 - t)
    diameter = diameter + flare * np.exp(-z_m / height)
    least = LEAST * min(r.size_m for r in rounds)
    return np.maximum(diameter, least)


def _knots(log: MeasuredLog, rounds: Sequence[Round], values: Values, flare: float, height: float) -> tuple[Array, Array]:
    """Where the straight lines meet, and the diameter without flare there."""
    at = [r.at_m for r in rounds]
    straight = _weighed(log, rounds, [r.size_m - flare * fade(r.at_m, height) for r in rounds], values)
    if at[0] > AT_AN_END_M:
        straight.insert(0, straight[0] + values["log.taper"] * at[0] + values["log.butt.fullness"])
        at.insert(0, 0.0)
    if log.length_m - at[-1] > AT_AN_END_M:
        straight.append(straight[-1] - values["log.taper"] * (log.length_m - at[-1]) + values["log.top.fullness"])
        at.append(log.length_m)
    return np.array(at), np.array(straight)


def _weighed(log: MeasuredLog, rounds: Sequence[Round], straight: list[float], values: Values) -> list[float]:
    """Readings that are not fully trusted, drawn towards the line between the trusted ones around them."""
    own = {r.at_m: size for r, size in zip(rounds, straight, strict=True)}
    for a, b in pairwise(_trusted(rounds)):
        for r in (r for r in rounds if a.at_m < r.at_m < b.at_m):
            t = (r.at_m - a.at_m) / (b.at_m - a.at_m)
            line = (1.0 - t) * own[a.at_m] + t * own[b.at_m] + values[gap_name(log, a, b)] * 4.0 * t * (1.0 - t)
            own[r.at_m] = r.trust * own[r.at_m] + (1.0 - r.trust) * line
    return [own[r.at_m] for r in rounds]


def ends_m(log: MeasuredLog, rounds: Sequence[Round], values: Values) -> tuple[float, float]:
    """Diameter inside bark at butt and top [m]."""
    butt, top = sizes(log, rounds, values, np.array([0.0, log.length_m]))
    return float(butt), float(top)
