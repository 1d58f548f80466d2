"""Sheet told: what stands in a piece sheet, word for word, without reading figures out of it."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from typing import Any


def told_in(sheet: str) -> dict[str, Any]:
    """What stands in a sheet; a sheet that cannot be read tells nothing."""
    try:
        return tomllib.loads(sheet)
    except tomllib.TOMLDecodeError:
        return {}


def has_edges(told: Mapping[str, Any]) -> bool:
    """Whether the edges of a piece are told, by hand or on a photo."""
    return "edges" in told or "photo" in told


def has_shape(told: Mapping[str, Any]) -> bool:
    """Whether its edges, or its length and width, are told.

    >>> has_shape(told_in('length = "8 ft"')), has_shape(told_in("[edges]"))
    (False, True)
    """
    return has_edges(told) or {"length", "width"} <= told.keys()
