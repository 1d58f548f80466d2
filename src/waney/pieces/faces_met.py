"""Faces met: by how much the upper face of one piece differs from the lower face of another, if they met in one cut.

Widths are compared place by place. Edges are laid over each other first: pieces are traced each by itself, so one face may be
pushed along and across and turned a little over the other; the waves, knots and crook of both edges are left to compare.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

if TYPE_CHECKING:  # pages that know nothing but widths do not load it
    from waney.pieces.outline import Outline


Array = NDArray[np.float64]
PLACES = 128
"""along the longest piece, at which edges are compared"""
SLACK_M = 0.04
"""so much further than their ends allow may two pieces be pushed along each other: ends get trimmed and split (ours)"""
OVERLAP = 0.7
"""of the shorter piece that must lie over the other (ours)"""
TURNED, END_FOR_END = 1, 2
"""bits of how a piece lies: its second face up; its first end last"""


@dataclass(frozen=True, eq=False)
class TwoFaces:
    """A piece by its two faces. first_m, second_m: their widths [m], each at the same places from the butt to the top, none left
    out; empty where nobody taped. first_edge, second_edge: their outlines in one frame, x from the marked end, both as seen from
    over the first face.
    """

    name: str
    first_m: tuple[float, ...] = ()
    second_m: tuple[float, ...] = ()
    first_edge: Outline | None = None
    second_edge: Outline | None = None

    @property
    def both_known(self) -> bool:
        """Whether both faces were measured somehow: from one alone nothing shows which way the wood went on below it."""
        return bool(self.first_m and self.second_m) or (self.first_edge is not None and self.second_edge is not None)


@dataclass(frozen=True, eq=False)
class Meeting:
    """How faces that meet differ, (s, s): row the piece above, column the one below it.

    Two states a piece where there are only widths (as told, turned over), four where there are edges (and each end for end).
    apart_m: in width and in the way of both edges, together, mean along the pieces [m]; cost_m: the same for weighing rows, in
    which edges count by how much better or worse they fit than usual in this heap, and where nobody traced them not at all.
    """

    apart_m: Array
    cost_m: Array
    sides: int


def meeting(pieces: Sequence[TwoFaces]) -> Meeting:
    """Widths are compared as taped and as traced, the mean of both ways, where both were; where one piece is taped and the other
    traced, their mean widths."""
    sides = 4 if any(each.first_edge or each.second_edge for each in pieces) else 2
    by_tape = _by_tape(pieces, sides)
    ways, edges = [by_tape], np.full(by_tape.shape, np.nan)
    if sides > 2:
        by_trace, edges = _by_edges(pieces)
        ways.append(by_trace)
    told = np.stack(ways)
    known = ~np.isnan(told)
    width = np.where(known, told, 0.0).sum(axis=0) / np.maximum(known.sum(axis=0), 1)
    width = np.where(known.any(axis=0), width, _by_mean_width(pieces, sides))
    usual = float(np.nanmedian(edges)) if np.isfinite(edges).any() else 0.0
    return Meeting(width + np.nan_to_num(edges), width + np.nan_to_num(edges - usual), sides)


def _by_tape(pieces: Sequence[TwoFaces], sides: int) -> Array:
    places = max((len(each.first_m) for each in pieces), default=0) or 1
    none = (np.nan,) * places
    upper = np.array([face or none for each in pieces for _ in range(sides // 2) for face in (each.first_m, each.second_m)])
    lower = np.array([face or none for each in pieces for _ in range(sides // 2) for face in (each.second_m, each.first_m)])
    found: Array = np.abs(lower[:, None, :] - upper[None, :, :]).mean(axis=2)
    return found


def _by_mean_width(pieces: Sequence[TwoFaces], sides: int) -> Array:
    faces = np.array([mean_widths(each) for each in pieces])
    upper, lower = np.tile(faces, sides // 2).ravel(), np.tile(faces[:, ::-1], sides // 2).ravel()
    found: Array = np.abs(lower[:, None] - upper[None, :])
    return found


def mean_widths(piece: TwoFaces) -> tuple[float, float]:
    """Of the first and of the second face [m]."""
    return _mean_width(piece.first_m, piece.first_edge), _mean_width(piece.second_m, piece.second_edge)


def _mean_width(widths: tuple[float, ...], edge: Outline | None) -> float:
    return float(np.mean(widths)) if widths or edge is None else edge.area_m2 / edge.length_m


# edges


def _by_edges(pieces: Sequence[TwoFaces]) -> tuple[Array, Array]:
    """Differences of the widths, and of the way of both edges, where faces fit best; nan where either was not traced."""
    faces = [(each.first_edge, each.second_edge) for each in pieces]
    every = max(face.length_m for both in faces for face in both if face) / PLACES
    read = [tuple(_edges(face, every) for face in both) for both in faces]
    upper = [_lying(both[side & TURNED], side) for both in read for side in range(4)]
    lower = [_lying(both[~side & TURNED], side) for both in read for side in range(2)]
    found = _least_apart(upper, lower, every)
    count = 4 * len(pieces)
    whole = np.empty((2, count, count))
    states = np.arange(count)
    for k, half in enumerate(found):  # the whole heap turned end for end fits as well as before
        whole[k, states % 4 < END_FOR_END] = half
        whole[k, states % 4 >= END_FOR_END] = half[:, states ^ END_FOR_END]
    return whole[0], whole[1]


def _edges(face: Outline | None, every: float) -> Array:
    """Low and high edge at even places, (2, k); no places where nobody traced it."""
    if face is None:
        return np.zeros((2, 0))
    start = float(face.edge_m[:, 0].min())
    places = max(int(face.length_m / every + 0.5), 2)
    return np.stack(face.edges_at(start + (np.arange(places) + 0.5) * face.length_m / places))


def _lying(edges: Array, side: int) -> Array:
    """The edges of a face of a piece that lies so, from above."""
    across = bool(side & TURNED) != bool(side & END_FOR_END)  # turned over y runs the other way, end for end x and y do
    lying = -edges[::-1] if across else edges
    return lying[:, ::-1] if side & END_FOR_END else lying


def _least_apart(upper: Sequence[Array], lower: Sequence[Array], every: float) -> tuple[Array, Array]:
    """Each lower face over each upper one, pushed along as far as their ends allow, at the place where they differ least."""
    longest = max(each.shape[1] for each in (*upper, *lower))
    above, below = _side_by_side(lower, longest), _side_by_side(upper, longest)
    long_above, long_below = (np.array([each.shape[1] for each in some]) for some in (lower, upper))
    traced = (long_above[:, None] > 0) & (long_below[None, :] > 0)
    spare, slack = np.where(traced, long_below[None, :] - long_above[:, None], 0), round(SLACK_M / every)
    needed = OVERLAP * np.minimum(long_above[:, None], long_below[None, :])
    width, edges = np.full((2, len(lower), len(upper)), np.nan)
    for shift in range(int(spare.min()) - slack, int(spare.max()) + slack + 1):
        allowed = traced & (np.minimum(spare, 0) - slack <= shift) & (shift <= np.maximum(spare, 0) + slack)
        if allowed.any():
            w, r, overlap = _differ(_pushed(above, shift), below)
            nearer = allowed & (overlap >= needed) & ~(width + edges <= w + r)
            width, edges = np.where(nearer, w, width), np.where(nearer, r, edges)
    return width, edges


def _side_by_side(faces: Sequence[Array], longest: int) -> Array:
    """(f, 2, longest), nan beyond the end of a shorter one."""
    together = np.full((len(faces), 2, longest), np.nan)
    for row, face in zip(together, faces, strict=True):
        row[:, : face.shape[1]] = face
    return together


def _pushed(faces: Array, shift: int) -> Array:
    pushed = np.full_like(faces, np.nan)
    k = faces.shape[2]
    if abs(shift) < k:
        pushed[:, :, max(shift, 0) : k + min(shift, 0)] = faces[:, :, max(-shift, 0) : k - max(shift, 0)]
    return pushed


def _differ(above: Array, below: Array) -> tuple[Array, Array, Array]:
    """Mean differences of the width and of the way of both edges [m], and at how many places they are over each other: (a, b).

    The line between the middles of both faces is taken off: how far across a piece lay, and how straight, is not in its outline.
    What is left of the middle, twice over, is by how much both edges run another way.
    """
    middle, width = above.mean(axis=1), above[:, 1] - above[:, 0]
    r = middle[:, None, :] - below.mean(axis=1)[None, :, :]
    w = width[:, None, :] - (below[:, 1] - below[:, 0])[None, :, :]
    there = ~np.isnan(r)
    n = there.sum(axis=2)
    count = np.maximum(n, 1)
    r, w = np.where(there, r, 0.0), np.where(there, w, 0.0)
    x = np.arange(r.shape[2]) - (r.shape[2] - 1) / 2.0
    away = np.where(there, x - ((there * x).sum(axis=2) / count)[:, :, None], 0.0)
    slope = (away * r).sum(axis=2) / np.maximum((away**2).sum(axis=2), 1.0)
    rest = np.where(there, r - (r.sum(axis=2) / count)[:, :, None] - slope[:, :, None] * away, 0.0)
    return np.abs(w).sum(axis=2) / count, 2.0 * np.abs(rest).sum(axis=2) / count, n
