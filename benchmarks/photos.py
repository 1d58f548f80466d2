"""Traces drawn photos of pieces of which the truth is known, seeds 3000 to 3063; writes the table in docs/methods/pieces.md.

usage: python3 dev.py prove photos.py (a quarter of an hour)
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT))  # the scenes stand with the tests: their camera is no part of the program

from tests.pieces.photo_scene import SIZE, Scene, scene  # noqa: E402

from waney.figures.estimate import Estimate  # noqa: E402
from waney.figures.scenarios import Scenarios  # noqa: E402
from waney.pieces.photo.fit import TappedTarget  # noqa: E402
from waney.pieces.photo.refine import DRAWN_ERROR_PX, drawn_targets  # noqa: E402
from waney.pieces.photo.traced import BESIDE, LAY, ON_FACE, Photo, Traced, traced  # noqa: E402

PAGE = ROOT / "docs" / "methods" / "pieces.md"
SEEDS = range(3000, 3064)
TAPPING_PX, TAPE_M = 3.0, 0.003
"""standard errors of a tap and of a tape"""
FARTHEST_M = 0.080
"""targets off the face lie this much lower at most"""
HIGHER_MM = (10, 20, 40, 80)
CLOSE = 0.01
SCENARIOS = Scenarios(1)
HEADS = (
    "photo",
    "within 1 %",
    "root mean square",
    "range holds the truth",
    "half the range, the middle one",
    "says to lay the targets on the face",
)


@dataclass(frozen=True)
class Case:
    """A way to take the photo. drawn: marks found in the picture, else as they were tapped; off: targets off the face."""

    words: str
    drawn: bool = True
    taped: bool = False
    off: bool = False
    over: Estimate = ON_FACE
    spots: tuple[float, ...] = (0.12, 0.88)


CASES = (
    Case("two targets on the face, marks found in the picture"),
    Case("the same, its length taped (3 mm)", taped=True),
    Case("two targets on the face, marks only tapped", drawn=False),
    Case("one target in the middle, only tapped (its length taped)", drawn=False, taped=True, spots=(0.5,)),
    Case("one target in the middle, marks found in the picture", spots=(0.5,)),
    Case("two targets 0 to 80 mm off the face, said to lie on it, no tape", off=True),
    Case("the same, its length taped", off=True, taped=True),
    Case("the same, marks only tapped", drawn=False, off=True, taped=True),
    Case("the same, said to lie beside or not looked at, no tape", off=True, over=BESIDE),
)


@dataclass(frozen=True)
class Answer:
    """What a photo said of an area, the true one [m2], and whether it says to lay the targets on the face."""

    area_m2: Estimate
    truth_m2: float
    lay: bool

    @classmethod
    def of(cls, found: Traced, truth_m2: float) -> Answer:
        """Beside the truth."""
        return cls(found.area_m2, truth_m2, any(line.startswith(LAY[:-1]) for line in found.advice))

    @property
    def error(self) -> float:
        """Of the likely area, as a share of the true one."""
        return self.area_m2.likely / self.truth_m2 - 1.0


@dataclass(frozen=True)
class Judged:
    """Shares of the answers; half: the middle one's half range, as a share of its likely area."""

    close: float
    error: float
    held: float
    half: float
    lay: float

    @property
    def cells(self) -> tuple[str, ...]:
        """As the table has them."""
        sizes = (self.error, self.half)
        error, half = (f"{100 * one:.0f} %" if one >= 0.0995 else f"{100 * one:.1f} %" for one in sizes)
        return f"{100 * self.close:.0f} %", error, f"{100 * self.held:.0f} %", half, f"{100 * self.lay:.0f} %"


def judged(answers: Iterable[Answer]) -> Judged:
    """How good they are together."""
    some = tuple(answers)
    errors = np.array([one.error for one in some])
    return Judged(
        close=float(np.mean(np.abs(errors) <= CLOSE)),
        error=float(np.sqrt(np.mean(errors**2))),
        held=float(np.mean([one.area_m2.low <= one.truth_m2 <= one.area_m2.high for one in some])),
        half=float(np.median([one.area_m2.width / 2.0 / one.area_m2.likely for one in some])),
        lay=float(np.mean([one.lay for one in some])),
    )


