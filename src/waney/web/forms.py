"""Forms: what somebody sent, held against who they are; text -> values, with a sentence for each field that cannot be read."""

from __future__ import annotations

import re
from asyncio import to_thread
from collections.abc import Awaitable, Callable
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cached_property
from hashlib import sha256
from typing import TYPE_CHECKING, TypeVar
from urllib.parse import urlsplit, urlunsplit
from uuid import UUID, uuid5

from starlette.datastructures import FormData, UploadFile
from starlette.requests import Request
from starlette.responses import Response

from waney.figures.problem import Problem
from waney.units.length import parse_length
from waney.web.access.members import Member, Role
from waney.web.access.sessions import TOKEN, TOKEN_HEADER, Session
from waney.web.shop import ids_from
from waney.web.showing import session_at, shop_of
from waney.yard.problems import NotPossible
from waney.yard.services.hand import Hand

if TYPE_CHECKING:  # slow to load, and the first page takes no pictures: loaded where one is taken
    from waney.yard.services.pictures import Picture

Value = TypeVar("Value")
Word = TypeVar("Word", bound=StrEnum)
CAME_TWICE = (
    "This came before, and was written then: nothing was written a second time. Load the page anew to see how things stand."
)
BEGINS = 2**16
"""bytes by which a file is told from another of the same name and size"""
MOST_FIELDS, MOST_FILES, LONGEST_FIELD = 2000, 200, 300_000


class NotSignedIn(Problem):
    """Sent needs somebody signed in."""


class NotAllowed(Problem):
    """This member may not do that."""


class OldForm(Problem):
    """The form was not made for this session."""


class BadField(Problem):
    """A field of an address or a form cannot be read."""


class CameTwice(Problem):
    """What this form says was written before."""


def own_alone(request: Request, what: str) -> None:
    """For files that hold nothing but the shop's own figures. what: a sentence to who is not signed in.

    Raises NotSignedIn, NotPossible while our own figures are hidden at this browser.
    """
    session = session_at(request)
    if session.member is None:
        raise NotSignedIn(what)
    if not session.sees_own:
        raise NotPossible("Our own figures are hidden at this browser; show them again first.")


@dataclass(frozen=True)
class Sent:
    """A form that somebody who may write has sent."""

    request: Request
    session: Session
    member: Member
    form: FormData

    @cached_property
    def hand(self) -> Hand:
        """The hand that writes."""
        return shop_of(self.request).hand(self.member.person, self.form_id)

    @cached_property
    def form_id(self) -> str:
        """What this form is known by: sent twice it is the same, with something else typed into it another, as it is for somebody
        else; empty where it has no hidden field `blank`."""
        try:
            blank = UUID(self.text("blank"))
        except ValueError:
            return ""
        told = sorted((name, value if isinstance(value, str) else _known_by(value)) for name, value in self.form.multi_items())
        return str(uuid5(blank, repr((self.member.person, self.request.url.path, [one for one in told if one[0] != TOKEN]))))

    def text(self, name: str) -> str:
        """What was typed in a field, without spaces around it; empty for nothing."""
        value = self.form.get(name, "")
        return value.strip() if isinstance(value, str) else ""

    @property
    def typed(self) -> dict[str, str]:
        """Every field as it was typed, to be shown again."""
        return {name: value for name, value in self.form.items() if isinstance(value, str)}

    def all(self, name: str) -> tuple[str, ...]:
        """Every value of a field that stands several times."""
        return tuple(value for value in self.form.getlist(name) if isinstance(value, str))

    def choice(self, name: str, words: type[Word], otherwise: Word | None = None) -> Word:
        """One of the words of a list; otherwise: what no choice means. Raises BadField."""
        text = self.text(name)
        if not text and otherwise is not None:
            return otherwise
        if text not in tuple(words):
            raise BadField(f'"{text[:60]}" is none of these: {", ".join(words)}. Choose one of them.')
        return words(text)

    def whole(self, name: str) -> int:
        """A whole number; 0 for nothing. Raises BadField."""
        text = self.text(name)
        if text and not re.fullmatch(r"-?[0-9]{1,9}", text):
            raise BadField(f'"{text[:60]}" is no whole number.')
        return int(text or 0)

    def decides(self) -> None:
        """Only an owner goes on. Raises NotAllowed."""
        if self.member.role is not Role.OWNER:
            raise NotAllowed("Deciding this is the owner's; ask them, or leave a note.")


