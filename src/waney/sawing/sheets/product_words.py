"""A product in a few words of the trade: "live-edge 8/4", "edged 4/4 quartersawn"."""

from __future__ import annotations

import re
from collections.abc import Mapping

_WORDS: tuple[tuple[str, str, str], ...] = (
    (r"(live|waney)[- ]edged?", "edges", "live"),
    (r"(square[- ]?)?edged", "edges", "edged"),
    (r"(flattened and )?planed", "surface", "planed"),
    (r"rough", "surface", "rough"),
    (r"quarter[- ]?sawn", "grain", "quarter"),
    (r"rift([- ]?sawn)?", "grain", "rift"),
    (r"(flat|plain)[- ]?sawn", "grain", "flat"),
)
_NOUNS = r"\b(slabs?|boards?|planks?|pieces?)\b|,"
"""They say nothing that the other words do not."""


def spelled_out(words: str) -> Mapping[str, object]:
    """The fields of a product table that the words stand for; what is no word of the trade is left as its thickness.

    >>> spelled_out("Live-edge slabs 8/4, rough")
    {'edges': 'live', 'surface': 'rough', 'thickness': '8/4'}
    """
    left, fields = words.lower(), dict[str, object]()
    for pattern, field, value in _WORDS:
        left, found = re.subn(rf"(?<![a-z]){pattern}(?![a-z])", " ", left)
        if found:
            fields[field] = value
    thickness = " ".join(re.sub(_NOUNS, " ", left).split())
    return fields | ({"thickness": thickness} if thickness else {})
