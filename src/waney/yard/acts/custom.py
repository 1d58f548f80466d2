"""Other people's logs: whose they are, what was agreed, how they were sawn, the bill."""

from __future__ import annotations

from dataclasses import dataclass

from waney.trade.counted import By
from waney.trade.way_paid import How
from waney.yard.acts.base import Decision, Fact, between, filled_lines, ids, lines, texts
from waney.yard.acts.promises import MOST_CENTS, day, of_pieces
from waney.yard.acts.sales import MOST_HOURS, TaxTaken
from waney.yard.acts.stacks import each_once
from waney.yard.problems import BadAct
from waney.yard.streams import Stream, stream

MOST_FEET, FARTHEST_M, MOST_BLADES = 1e7, 5e6, 1000
"""beyond it a slip of the hand"""


def _of_logs(logs: tuple[str, ...]) -> tuple[Stream, ...]:
    return tuple(stream("log", each) for each in logs)


@dataclass(frozen=True)
class _OfCustom:
    """An act about a custom job."""

    custom: str

    def streams(self) -> tuple[Stream, ...]:
        """The custom job."""
        return (stream("custom", self.custom),)


@dataclass(frozen=True)
class CustomAsked(_OfCustom, Fact):
    """Somebody would like their logs sawn. way_m, way_hours: to the logs and back; nothing where they are brought."""

    person: str
    words: str = ""
    way_m: float = 0.0
    way_hours: float = 0.0

    def __post_init__(self) -> None:
        ids(custom=self.custom, person=self.person)
        lines(words=self.words)
        between(0.0, FARTHEST_M, way_m=self.way_m)
        between(0.0, MOST_HOURS, way_hours=self.way_hours)

    def makes(self) -> Stream:
        """The custom job."""
        return stream("custom", self.custom)

    def needs(self) -> tuple[str, ...]:
        """Whose logs they are."""
        return (stream("person", self.person),)


@dataclass(frozen=True)
class CustomLogsTold(_OfCustom, Fact):
    """These are its logs, all of them; the last word counts. A log is in one custom job at most."""

    logs: tuple[str, ...]

    def __post_init__(self) -> None:
        ids(custom=self.custom)
        each_once(self.logs, 0)
        ids(**{f"log{n}": each for n, each in enumerate(self.logs)})

    def streams(self) -> tuple[Stream, ...]:
        """The custom job and its logs."""
        return (stream("custom", self.custom), *_of_logs(self.logs))


@dataclass(frozen=True)
class LogScaled:
    """A log as it was counted by one log rule before it was sawn; read: what the rule was read at."""

    log: str
    by: By
    board_feet: float
    read: str = ""

    def __post_init__(self) -> None:
        ids(log=self.log)
        between(0.0, MOST_FEET, board_feet=self.board_feet)
        lines(read=self.read)
        if self.by is By.TALLY:
            raise BadAct("a log is counted by a log rule before it is sawn; its tally comes after.")


@dataclass(frozen=True)
class CustomAgreed(_OfCustom, Decision):
    """Both agree on one way. terms: the terms sheet as it stood; scaled: each log by every rule."""

    how: How
    on: str
    terms: str
    scaled: tuple[LogScaled, ...]

    def __post_init__(self) -> None:
        ids(custom=self.custom)
        day(on=self.on)
        texts(terms=self.terms)
        if not self.scaled:
            raise BadAct("an agreement names the logs it is about, with what they count.")

    def streams(self) -> tuple[Stream, ...]:
        """The custom job and its logs."""
        return (stream("custom", self.custom), *_of_logs(tuple(dict.fromkeys(one.log for one in self.scaled))))


@dataclass(frozen=True)
class CustomAgreedAnew(_OfCustom, Decision):
    """Both go over to another rule: what a board foot costs by it, and the same wood counted by the former and by the new one."""

    by: By
    rate_cents: float
    before: float
    after: float

    def __post_init__(self) -> None:
        ids(custom=self.custom)
        between(0.0, MOST_CENTS, rate_cents=self.rate_cents)
        between(0.0, MOST_FEET, before=self.before, after=self.after)


@dataclass(frozen=True)
class LogSawnFor(_OfCustom, Fact):
    """How long the sawing of one log took, and blades that metal in it spoilt; the last word counts."""

    log: str
    hours: float
    metal_blades: int = 0

    def __post_init__(self) -> None:
        ids(custom=self.custom, log=self.log)
        between(0.0, MOST_HOURS, hours=self.hours)
        between(0, MOST_BLADES, metal_blades=self.metal_blades)

    def streams(self) -> tuple[Stream, ...]:
        """The custom job and the log."""
        return (stream("custom", self.custom), stream("log", self.log))


@dataclass(frozen=True)
class CustomShared(_OfCustom, Decision):
    """On shares: these pieces stay with the sawyer, all others go to whose logs they were."""

    pieces: tuple[str, ...]

    def __post_init__(self) -> None:
        ids(custom=self.custom)
        each_once(self.pieces, 0)

    def streams(self) -> tuple[Stream, ...]:
        """The custom job and the pieces."""
        return (stream("custom", self.custom), *of_pieces(self.pieces))


@dataclass(frozen=True)
class BilledLine:
    """A line of the invoice as it was printed."""

    what: str
    cents: int

    def __post_init__(self) -> None:
        filled_lines(what=self.what)
        between(-MOST_CENTS, MOST_CENTS, cents=self.cents)


@dataclass(frozen=True)
class CustomBilled(_OfCustom, Decision):
    """The invoice, word for word. keeps: board feet that stay with the sawyer; said: what both agreed anew."""

    on: str
    lines: tuple[BilledLine, ...]
    taxes: tuple[TaxTaken, ...] = ()
    keeps: float = 0.0
    said: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        ids(custom=self.custom)
        day(on=self.on)
        between(0.0, MOST_FEET, keeps=self.keeps)
        texts(**{f"said{n}": each for n, each in enumerate(self.said)})
        if not self.lines:
            raise BadAct("an invoice has at least one line.")


@dataclass(frozen=True)
class CustomEnded(_OfCustom, Fact):
    """It is done with: fetched, or it did not come about."""

    words: str = ""

    def __post_init__(self) -> None:
        ids(custom=self.custom)
        lines(words=self.words)
