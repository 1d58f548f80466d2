"""Forms: what somebody sent, held against who they are; text -> values, with a sentence for each field that cannot be read."""

from __future__ import annotations

import re
from asyncio import to_thread
from collections.abc import Callable
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cached_property
from typing import TYPE_CHECKING, TypeVar
from uuid import UUID, uuid5

from starlette.datastructures import FormData, UploadFile
from starlette.requests import Request

from waney.figures.problem import Problem
from waney.units.length import parse_length
from waney.web.access.members import Member, Role
from waney.web.access.sessions import TOKEN, TOKEN_HEADER, Session
from waney.web.showing import session_at, shop_of
from waney.yard.book.looking import version_of
from waney.yard.problems import NotPossible
from waney.yard.services.hand import Hand
from waney.yard.streams import stream

if TYPE_CHECKING:  # slow to load, and the first page takes no pictures: loaded where one is taken
    from waney.yard.services.pictures import Picture

Value = TypeVar("Value")
Word = TypeVar("Word", bound=StrEnum)
MOST_FIELDS, MOST_FILES, LONGEST_FIELD = 2000, 200, 300_000


class NotSignedIn(Problem):
    """Sent needs somebody signed in."""


class NotAllowed(Problem):
    """This member may not do that."""


class OldForm(Problem):
    """The form was not made for this session."""


class BadField(Problem):
    """A field of an address or a form cannot be read."""


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

    @property
    def hand(self) -> Hand:
        """The hand that writes."""
        return shop_of(self.request).hand(self.member.person)

    def text(self, name: str) -> str:
        """What was typed in a field, without spaces around it; empty for nothing."""
        value = self.form.get(name, "")
        return value.strip() if isinstance(value, str) else ""

    @cached_property
    def makes(self) -> str:
        """The id of what this form makes, by its hidden field `blank`: the same form sent twice makes the same, with something
        else typed into it another thing."""
        try:
            blank = UUID(self.text("blank"))
        except ValueError:
            return shop_of(self.request).new_id()
        told = ((name, value if isinstance(value, str) else value.filename) for name, value in self.form.multi_items())
        return str(uuid5(blank, repr(sorted((name, value) for name, value in told if name != TOKEN))))

    def came_twice(self, kind: str) -> bool:
        """Whether what this form makes, a thing of this kind, is in the book already."""
        return bool(version_of(shop_of(self.request).book, stream(kind, self.makes)))

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
