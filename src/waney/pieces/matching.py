"""Matching: pieces that look as if they belong together: neighbours in the boule, or out of one log, alike in size.

Neighbours: two faces that met in one cut mirror each other: a pair opens like a book. Out of one log: colour and figure are of a
kind. What counts as alike is ours (common practice, no source); whether the figure goes together, an eye has to say.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

SAME_THICK_M = 0.0016
"""Thicknesses that differ by no more are the same [m]: a sixteenth of an inch; ours, a choice."""
NEAR_WIDE = 0.12
"""Widths differ by no more than this share of the wider one [-]; ours, a choice."""
NEAR_LONG_M = 0.08
"""Lengths differ by no more [m]: ends are cut off anyhow; ours, a choice."""


@dataclass(frozen=True)
class Sawn:
    """A piece of a log. place: its rank in the boule, pieces that are gone counted, None: not told; width_m: one width of it."""

    name: str
    log: str
    place: int | None
    thickness_m: float
    width_m: float
    length_m: float


@dataclass(frozen=True)
class Match:
    """Pieces that go together, two or more: in the order of the boule where they are neighbours, else by size.

    wide_apart: their widths differ by this share of the widest [-]; long_apart_m: their lengths [m].
    """

    names: tuple[str, ...]
    neighbours: bool
    wide_apart: float
    long_apart_m: float

    @property
    def words(self) -> str:
        """What it is: "a pair, next to each other in the boule"."""
        what = "a pair" if len(self.names) == 2 else f"a set of {len(self.names)}"
        return f"{what}, next to each other in the boule" if self.neighbours else f"{what} out of one log"


def matches(pieces: Iterable[Sawn]) -> tuple[Match, ...]:
    """What could be sold together, each piece in one match at most; neighbours come first, then the nearest in size."""
    of_log: dict[str, list[Sawn]] = defaultdict(list)
    for piece in sorted(pieces, key=lambda one: one.name):
        of_log[piece.log].append(piece)
    found = [match for log, some in of_log.items() if log for match in _of_log(some)]
    return tuple(sorted(found, key=lambda one: (not one.neighbours, one.wide_apart, one.names)))


def _of_log(some: Sequence[Sawn]) -> Iterator[Match]:
    runs = [run for run in _runs(some) if len(run) > 1]
    taken = {one.name for run in runs for one in run}
    rest = _alike([one for one in some if one.name not in taken])
    for group, neighbours in (*((run, True) for run in runs), *((group, False) for group in rest if len(group) > 1)):
        wide, long = _apart(group)
        yield Match(tuple(one.name for one in group), neighbours, wide, long)


def _runs(some: Sequence[Sawn]) -> list[list[Sawn]]:
    """Neighbours that are all alike, as far as they reach."""
    runs: list[_Group] = []
    for piece in sorted((one for one in some if one.place is not None), key=lambda one: (one.place or 0, one.name)):
        if not (runs and runs[-1].pieces[-1].place == (piece.place or 0) - 1 and runs[-1].takes(piece)):
            runs.append(_Group(piece))
    return [run.pieces for run in runs]


def _alike(some: Sequence[Sawn]) -> list[list[Sawn]]:
    """Pieces of one log that are alike, wherever they lay; each goes to the first group that it fits."""
    groups: list[_Group] = []
    for piece in sorted(some, key=lambda one: (one.thickness_m, one.width_m, one.length_m, one.name)):
        if not any(group.takes(piece) for group in groups):
            groups.append(_Group(piece))
    return [group.pieces for group in groups]


class _Group:
    """Pieces that are alike, and their least and largest sizes, so that one more is held against those alone."""

    def __init__(self, piece: Sawn) -> None:
        self.pieces = [piece]
        self.thick, self.wide, self.long = ((size, size) for size in (piece.thickness_m, piece.width_m, piece.length_m))

    def takes(self, piece: Sawn) -> bool:
        """Whether one more is alike with all of them; it is one of them then."""
        thick, wide, long = (
            _with(self.thick, piece.thickness_m),
            _with(self.wide, piece.width_m),
            _with(self.long, piece.length_m),
        )
        if not _near(thick, wide, long):
            return False
        self.pieces.append(piece)
        self.thick, self.wide, self.long = thick, wide, long
        return True


def _with(ends: tuple[float, float], size: float) -> tuple[float, float]:
    return min(ends[0], size), max(ends[1], size)


def _near(thick: tuple[float, float], wide: tuple[float, float], long: tuple[float, float]) -> bool:
    """Whether the least and the largest of each size are as near as pieces that are alike."""
    same_thick, near_long = thick[1] - thick[0] <= SAME_THICK_M, long[1] - long[0] <= NEAR_LONG_M
    return same_thick and near_long and _share(*wide) <= NEAR_WIDE


def _apart(some: Sequence[Sawn]) -> tuple[float, float]:
    wide, long = [one.width_m for one in some], [one.length_m for one in some]
    return _share(min(wide), max(wide)), max(long) - min(long)


def _share(least: float, most: float) -> float:
    return (most - least) / most if most > 0 else 0.0
