"""Steps: the chosen plan of a log as the mill goes through it, worked out once by a worker."""

from __future__ import annotations

from waney.papers.mill_steps import AtMill
from waney.web.asked.kinds import STEPS
from waney.web.asked.packing import as_bytes, read_back
from waney.web.asked.plan import Planned, StepsAsked
from waney.web.asking import Job, answer_of, ask
from waney.web.shop import Shop, unit_of
from waney.yard.book.chosen import chosen_plan


def steps_of(shop: Shop, log: str) -> tuple[AtMill | None, Job | None]:
    """The steps of the chosen plan, None for no plan; until they are there, the job that works them out, asked by this."""
    chosen = chosen_plan(shop.book, log)
    if chosen is None:
        return None, None
    asked = StepsAsked(shop.book.files.read(chosen.file).decode("utf-8"), unit_of(shop.settled()) == "mm")
    job = ask(shop, STEPS, as_bytes(asked))
    content = answer_of(shop, job)
    return (None, job) if content is None else (read_back(Planned(content).file("mill.json"), AtMill), None)
