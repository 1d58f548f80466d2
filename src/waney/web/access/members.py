"""Members: who may sign in, and as what; kept in a file beside the book that only its owner can read."""

from __future__ import annotations

import json
import os
import secrets
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from enum import StrEnum
from pathlib import Path
from threading import Lock

from waney.figures.json_out import Encoder
from waney.figures.problem import Problem
from waney.figures.typed_json import BadJson, Decoder, parsed
from waney.web.access.passwords import fits, hashed, nobodys

NOBODYS = nobodys()
"""compared with where no such member is, so that a wrong name takes as long as a wrong password"""


class Role(StrEnum):
    """What a member may do."""

    OWNER = "owner"
    """decides, and lets others in"""
    HELPER = "helper"
    """writes down what happened"""


class MembersLost(Problem):
    """The file of members cannot be read."""


class NoMember(Problem):
    """There is no such member, or none can be made."""


@dataclass(frozen=True)
class Member:
    """Somebody who may sign in. person: the id in the book."""

    person: str
    called: str
    role: Role
    password: str


@dataclass(frozen=True)
class _Kept:
    secret: str
    members: tuple[Member, ...] = ()


@dataclass
class Members:
    """The file, read once and written whole whenever something changes."""

    path: Path
    _kept: _Kept
    _lock: Lock = field(default_factory=Lock)

    @classmethod
    def of(cls, path: Path) -> Members:
        """The members in a file; none where there is no file yet. Raises MembersLost."""
        if not path.exists():
            members = cls(path, _Kept(secrets.token_hex(32)))
            members._write(members._kept)
            return members
        try:
            return cls(path, Decoder().decode(parsed(path.read_text("utf-8")), _Kept, "members"))
        except BadJson as slip:
            raise MembersLost(f"{path.name} cannot be read ({slip}); move it away, and the first start is made again.") from None

    @property
    def secret(self) -> str:
        """What cookies are signed with."""
        return self._kept.secret

    @property
    def all(self) -> tuple[Member, ...]:
        """Everybody, in the order they came."""
        return self._kept.members

    def by_person(self, person: str) -> Member | None:
        """The member with an id."""
        return next((one for one in self.all if one.person == person), None)

    def signs_in(self, called: str, password: str) -> Member | None:
        """The member of that name, if it is the password."""
        member = next((one for one in self.all if one.called.casefold() == called.strip().casefold()), None)
        right = fits(password, member.password if member else NOBODYS)
        return member if right else None

    def let_in(self, person: str, called: str, role: Role, password: str) -> Member:
        """One more member. Raises NoMember, BadPassword."""
        name = " ".join(called.split())
        if not name or len(name) > 60 or not name.isprintable():
            raise NoMember("Write a name to be called by, up to 60 letters.")
        if any(one.called.casefold() == name.casefold() for one in self.all):
            raise NoMember(f"{name} is here already; take another name to sign in with.")
        member = Member(person, name, role, hashed(password))
        self._change(lambda kept: replace(kept, members=(*kept.members, member)))
        return member

    def new_password(self, person: str, password: str) -> None:
        """Another password for somebody. Raises BadPassword."""
        hash_ = hashed(password)
        self._change(lambda kept: replace(kept, members=tuple(_with(one, person, hash_) for one in kept.members)))

    def put_out(self, person: str) -> None:
        """Somebody may no longer sign in. Raises NoMember for the last owner."""
        left = tuple(one for one in self.all if one.person != person)
        if not any(one.role is Role.OWNER for one in left):
            raise NoMember("Somebody must be left who decides; make another owner first.")
        self._change(lambda kept: replace(kept, members=tuple(one for one in kept.members if one.person != person)))

    def _change(self, how: Callable[[_Kept], _Kept]) -> None:
        with self._lock:
            kept = how(self._kept)
            self._write(kept)
            self._kept = kept

    def _write(self, kept: _Kept) -> None:
        beside = self.path.with_name(self.path.name + ".new")
        beside.unlink(missing_ok=True)
        with os.fdopen(os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w", encoding="utf-8") as file:
            json.dump(Encoder().encode(kept, _Kept), file)
            file.flush()
            os.fsync(file.fileno())
        beside.replace(self.path)


def _with(member: Member, person: str, password: str) -> Member:
    return replace(member, password=password) if member.person == person else member
