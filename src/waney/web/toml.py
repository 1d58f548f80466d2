"""Toml: what somebody typed, as values of a sheet."""

from __future__ import annotations

import json


def quoted(text: str) -> str:
    """A TOML string; JSON's escapes are among TOML's."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def as_number(text: str) -> str:
    """A number as it is, anything else as text for the reader of sheets to say what is wrong with it."""
    whole, _, part = text.partition(".")
    return text if whole.isdecimal() and whole.isascii() and (part.isdecimal() or "." not in text) else quoted(text)


def counted_in(text: str, unit: str) -> str:
    """A length with the unit of the form where somebody typed none; "" for a unit that goes without saying."""
    bare = unit and not any(letter.isalpha() or letter in "'\"′″’”" for letter in text)
    return f"{text} {unit}" if bare else text
