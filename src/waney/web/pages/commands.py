"""Commands: a page's queue, a take-along page's tally, a typed list; all the same list."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from waney.web.access.members import Member, Role
from waney.web.access.sessions import TOKEN_HEADER
from waney.web.forms import NotAllowed, NotSignedIn, see_that_it_is_ours
from waney.web.routes import Router
from waney.web.showing import session_at, shop_of
from waney.yard.acts.base import Decision
from waney.yard.commands import Command, read_commands
from waney.yard.problems import BadCommands
from waney.yard.services.lists import Taken, take_in

router = Router()
LONGEST = 20_000_000
"""bytes; a day of some hundred pieces is below one"""


@router.post("/api/commands")
async def commands(request: Request) -> Response:
    """Take in a list; each command is answered. Raises NotSignedIn, NotAllowed, BadCommands."""
    session = session_at(request)
    see_that_it_is_ours(request, session, request.headers.get(TOKEN_HEADER, ""))
    if session.member is None:
        raise NotSignedIn("Sign in to send what waits here; nothing of it is lost.")
    text = await _text(request)
    see_who_decides(session.member, text)
    shop = shop_of(request)
    return JSONResponse({"commands": [_answered(each) for each in take_in(shop.book, text, shop.now())]})


def see_who_decides(member: Member, text: str) -> None:
    """Decisions of a list are the owner's to send. Raises NotAllowed, BadCommands."""
    if member.role is not Role.OWNER and any(_decides(each) for each in read_commands(text)):
        raise NotAllowed("This list holds decisions, and those are the owner's to send.")


async def _text(request: Request) -> str:
    body = await request.body()
    try:
        if len(body) <= LONGEST:
            return body.decode("utf-8")
    except UnicodeDecodeError:
        pass
    raise BadCommands("A list of commands is text in UTF-8, below 20 MB.")


def _decides(command: object) -> bool:
    names_taken = isinstance(command, Command) and type(command.act).__name__ == "NamesTaken"
    return isinstance(command, Command) and isinstance(command.act, Decision) and not names_taken


def _answered(taken: Taken) -> dict[str, object]:
    return {"id": taken.id, "came": str(taken.came), "seq": taken.seq, "sentence": taken.sentence, "tasks": list(taken.tasks)}


@router.get("/api/token")
def token(request: Request) -> Response:
    """The token of the session that is now: after signing in again a page that was open goes on with it."""
    session = session_at(request)
    return JSONResponse({"token": session.token, "person": session.member.person if session.member else ""})
