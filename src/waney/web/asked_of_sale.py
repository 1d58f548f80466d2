"""What to ask before a piece is sold, and as a log comes in: questions of the place, as far as wood, bark and use are told."""

from __future__ import annotations

from collections.abc import Mapping

from starlette.requests import Request

from waney.trade.local_rules import OF_A_SALE, Question, Use, at_a_sale, state_of, when_a_log_comes
from waney.web.showing import shop_of
from waney.yard.acts.settings import Setting
from waney.yard.book.looking import PieceStands
from waney.yard.services.woods import genus_of

BARK = {"on": True, "off": False}
USES: Mapping[str, tuple[str, tuple[Use, ...]]] = {
    "stays": ("it stays in this county, and carries nothing", (Use.SALE,)),
    "away": ("it leaves the county, the state or the country", (Use.SALE, Use.AWAY)),
    "building": ("it carries a load in a building here", (Use.SALE, Use.BUILDING)),
}
"""what is done with the wood, by the word of the address: in words, and what that asks"""


def rules_of(settled: Mapping[str, str], species: str, bark: str = "", use: str = "") -> tuple[Question, ...]:
    """The questions for a wood at the shop's own place; bark, use: as they are told, empty: not told."""
    _, uses = USES.get(use, ("", OF_A_SALE))
    return at_a_sale(state_of(settled.get(Setting.PLACE, "")), genus_of(species), bark=BARK.get(bark), uses=uses)


def rules_for_a_buyer(settled: Mapping[str, str], species: str) -> tuple[Question, ...]:
    """Those that whoever takes the wood away has to ask; what is taxed is the shop's to ask."""
    return at_a_sale(state_of(settled.get(Setting.PLACE, "")), genus_of(species), bark=None, uses=(Use.AWAY, Use.BUILDING))


def rules_of_a_log(settled: Mapping[str, str], species: str, *, bark: bool | None, theirs: bool) -> tuple[Question, ...]:
    """The questions as a log comes to the shop's own place; theirs: it is sawn for its owner."""
    return when_a_log_comes(state_of(settled.get(Setting.PLACE, "")), genus_of(species), bark=bark, theirs=theirs)


def asked_where_it_is_sold(request: Request, piece: PieceStands) -> dict[str, object]:
    """What the page of a sale shows of it."""
    settled, bark, use = shop_of(request).settled(), request.query_params.get("bark", ""), request.query_params.get("use", "")
    rules = rules_of(settled, piece.species, bark, use)
    return {"rules": rules, "uses": USES, "bark": bark, "use": use, "place": settled.get(Setting.PLACE, "")}