@dataclass
class Fields:
    """Reads fields one by one and keeps a sentence for each that cannot be read."""

    sent: Sent
    wrong: dict[str, str] = field(default_factory=dict)

    def read(self, name: str, reader: Callable[[str], Value]) -> Value | None:
        """The value of a field; None where nothing was typed or where it cannot be read."""
        text = self.sent.text(name)
        if not text:
            return None
        try:
            return reader(text)
        except (Problem, ValueError) as slip:
            self.wrong[name] = str(slip) if isinstance(slip, Problem) else f'"{text[:60]}" cannot be read here.'
            return None

    def length(self, name: str, bare_unit: str) -> float | None:
        """A length [m]; a number without a unit counts in the shop's own."""
        return self.read(name, lambda text: parse_length(text, bare_unit))

    def needed(self, name: str, sentence: str) -> str:
        """What was typed; says what is missing."""
        text = self.sent.text(name)
        if not text:
            self.wrong[name] = sentence
        return text


def within(after: str) -> str:
    """Where a page leads to next, if that is in this yard; else its first page."""
    return after if after.startswith("/") and not after.startswith(("//", "/\\")) else "/"


def came_from(request: Request) -> str:
    """The page of this yard on which a form stood, as the browser tells; else the first page."""
    page = urlsplit(request.headers.get("referer", ""))
    return within(urlunsplit(("", "", page.path, page.query, ""))) if page.netloc == request.url.netloc else "/"


async def sent(request: Request) -> Sent:
    """The form of a request, from somebody who may write. Raises OldForm, NotSignedIn."""
    form = await request.form(max_fields=MOST_FIELDS, max_files=MOST_FILES, max_part_size=LONGEST_FIELD)
    session = session_at(request)
    token = form.get(TOKEN, "") or request.headers.get(TOKEN_HEADER, "")
    see_that_it_is_ours(request, session, token if isinstance(token, str) else "")
    if session.member is None:
        raise NotSignedIn("Sign in first; what you wrote was not kept.")
    return Sent(request, session, session.member, form)


def see_that_it_is_ours(request: Request, session: Session, token: str) -> None:
    """A form of another site, or of an older session, is not taken. Raises OldForm."""
    elsewhere = request.headers.get("sec-fetch-site", "same-origin") not in ("same-origin", "none")
    if elsewhere or not session.holds(token):
        raise OldForm("This page was open for too long, or came from elsewhere; go back, load it anew, and send it again.")


async def done_once(sent: Sent, answers: Callable[[], Awaitable[Response]], says_so: bool) -> Response:
    """The answer to a form that is sent once or twice: it is done once. Raises CameTwice and what `answers` raises.

    says_so: `answers` sees itself that it came twice, and tells. Where nobody remembers the first answer (the yard was served
    anew since), `answers` is asked again: its commands have the same ids, so the book answers those that it holds and takes those
    that it lacks. If that is refused, what is known is said.
    """
    shop = shop_of(sent.request)

    async def again() -> Response:
        before = await to_thread(shop.book.holds, ids_from(sent.form_id, "writes")())
        try:
            answer = await answers()
        except Problem as why:
            if before:
                raise CameTwice(CAME_TWICE) from why
            raise
        if before and answer.status_code >= 400:
            raise CameTwice(CAME_TWICE)
        return answer

    return await shop.once.answer(sent.form_id, again, remembers=not says_so) if sent.form_id else await answers()


def _known_by(file: UploadFile) -> str:
    """Name, size and how it begins: phones give all photos the same name."""
    begins = file.file.read(BEGINS)
    file.file.seek(0)
    return f"{file.filename} {file.size} {sha256(begins).hexdigest()}"


async def upload(value: object) -> bytes | None:
    """The content of a file field; None for none chosen."""
    if not isinstance(value, UploadFile) or not value.filename:
        return None
    return await value.read()


WET = {"wet": True, "dry": False}


def wet_of(sent: Sent, field: str = "wet") -> bool | None:
    """Whether the wood in a photo is wet; None: nobody said."""
    return WET.get(sent.text(field))


async def photo(sent: Sent) -> Picture | None:
    """The field "photo", as it may be kept; None for none chosen. Raises BadPicture: ask before anything is written."""
    from waney.yard.services.pictures import picture

    content = await upload(sent.form.get("photo"))
    return None if content is None else await to_thread(picture, content, shop_of(sent.request).zone())
