"""Streams: the history of one thing, named by what it is and its id."""

from __future__ import annotations

import re
from typing import NewType

from waney.yard.problems import BadAct

Stream = NewType("Stream", str)
"""log:ID, piece:ID, code:AB ..."""

KINDS = (
    "log", "plan", "day", "piece", "set", "spot", "person", "photo", "tree", "stem", "stack", "load",
    "quote", "hold", "lease", "sale", "wish", "count", "custom",
)  # fmt: skip
"""What is made by an act and has an id of its own."""
ID = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}")


def stream(kind: str, ident: str) -> Stream:
    """The stream of a thing."""
    return Stream(f"{kind}:{ident}")


def parts(name: str) -> tuple[str, str]:
    """Kind and id of a stream."""
    kind, _, ident = name.partition(":")
    return kind, ident


def checked_id(text: str, what: str) -> str:
    """An id: a random UUID in small letters. Raises BadAct."""
    if not ID.fullmatch(text):
        raise BadAct(f'{what}: "{text[:60]}" is no id; an id is a random UUID in small letters.')
    return text


def checked_stream(text: str, what: str, kinds: tuple[str, ...] = KINDS) -> Stream:
    """A stream of one of some kinds. Raises BadAct."""
    kind, ident = parts(text)
    if kind not in kinds:
        raise BadAct(f'{what}: "{text[:60]}" is none of {", ".join(kinds)}, a colon, and an id.')
    checked_id(ident, what)
    return Stream(text)
