"""Logs and their saw plans."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from waney.yard.acts.base import (
    Decision,
    Fact,
    bad_likely_good,
    between,
    code_if_any,
    day_if_any,
    filled_lines,
    hashes,
    ids,
    ids_if_any,
    lines,
    texts,
)  # fmt: skip
from waney.yard.acts.mill import LONGEST_M
from waney.yard.problems import BadAct
from waney.yard.streams import Stream, stream


@dataclass(frozen=True)
class LogArrived(Fact):
    """A log lies in the yard, measured as its sheet says. No code: the book gives the next one.

    stem, from_butt_m: which stem it was cut from, and where in it its butt end was, from the butt of the stem.
    """

    log: str
    sheet: str
    species: str
    code: str = ""
    felled_on: str = ""
    spot: str = ""
    scan: str = ""
    stem: str = ""
    from_butt_m: float | None = None

    def __post_init__(self) -> None:
        ids(log=self.log)
        ids_if_any(spot=self.spot, stem=self.stem)
        between(0.0, 2 * LONGEST_M, from_butt_m=self.from_butt_m)
        if self.from_butt_m is not None and not self.stem:
            raise BadAct("a place in the stem needs the stem.")
        texts(sheet=self.sheet)
        lines(species=self.species)
        code_if_any(self.code)
        day_if_any(felled_on=self.felled_on)
        if self.scan:
            hashes(scan=self.scan)

    def streams(self) -> tuple[Stream, ...]:
        """The log; it counts where it lies and in its stem."""
        others = (("spot", self.spot), ("stem", self.stem))
        return (stream("log", self.log), *(stream(kind, ident) for kind, ident in others if ident))

    def makes(self) -> Stream:
        """The log."""
        return stream("log", self.log)

    def files(self) -> tuple[str, ...]:
        """Its scan."""
        return (self.scan,) if self.scan else ()


@dataclass(frozen=True)
class LogMeasured(Fact):
    """The sheet was written anew; the former ones stay."""

    log: str
    sheet: str
    species: str
    scan: str = ""

    def __post_init__(self) -> None:
        ids(log=self.log)
        texts(sheet=self.sheet)
        lines(species=self.species)
        if self.scan:
            hashes(scan=self.scan)

    def streams(self) -> tuple[Stream, ...]:
        """The log."""
        return (stream("log", self.log),)

    def files(self) -> tuple[str, ...]:
        """Its scan."""
        return (self.scan,) if self.scan else ()


@dataclass(frozen=True)
class EndsSealed(Fact):
    """Both ends of a log were coated. on: the day, empty for the day it was told; sealed: false puts a slip right."""

    log: str
    on: str = ""
    sealed: bool = True

    def __post_init__(self) -> None:
        ids(log=self.log)
        day_if_any(on=self.on)

    def streams(self) -> tuple[Stream, ...]:
        """The log."""
        return (stream("log", self.log),)


class LogEnd(StrEnum):
    """How a log stops being one."""

    SAWN = "all sawn"
    SOLD = "sold as a log"
    GIVEN = "given away"
    FIREWOOD = "firewood"


@dataclass(frozen=True)
class LogEnded(Fact):
    """The log is no more."""

    log: str
    how: LogEnd
    words: str = ""

    def __post_init__(self) -> None:
        ids(log=self.log)
        lines(words=self.words)

    def streams(self) -> tuple[Stream, ...]:
        """The log."""
        return (stream("log", self.log),)


@dataclass(frozen=True)
class PlanMade(Fact):
    """A saw plan for one version of a log's sheet; its file is among the files.

    It does not count in the log: a plan that comes up meanwhile makes nobody's choice stale. money_cents: bad, likely and
    good, where it counts in money.
    """

    plan: str
    log: str
    sheet_number: int
    file: str
    pattern: str
    pieces: int
    written_by: str = ""
    money_cents: tuple[int, ...] = ()

    def __post_init__(self) -> None:
        ids(plan=self.plan, log=self.log)
        bad_likely_good(self.money_cents)
        hashes(file=self.file)
        filled_lines(pattern=self.pattern)
        lines(written_by=self.written_by)
        between(1, 10_000, sheet_number=self.sheet_number)
        between(0, 10_000, pieces=self.pieces)

    def streams(self) -> tuple[Stream, ...]:
        """The plan."""
        return (stream("plan", self.plan),)

    def makes(self) -> Stream:
        """The plan."""
        return stream("plan", self.plan)

    def needs(self) -> tuple[str, ...]:
        """Its log."""
        return (stream("log", self.log),)

    def files(self) -> tuple[str, ...]:
        """The plan file."""
        return (self.file,)


@dataclass(frozen=True)
class PlanChosen(Decision):
    """This plan is the one to saw by."""

    log: str
    plan: str

    def __post_init__(self) -> None:
        ids(log=self.log, plan=self.plan)

    def streams(self) -> tuple[Stream, ...]:
        """The log."""
        return (stream("log", self.log),)

    def needs(self) -> tuple[str, ...]:
        """The log and the plan."""
        return stream("log", self.log), stream("plan", self.plan)