def answered(case: Case, seed: int) -> Answer:
    """One photo, taken so."""
    rng = np.random.default_rng(seed + 2000)
    lower, slip = float(rng.uniform(0.0, FARTHEST_M)), float(rng.normal(0.0, TAPE_M))
    seen = scene(seed, case.spots, lower=lower if case.off else 0.0, tapping=TAPPING_PX)
    tapped = tuple(_target(marks, rng, TAPPING_PX) for marks in seen.marks_px)
    targets = drawn_targets(seen.grey(rng).astype(float), SIZE, tapped) if case.drawn else tapped
    photo = _photo(seen, targets, case.over)
    if case.taped:
        photo = replace(photo, taped_long_m=float(np.ptp(seen.edge_m[:, 0])) + slip)
    return Answer.of(traced(photo, SCENARIOS), seen.area)


def propped(higher_m: float, seed: int) -> tuple[bool, bool]:
    """One of two targets lies higher than the face: whether that is said, and whether the range holds the truth."""
    seen, other = scene(seed), scene(seed, lower=-higher_m)
    rng = np.random.default_rng(seed + 2000)
    targets = tuple(_target(marks, rng, DRAWN_ERROR_PX) for marks in (seen.marks_px[0], other.marks_px[1]))
    found = traced(_photo(seen, targets, ON_FACE), SCENARIOS)
    said = any("higher than another" in line or "lower than another" in line for line in found.advice)
    return said, found.area_m2.low <= seen.area <= found.area_m2.high


def _target(marks: np.ndarray[tuple[int, ...], np.dtype[np.float64]], rng: np.random.Generator, error_px: float) -> TappedTarget:
    taps = marks + rng.normal(0.0, error_px, marks.shape)
    return TappedTarget({number: (float(u), float(v)) for number, (u, v) in enumerate(taps, 1)}, error_px)


def _photo(seen: Scene, targets: tuple[TappedTarget, ...], over: Estimate) -> Photo:
    return Photo(SIZE, targets, tuple((float(u), float(v)) for u, v in seen.edge_px), over_m=over)


def table(seeds: Iterable[int]) -> Iterator[str]:
    """The lines of the table."""
    every = tuple(seeds)
    yield f"| {' | '.join(HEADS)} |"
    yield "|---" * len(HEADS) + "|"
    for case in CASES:
        line = f"| {case.words} | {' | '.join(judged(answered(case, seed) for seed in every).cells)} |"
        print(line, flush=True)
        yield line


def props(seeds: Iterable[int]) -> str:
    """The sentence on a target that is propped up."""
    every = tuple(seeds)
    found = [[propped(height / 1000.0, seed) for seed in every] for height in HIGHER_MM]
    said, held = ([f"{100 * np.mean([one[k] for one in row]):.0f}" for row in found] for k in (0, 1))
    heights = ", ".join(map(str, HIGHER_MM))
    return (
        f"One of two targets propped by {heights} mm (marks to {DRAWN_ERROR_PX:g} px): said in {_listed(said)} %, "
        f"held by the range in {_listed(held)} %."
    )


def _listed(figures: list[str]) -> str:
    return f"{', '.join(figures[:-1])} and {figures[-1]}"


def main() -> None:
    """Trace all of them and write the page."""
    text = PAGE.read_text(encoding="utf-8")
    text, tables = re.subn(r"\| photo \|.*?\n(?=\n)", "\n".join(table(SEEDS)).replace("\\", r"\\") + "\n", text, flags=re.DOTALL)
    text, sentences = re.subn(
        r"One of two targets propped by .*? held by the range in [^%]*%\.", props(SEEDS), text, flags=re.DOTALL
    )
    assert (tables, sentences) == (1, 1), "the page has lost its table or its sentence"
    PAGE.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
