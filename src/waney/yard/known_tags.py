"""Known tags: which names a book or a phone knows, and which of them somebody means who read a tag or typed its last characters.

`client/src/mill/tags.ts` does the same in the page; a test holds the two against each other.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from waney.yard.names import LIKE, MARK, OF_LOG, Name, check_character, read_name
from waney.yard.problems import BadName

WRONG = "too short, or a character is wrong or swapped"
ENOUGH = 4
"""so many characters from the end of a tag are enough where they fit one alone; its check character is the last of them"""


@dataclass(frozen=True)
class TagRun:
    """Names that follow each other, from code-first to code-last."""

    code: str
    first: int
    last: int

    def holds(self, name: Name) -> bool:
        """Whether a name is one of them."""
        return self.code == name.code and self.first <= name.number <= self.last


@dataclass(frozen=True)
class KnownTags:
    """free: names that stand on nothing, to be stapled on; taken: those of pieces."""

    free: tuple[TagRun, ...] = ()
    taken: tuple[TagRun, ...] = ()


def meant(known: KnownTags, written: str) -> Name:
    """The name that somebody read or typed: all of it, or at least four characters from its end; dashes, spaces and small letters
    do not matter. Of several that end so a free one is meant. Raises BadName with what to do."""
    characters = re.sub(r"[\s\-]", "", written.strip().upper().removeprefix(MARK)).translate(LIKE)
    whole = _whole(characters)
    if whole is not None and any(run.holds(whole) for run in known.free):
        return whole
    fit = set(_ending(known.free, characters)) | ({whole} if whole is not None else set())
    fit = fit or set(_ending(known.taken, characters))
    if not fit:
        raise BadName(
            f'"{written}" fits no tag that is known here: too short, or a character is wrong or swapped. Look at the tag again.'
        )
    if len(fit) > 1:
        raise BadName(f'"{written}" may be {" or ".join(map(str, sorted(fit)))}; type all of it.')
    return fit.pop()


def in_the_way(known: KnownTags, name: Name, own: str = "") -> str:
    """Why a name cannot be stapled on, as a sentence; empty where it can. own: what the piece is called already."""
    if name.number == OF_LOG:
        return f"{name} is the tag of a log. Take a tag for a piece."
    if str(name) != own and any(run.holds(name) for run in known.taken):
        return f"{name} stands on another piece already. Look at the tag again, or take another."
    return ""


def _whole(characters: str) -> Name | None:
    try:
        return read_name(characters)
    except BadName:
        return None


def _ending(runs: Sequence[TagRun], characters: str) -> Iterator[Name]:
    if len(characters) < ENOUGH:
        return
    body, check = characters[:-1], characters[-1]
    for run in runs:
        for number in range(run.first, run.last + 1):
            if f"{run.code}{number}".endswith(body) and check_character(f"{run.code}{number}") == check:
                yield Name(run.code, number)
