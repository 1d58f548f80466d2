"""Offers: the question about each offered tree, asked once, and the answers that are there."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from waney.web.asked.kinds import OFFER
from waney.web.asked.offer import OfferAnswer, OfferAsked
from waney.web.asked.packing import as_bytes, read_back
from waney.web.asking import Job, answer_of, ask, asked_already, last_answers
from waney.web.shop import Shop, unit_of
from waney.yard.acts.settings import Setting
from waney.yard.book.offered import TreeStands
from waney.yard.services.woods import known_wood

if TYPE_CHECKING:
    from waney.trade.record import Record

AT_ONCE = 4
"""so many questions a look at the list asks; the others are asked at the next looks"""
LOOKS_BACK = 200
"""so many older answers are looked through for one that may stand until the new one is there"""


def question(settled: Mapping[str, str], tree: TreeStands, record: Record) -> bytes:
    """What is asked about a tree."""
    prices = record.prices.get(known_wood(tree.species), ())
    costs, mill, wants = (settled.get(what, "") for what in (Setting.COSTS, Setting.MILL, Setting.WANTS))
    asked = OfferAsked(
        tree.id, tree.where, tree.species, tree.girth_m, tree.small_end_m, tree.length_m, tree.how, tree.yard_tree,
        tree.way_m, tree.hours, tree.asked_cents, costs, mill, wants, unit_of(dict(settled)) == "mm",
        record.losses, prices, record.metal.get(tree.yard_tree, ()), tree.girth_off, tree.small_end_off,
        tree.length_off, tree.girth_at_m,
    )  # fmt: skip
    return as_bytes(asked)


def answers_of(shop: Shop, trees: Sequence[TreeStands]) -> tuple[dict[str, OfferAnswer], bool]:
    """The answers that are there, by tree, and whether some are still worked out. What nobody asked is asked, a few at a look."""
    from waney.yard.services.record import drying_and_sales  # loads what saws in thought

    settled, asked, found, goes_on = shop.settled(), 0, {}, False
    record = drying_and_sales(shop.book)
    for tree in trees:
        given = question(settled, tree, record)
        job = asked_already(shop, OFFER, given)
        if job is None and asked < AT_ONCE:
            job, asked = ask(shop, OFFER, given), asked + 1
        goes_on = goes_on or job is None or job.goes_on
        content = None if job is None else answer_of(shop, job)
        if content is not None:
            found[tree.id] = read_back(content, OfferAnswer)
    return (older_answers(shop) | found if goes_on else found), goes_on


def answer_for(shop: Shop, tree: TreeStands) -> tuple[Job, OfferAnswer | None, bool]:
    """The job of one tree; its answer, else the last that was given; whether it is of today."""
    from waney.yard.services.record import drying_and_sales

    job = ask(shop, OFFER, question(shop.settled(), tree, drying_and_sales(shop.book)))
    content = answer_of(shop, job)
    if content is not None:
        return job, read_back(content, OfferAnswer), True
    return job, older_answers(shop).get(tree.id), False


def older_answers(shop: Shop) -> dict[str, OfferAnswer]:
    """The last answer given about each tree, whatever was known and settled then."""
    found: dict[str, OfferAnswer] = {}
    for content in last_answers(shop, OFFER, LOOKS_BACK):
        answer = read_back(content, OfferAnswer)
        found.setdefault(answer.tree, answer)
    return found
