"""Packing: questions and answers as bytes, the way they lie among the files of the book."""

from __future__ import annotations

import json
from functools import lru_cache
from typing import TypeVar

from waney.figures.typed_json import Decoder, Encoder, parsed

Value = TypeVar("Value")


def as_bytes(value: object) -> bytes:
    """A value of these modules; the same value gives the same bytes."""
    return json.dumps(Encoder().encode(value, type(value)), sort_keys=True).encode("utf-8")


@lru_cache(maxsize=256)
def read_back(content: bytes, kind: type[Value]) -> Value:
    """The value of some bytes; whoever asks for the same again gets it at once."""
    found: Value = Decoder().decode(parsed(content.decode("utf-8")), kind, "answer")
    return found
