"""What another week costs the logs in the yard: what is asked of a worker, and what it answers."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from waney.web.asked.figure import Figure
from waney.yard.services.lying import Lying

if TYPE_CHECKING:
    from waney.trade.waiting import Own


@dataclass(frozen=True)
class WaitingAsked:
    """Every log that is asked about; today: a date; place: as it is settled; money: the currency of the plans, if any; own: what
    stain took of the shop's own logs, by wood."""

    logs: tuple[Lying, ...]
    today: str
    place: str
    money: str
    metric: bool
    own: Own = field(default_factory=dict)

    def as_bytes(self) -> bytes:
        """The input of the job; the same question gives the same bytes. By hand: five hundred logs in a few milliseconds."""
        told = {**vars(self), "logs": [vars(log) for log in self.logs], "own": dict(self.own)}
        return json.dumps(told, sort_keys=True).encode("utf-8")

    @classmethod
    def read(cls, content: bytes) -> WaitingAsked:
        """The question of some bytes."""
        told = json.loads(content)
        logs, own = tuple(map(_lying, told.pop("logs"))), told.pop("own")
        return cls(logs, **told, own={begins: tuple(cases) for begins, cases in own.items()})


def _lying(told: dict[str, Any]) -> Lying:
    return Lying(**{**told, "money_cents": tuple(told["money_cents"])})


@dataclass(frozen=True)
class LogWaits:
    """share, money: likely, and from where to where; share empty: no value. figures: each part with its basis."""

    id: str
    share: str
    money: str
    reason: str
    figures: tuple[Figure, ...]


@dataclass(frozen=True)
class WaitingAnswer:
    """The log that loses most first. by_money: the order is one of money; not_counted, remarks: sentences."""

    logs: tuple[LogWaits, ...]
    today: str
    by_money: bool
    not_counted: tuple[str, ...]
    remarks: tuple[str, ...]

    def as_bytes(self) -> bytes:
        """As the job answers."""
        rows = [{**vars(row), "figures": [vars(figure) for figure in row.figures]} for row in self.logs]
        return json.dumps({**vars(self), "logs": rows}).encode("utf-8")


@lru_cache(maxsize=8)
def waiting_answer(content: bytes) -> WaitingAnswer:
    """What the job said; whoever asks for the same again gets it at once."""
    told = json.loads(content)
    logs = tuple(LogWaits(**{**row, "figures": tuple(Figure(**one) for one in row["figures"])}) for row in told.pop("logs"))
    return WaitingAnswer(logs, told["today"], told["by_money"], tuple(told["not_counted"]), tuple(told["remarks"]))
