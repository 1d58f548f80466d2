"""First start and sign-in."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.figures.problem import Problem
from waney.web.access.members import Member, Role
from waney.web.access.sessions import TOKEN, begun, keep_session
from waney.web.forms import Sent, see_that_it_is_ours, within
from waney.web.routes import Router
from waney.web.showing import page, session_at, shop_of
from waney.yard.services.pieces import add_person

FIRST, SIGN_IN, SIGN_OUT = "/first", "/sign-in", "/sign-out"
HERE = ("127.0.0.1", "::1", "testclient")
ONLY_HERE = "The first password is made on the machine itself: open the page there."
WRONG = "No such name and password. Look at capital letters; after five wrong tries wait a minute."
WAIT = "Too many wrong tries; wait a minute."
router = Router()


def _address(request: Request) -> str:
    return request.client.host if request.client else ""


@router.get(FIRST)
def first(request: Request) -> Response:
    """The very first page."""
    if shop_of(request).members.all:
        return RedirectResponse(SIGN_IN, 303)
    return page(request, "first.html", {"problem": "" if _address(request) in HERE else ONLY_HERE, "called": ""})


@router.post(FIRST)
async def make_owner(request: Request) -> Response:
    """The owner, and what the yard is called."""
    shop, form = shop_of(request), await request.form()
    see_that_it_is_ours(request, session_at(request), str(form.get(TOKEN, "")))
    called = str(form.get("called", ""))
    if shop.members.all:
        return RedirectResponse(SIGN_IN, 303)
    if _address(request) not in HERE:
        return page(request, "first.html", {"problem": ONLY_HERE, "called": called}, status=403)
    try:
        member = _let_owner_in(request, called, str(form.get("password", "")))
    except Problem as slip:
        return page(request, "first.html", {"problem": str(slip), "called": called}, status=400)
    return _signed_in(request, member, "/settings")


def _let_owner_in(request: Request, called: str, password: str) -> Member:
    """Access first, so that a password that is too short leaves nothing behind."""
    shop = shop_of(request)
    member = shop.members.let_in(shop.new_id(), called, Role.OWNER, password)
    hand = shop.hand("")
    add_person(hand, member.called, member.person)
    return member


@router.get(SIGN_IN)
def sign_in(request: Request) -> Response:
    """The way in."""
    return page(request, "sign_in.html", {"problem": "", "called": "", "after": request.query_params.get("after", "/")})


@router.post(SIGN_IN)
async def check(request: Request) -> Response:
    """Name and password."""
    shop, form = shop_of(request), await request.form()
    see_that_it_is_ours(request, session_at(request), str(form.get(TOKEN, "")))
    called, after = str(form.get("called", "")), str(form.get("after", "/"))
    if not shop.tries.allowed(_address(request)):
        return page(request, "sign_in.html", {"problem": WAIT, "called": called, "after": after}, status=429)
    member = shop.members.signs_in(called, str(form.get("password", "")))
    if member is None:
        shop.tries.wrong(_address(request))
        return page(request, "sign_in.html", {"problem": WRONG, "called": called, "after": after}, status=401)
    return _signed_in(request, member, after)


@router.post(SIGN_OUT)
def sign_out(sent: Sent) -> Response:
    """What waits on a phone stays there."""
    return _with(sent.request, None, "/")


def _signed_in(request: Request, member: Member, after: str) -> Response:
    return _with(request, member, within(after))


def _with(request: Request, member: Member | None, after: str) -> Response:
    shop = shop_of(request)
    answer = RedirectResponse(after, 303)
    keep_session(answer, begun(member, shop.members), shop.members, secure=shop.secure)
    return answer
