"""A figure as a page shows it: what, how much, and what it stands on."""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import lru_cache
from typing import TypeVar

from waney.figures.typed_json import Decoder, Encoder, parsed

Value = TypeVar("Value")


@dataclass(frozen=True)
class Figure:
    """says: likely, and from where to where; basis: what it stands on; source: its key on the page of sources, if any."""

    what: str
    says: str
    basis: str = ""
    source: str = ""


def as_bytes(value: object) -> bytes:
    """A value of these modules; the same value gives the same bytes."""
    return json.dumps(Encoder().encode(value, type(value)), sort_keys=True).encode("utf-8")


@lru_cache(maxsize=256)
def read_back(content: bytes, kind: type[Value]) -> Value:
    """The value of some bytes; whoever asks for the same again gets it at once."""
    found: Value = Decoder().decode(parsed(content.decode("utf-8")), kind, "answer")
    return found
