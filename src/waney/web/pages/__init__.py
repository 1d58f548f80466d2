"""Pages: one module, one template, one address for each. Those that open a day are there first; the rest is loaded after them."""

from __future__ import annotations

from functools import cache
from importlib import import_module

from waney.web.routes import Router

FIRST = ("sign_in", "week")
LATER = (
    "offered",
    "offer",
    "offer_photo",
    "logs",
    "log",
    "cuts",
    "plans",
    "scale",
    "boule",
    "rough",
    "day",
    "typed",
    "mill",
    "commands",
    "take_in",
    "pieces",
    "piece",
    "piece_cut",
    "piece_edges",
    "piece_flat",
    "piece_grade",
    "piece_measured",
    "piece_room",
    "piece_seasons",
    "shelf",
    "for_sale",
    "sale_paper",
    "sale_papers",
    "buyers",
    "owed",
    "deposits",
    "quotes",
    "own_figures",
    "market",
    "wishes",
    "stock_count",
    "spots",
    "stacks",
    "load_plan",
    "handing",
    "load_papers",
    "load",
    "stack",
    "stack_paper",
    "loads",
    "readings",
    "round",
    "custom_quote",
    "custom_agreement",
    "custom_tally",
    "custom_invoice",
    "custom",
    "papers",
    "lists",
    "promised_lists",
    "yard_lists",
    "binding",
    "photos",
    "settings",
    "costs",
    "year",
    "sources",
)
"""in the order in which an address is looked for"""


@cache
def first_routers() -> tuple[Router, ...]:
    """What whoever opens the yard sees first."""
    return tuple(map(_router, FIRST))


@cache
def later_routers() -> tuple[Router, ...]:
    """All the others. Loading them takes as long as all that comes before the first page."""
    return tuple(map(_router, LATER))


def all_routers() -> tuple[Router, ...]:
    """Every page."""
    return first_routers() + later_routers()


def _router(name: str) -> Router:
    router = import_module(f"waney.web.pages.{name}").router
    assert isinstance(router, Router)
    return router
