"""Names on tags as they are typed into a field or read into it from a photo: parted, and looked up in the book."""

from __future__ import annotations

import re

from waney.yard.book.book import Book
from waney.yard.book.looking import named
from waney.yard.names import MARK
from waney.yard.problems import NotInBook

BETWEEN = re.compile(r"[\s,;]+")


def without_mark(text: str) -> str:
    """A name as it is written, also where a reader typed all that the code holds."""
    return text.removeprefix(MARK)


def names_in(text: str) -> tuple[str, ...]:
    """The names in a field, each once; between them spaces, commas, new lines."""
    return tuple(dict.fromkeys(without_mark(each) for each in BETWEEN.split(text) if each))


def piece_named(book: Book, name: str) -> str:
    """The piece that bears a name. Raises BadName, NotInBook."""
    kind, _, ident = (named(book, name) or "").partition(":")
    if kind != "piece":
        raise NotInBook(f"{name[:40]} stands on no piece in the book; look at the tag again.")
    return ident
