"""Sessions: a signed cookie says who it is; a token made of it stands in every form that this person is shown."""

from __future__ import annotations

import hashlib
import hmac
import secrets
from dataclasses import dataclass

from itsdangerous import BadSignature, URLSafeTimedSerializer
from starlette.requests import Request
from starlette.responses import Response

from waney.web.access.members import Member, Members

COOKIE = "waney"
LASTS_S = 60 * 24 * 3600
TOKEN = "token"
TOKEN_HEADER = "x-waney-token"


@dataclass(frozen=True)
class Session:
    """Who looks at a page; member: None for somebody who has not signed in. nonce: of this cookie.

    covered: our own figures are hidden at this browser, because a buyer looks on.
    """

    member: Member | None
    nonce: str
    secret: str
    covered: bool = False

    @property
    def sees_own(self) -> bool:
        """Whether a page may show what the shop has spent, would ask, and who buys."""
        return self.member is not None and not self.covered

    @property
    def token(self) -> str:
        """What stands in each form."""
        return hmac.new(self.secret.encode(), f"token {self.nonce}".encode(), hashlib.sha256).hexdigest()

    def holds(self, token: str) -> bool:
        """Whether a form was made for this session."""
        return bool(token) and hmac.compare_digest(token.encode(), self.token.encode())


def session_of(request: Request, members: Members) -> Session:
    """The session that a request belongs to; a fresh one where there is none, or where it is not ours."""
    try:
        told = _signer(members).loads(request.cookies.get(COOKIE, ""), max_age=LASTS_S)
        return Session(
            _still(members.by_person(told["person"]), told["mark"]), told["nonce"], members.secret, bool(told.get("covered"))
        )
    except (BadSignature, KeyError, TypeError):
        return Session(None, secrets.token_hex(16), members.secret)


def keep_session(response: Response, session: Session, members: Members, *, secure: bool) -> None:
    """Hand the cookie to the browser."""
    told = {"person": session.member.person if session.member else "", "nonce": session.nonce, "mark": _mark(session.member)}
    told |= {"covered": "yes"} if session.covered else {}
    value = _signer(members).dumps(told)
    response.set_cookie(COOKIE, str(value), max_age=LASTS_S, httponly=True, samesite="lax", secure=secure)


def begun(member: Member | None, members: Members) -> Session:
    """A new session, with a new token: what was shown to somebody else is worth nothing now."""
    return Session(member, secrets.token_hex(16), members.secret)


def _still(member: Member | None, mark: str) -> Member | None:
    """The member, unless the password was changed since."""
    return member if member is not None and hmac.compare_digest(_mark(member), mark) else None


def _mark(member: Member | None) -> str:
    return hashlib.sha256(member.password.encode()).hexdigest()[:16] if member else ""


def _signer(members: Members) -> URLSafeTimedSerializer:
    return URLSafeTimedSerializer(members.secret, salt="session")
