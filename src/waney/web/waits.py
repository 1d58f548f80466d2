"""Waits: the question what another week costs the logs that lie there, asked once a day, and the answer that is there."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from waney.web.asked.kinds import ONE_WAITING, WAITING
from waney.web.asked.waiting import LogWaits, WaitingAnswer, WaitingAsked, waiting_answer
from waney.web.asking import Job, answer_of, ask, last_answers
from waney.web.shop import Shop, currency_of, unit_of
from waney.yard.acts.settings import Setting
from waney.yard.book.logs_seen import LogStands
from waney.yard.services.lying import lying_of

if TYPE_CHECKING:
    from waney.trade.waiting import Own

NOTHING = WaitingAnswer((), "", by_money=False, not_counted=(), remarks=())


@dataclass(frozen=True)
class Waits:
    """job: None where no log lies there; answer: the last there is; of_today: whether it is the one that was asked for."""

    job: Job | None
    answer: WaitingAnswer
    of_today: bool

    def of(self, log: str) -> LogWaits | None:
        """What is known of one log."""
        return next((row for row in self.answer.logs if row.id == log), None)


def waits_of(shop: Shop, there: tuple[LogStands, ...]) -> Waits:
    """What another week costs the logs that lie there: the answer of today, else the last one. there: all of them."""
    return _asked(shop, WAITING, there) if there else Waits(None, NOTHING, of_today=True)


def one_waits(shop: Shop, log: LogStands) -> Waits:
    """The same of a single log, without asking for all the others."""
    return _asked(shop, ONE_WAITING, (log,))


def _asked(shop: Shop, kind: str, there: tuple[LogStands, ...]) -> Waits:
    settled = shop.settled()
    place, metric = settled.get(Setting.PLACE, ""), unit_of(settled) == "mm"
    logs = tuple(map(lying_of, there))
    today = shop.today().isoformat()
    own = shop.reckoned.ask("what stain took", (today, place), partial(_own_stain, shop)).found or {}
    asked = WaitingAsked(logs, today, place, currency_of(settled) or "", metric, own)
    job = ask(shop, kind, asked.as_bytes())
    content = answer_of(shop, job)
    if content is not None:
        return Waits(job, waiting_answer(content), of_today=True)
    last = next(last_answers(shop, WAITING), None)
    return Waits(job, NOTHING if last is None else waiting_answer(last), of_today=False)


def _own_stain(shop: Shop) -> Own:
    """Worked out once a day beside the pages: it turns on years of boards."""
    from waney.yard.services.waiting import own_stain

    return own_stain(shop.book)
