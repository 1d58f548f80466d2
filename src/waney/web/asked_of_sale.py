"""What to ask before a piece is sold, and as a log comes in: questions of the place, as far as wood, bark and use are told."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from starlette.requests import Request

from waney.trade.local_rules import OF_A_SALE, Question, Use, at_a_sale, known_of, state_of, when_a_log_comes
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


def rules_of(settled: Mapping[str, str], species: str, bark: str = "", use: str = "", goes_to: str = "") -> tuple[Question, ...]:
    """The questions for a wood at the shop's own place; bark, use, goes_to: as they are told, empty: not told."""
    _, uses = USES.get(use, ("", OF_A_SALE))
    here, there = _ends(settled, goes_to)
    return at_a_sale(here, genus_of(species), bark=BARK.get(bark), uses=uses, goes_to=there)


def rules_for_a_buyer(settled: Mapping[str, str], some: Iterable[str], goes_to: str = "") -> tuple[Question, ...]:
    """Those that whoever takes these woods away has to ask, each once; what is taxed is the shop's to ask."""
    (here, there), uses = _ends(settled, goes_to), (Use.AWAY, Use.BUILDING)
    asked = (at_a_sale(here, genus_of(wood), bark=None, uses=uses, goes_to=there) for wood in some)
    return tuple(dict.fromkeys(one for questions in asked for one in questions))


def _ends(settled: Mapping[str, str], goes_to: str) -> tuple[str, str | None]:
    """The places that wood comes from and goes to, as the table calls them."""
    return state_of(settled.get(Setting.PLACE, "")), state_of(goes_to) if goes_to else None


def rules_of_a_log(settled: Mapping[str, str], species: str, *, bark: bool | None, theirs: bool) -> tuple[Question, ...]:
    """The questions as a log comes to the shop's own place; theirs: it is sawn for its owner."""
    return when_a_log_comes(state_of(settled.get(Setting.PLACE, "")), genus_of(species), bark=bark, theirs=theirs)


def asked_where_it_is_sold(request: Request, piece: PieceStands, goes_to: str) -> dict[str, object]:
    """What the page of a sale shows of it; goes_to: as the sale says, empty: it does not."""
    settled, bark, use = shop_of(request).settled(), request.query_params.get("bark", ""), request.query_params.get("use", "")
    goes_to = goes_to or request.query_params.get("goes_to", "").strip()
    rules = rules_of(settled, piece.species, bark, use, goes_to)
    told = {"bark": bark, "use": use, "goes_to": goes_to, "goes_known": known_of(state_of(goes_to))}
    return {"rules": rules, "uses": USES, "place": settled.get(Setting.PLACE, ""), **told}
