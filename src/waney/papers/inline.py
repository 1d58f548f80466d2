"""Inline: a photo within the file that shows it, so that paper and page need no other."""

from __future__ import annotations

from base64 import b64encode


def inline(photo: bytes) -> str:
    """A JPEG as an address that holds all of it."""
    return f"data:image/jpeg;base64,{b64encode(photo).decode('ascii')}"
