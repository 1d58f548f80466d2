"""Our own figures: one press hides them and the names of buyers on every selling page of this browser, another shows them."""

from __future__ import annotations

from dataclasses import replace

from starlette.responses import RedirectResponse, Response

from waney.web.access.sessions import keep_session
from waney.web.forms import BadField, Sent, within
from waney.web.routes import Router
from waney.web.showing import shop_of

router = Router()
DONE = {"hide": True, "show": False}


@router.post("/own-figures")
def own_figures(sent: Sent) -> Response:
    """Hide them or show them, and go back to where it was pressed. Raises BadField."""
    if sent.text("do") not in DONE:
        raise BadField("This form says nothing that can be done here; load the page anew.")
    shop = shop_of(sent.request)
    answer = RedirectResponse(within(sent.text("after")), 303)
    keep_session(answer, replace(sent.session, covered=DONE[sent.text("do")]), shop.members, secure=shop.secure)
    return answer
