"""The form in which money and hours that went into a log or a piece are told, and what was told so far."""

from __future__ import annotations

from collections.abc import Sequence

from starlette.requests import Request

from waney.figures.problem import Problem
from waney.trade.costing import What
from waney.units.money import parse_money
from waney.units.number import parse_number
from waney.web.forms import Fields, Sent
from waney.web.shop import currency_of
from waney.web.showing import shop_of
from waney.yard.acts.sales import Spent
from waney.yard.book.spent_seen import spent_on
from waney.yard.services.spending import note_spent, take_spent_back

BACK = "spent-back"
"""the button that takes one back"""
INTO_A_LOG = tuple(What)
INTO_A_PIECE = (What.HOURS, What.FLATTENING, What.KILN, What.OTHER)
"""its place in the shed is counted by itself; what was paid and sawn is its log's"""


def spent_shown(request: Request, about: str, whats: Sequence[What]) -> dict[str, object]:
    """What `spent.html` shows of a stream."""
    from waney.yard.services.worth import shop_costs

    shop = shop_of(request)
    try:
        hour = shop_costs(shop.settled()).costs.hour_cents
    except Problem:
        hour = None
    return {
        "went_in": spent_on(shop.book, [about]),
        "whats": whats,
        "hour_told": hour is not None,
        "currency": currency_of(shop.settled()),
    }


def spent_typed(sent: Sent, fields: Fields, about: str) -> None:
    """Write down what was typed, or take back what was pressed. Raises BadField, BadAct, NotPossible."""
    if sent.text("do") == BACK:
        take_spent_back(sent.hand, about, sent.text("command"))
        return
    currency = currency_of(shop_of(sent.request).settled())
    hours = fields.read("hours", lambda text: float(parse_number(text)))
    money = fields.read("money", lambda text: parse_money(text, currency).cents)
    if not fields.wrong and (hours is None) == (money is None):
        fields.wrong["hours"] = "Write hours or money, one of them."
    if fields.wrong:
        return
    what = What.HOURS if hours is not None else sent.choice("what", What, What.OTHER)
    note_spent(sent.hand, Spent(about, what, money, hours, sent.text("words")))
