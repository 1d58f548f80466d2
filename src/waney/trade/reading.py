"""Reading: what could be read off a tree or a log that is offered, and the log sheet that it makes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import StrEnum
from math import pi

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.problem import Problem
from waney.logs.standing import BREAST_HEIGHT_M


class How(StrEnum):
    """What a size was read with."""

    TAPE = "tape"
    EYE = "eye"
    PHOTO = "photo"


ERROR = {How.TAPE: 0.02, How.EYE: 0.15, How.PHOTO: 0.12}
"""Half of the 90 % range as a share of the size. Ours, common practice, no source."""
ANY_DIAMETER_M = (0.40, 0.20, 0.60)
ANY_LENGTH_M = (2.5, 1.5, 5.0)
"""Likely, low, high of a log nobody measured. Ours, no source."""
SHORTEST_M, LONGEST_M, MOST_ERROR_M = 0.5, 20.0, 0.2
_NOTHING = Basis(Ground.DEFAULT, "", "nothing read")


class BadReading(Problem):
    """A size that no tree has."""


@dataclass(frozen=True)
class Reading:
    """What was read; None, "": not read. girth_m: round the bark, girth_at_m from the butt; small_end_m: across inside bark.

    _off: half of the 90 % range over the size, where it is known, as of one read off a photo; None: by what it was read with.
    """

    name: str = ""
    species: str = ""
    girth_m: float | None = None
    small_end_m: float | None = None
    length_m: float | None = None
    girth_at_m: float = BREAST_HEIGHT_M
    girth_how: How = How.TAPE
    small_end_how: How = How.TAPE
    length_how: How = How.TAPE
    yard_tree: bool | None = None
    """grew by a house or a road: metal is likely in it"""
    girth_off: float | None = None
    small_end_off: float | None = None
    length_off: float | None = None

    def __post_init__(self) -> None:
        for what, size in (("girth", self.girth_m), ("small end", self.small_end_m), ("length", self.length_m)):
            if size is not None and not 0.03 <= size <= 40.0:
                raise BadReading(f"The {what} is {size:g} m, which no log has; look at the number and its unit.")

    @classmethod
    def told(
        cls,
        called: tuple[str, str],
        sizes_m: tuple[float | None, float | None, float | None],
        how: How,
        *,
        girth_at_m: float | None,
        yard_tree: bool | None,
        off: tuple[float | None, float | None, float | None],
    ) -> Reading:
        """As an offer was told: where it stands and its wood; girth, small end and length [m] and how far off each is, all read
        alike; girth_at_m: None, at breast height."""
        at = BREAST_HEIGHT_M if girth_at_m is None else girth_at_m
        return cls(*called, *sizes_m, at, how, how, how, yard_tree, *off)

    @property
    def length(self) -> Estimate:
        """How long it is [m]."""
        if self.length_m is None:
            return Estimate(*ANY_LENGTH_M, _NOTHING, SHORTEST_M, LONGEST_M)
        return _read(self.length_m, self.length_how, _off(self.length_off, self.length_how))

    @property
    def nothing_round(self) -> bool:
        """Whether neither a girth nor a diameter was read."""
        return self.girth_m is None and self.small_end_m is None

    def better(self) -> Iterator[tuple[str, Reading]]:
        """Each measurement that would help, in the order one walks, and the reading as it would likely stand then."""
        length = self.length.likely
        if not _taped(self.girth_m, self.girth_how, self.girth_off):
            girth = self.girth_m or pi * ((self.small_end_m or ANY_DIAMETER_M[0]) + 0.01 * length) * 1.06
            yield "girth with a tape", replace(self, girth_m=girth, girth_how=How.TAPE, girth_off=None)
        if not _taped(self.length_m, self.length_how, self.length_off):
            yield "length with a tape", replace(self, length_m=length, length_how=How.TAPE, length_off=None)
        if not _taped(self.small_end_m, self.small_end_how, self.small_end_off):
            small = self.small_end_m or max(((self.girth_m or pi * ANY_DIAMETER_M[0]) / pi) * 0.94 - 0.01 * length, 0.05)
            yield "diameter of the small end", replace(self, small_end_m=small, small_end_how=How.TAPE, small_end_off=None)


def sheet_of(reading: Reading, length_m: float) -> str:
    """The log sheet (`waney-log/1`) of a reading, at one length [m]."""
    lines = ['format = "waney-log/1"', 'units = "m"', f'name = "{_plain(reading.name) or "Offered"}"']
    lines += [f'species = "{_plain(reading.species) or "unknown"}"', f"length = {length_m:.4f}"]
    at = min(max(reading.girth_at_m, 0.0), 0.9 * length_m)
    if reading.girth_m is not None:
        error = min(_off(reading.girth_off, reading.girth_how) * reading.girth_m / pi, MOST_ERROR_M)
        lines += [
            "[[section]]",
            f"distance = {at:.4f}",
            f"girth = {reading.girth_m:.4f}",
            'over = "bark"',
            f"error = {error:.4f}",
        ]
    if reading.small_end_m is not None:
        error = min(_off(reading.small_end_off, reading.small_end_how) * reading.small_end_m, MOST_ERROR_M)
        lines += ["[top]", f"diameter = {reading.small_end_m:.4f}", f"error = {error:.4f}"]
    if reading.nothing_round:
        likely, low, high = ANY_DIAMETER_M  # half the range is the widest error a sheet takes
        lines += ["[middle]", f"diameter = {likely}", 'over = "bark"', f"error = {(high - low) / 2.0:.4f}"]
    return "\n".join(lines) + "\n"


def _plain(text: str) -> str:
    return " ".join(text.replace("\\", " ").replace('"', " ").split())


def _off(known: float | None, how: How) -> float:
    """Half of the 90 % range over the size."""
    return ERROR[how] if known is None else known


def _taped(size: float | None, how: How, off: float | None) -> bool:
    return size is not None and how is How.TAPE and off is None


def _read(size: float, how: How, off: float) -> Estimate:
    low, high = (max(size * (1.0 + k * off), 0.25) for k in (-1.0, 1.0))
    likely = min(max(size, low), high)
    return Estimate(likely, low, high, Basis(Ground.READING, str(how)), 0.2)
