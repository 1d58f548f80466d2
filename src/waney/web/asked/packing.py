"""Packing: questions and answers as bytes, the way they lie among the files of the book."""

from __future__ import annotations

import json
import zlib
from base64 import b64decode, b64encode
from functools import lru_cache
from typing import TypeVar

from waney.figures.json_out import Encoder
from waney.figures.typed_json import Decoder, parsed

Value = TypeVar("Value")


def as_bytes(value: object) -> bytes:
    """A value of these modules; the same value gives the same bytes."""
    return json.dumps(Encoder().encode(value, type(value)), sort_keys=True).encode("utf-8")


@lru_cache(maxsize=256)
def read_back(content: bytes, kind: type[Value]) -> Value:
    """The value of some bytes; whoever asks for the same again gets it at once."""
    found: Value = Decoder().decode(parsed(content.decode("utf-8")), kind, "answer")
    return found


@lru_cache(maxsize=4)
def squeezed(text: str) -> str:
    """A long text in a question that is asked often, a few times shorter; empty stays empty. `whole_again` is its way back."""
    return b64encode(zlib.compress(text.encode("utf-8"), 9)).decode("ascii") if text else ""


@lru_cache(maxsize=4)
def whole_again(text: str) -> str:
    """What was squeezed."""
    return zlib.decompress(b64decode(text)).decode("utf-8") if text else ""
