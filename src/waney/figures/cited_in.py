"""Cited in: where each source of the registry is used, read off the packaged tables and the program's own text."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from types import MappingProxyType

from waney.figures.sources import sources

KEEPERS = ("sources.csv", "figures")
"""the registry and the package that reads it: they use none of it"""


@cache
def uses() -> Mapping[str, tuple[str, ...]]:
    """By key of the registry: the tables that name it, notes above them included ("table of species"), and the parts of the
    program that do ("drying").

    Empty: read for the methods pages and for checks only.
    """
    found: dict[str, set[str]] = {key: set() for key in sources()}
    named = re.compile(rf"(?<![\w-])({'|'.join(sorted(found, key=len, reverse=True))})(?![\w-])")
    for place, text in _texts(files("waney"), ""):
        for key in named.findall(text):
            found[key].add(place)
    return MappingProxyType({key: tuple(sorted(places)) for key, places in found.items()})


def _texts(folder: Traversable, part: str) -> Iterator[tuple[str, str]]:
    """Every table and module with what a page calls its place."""
    for one in folder.iterdir():
        if one.name in KEEPERS:
            continue
        if one.is_dir():
            yield from _texts(one, part or one.name)
        elif one.name.endswith(".py"):
            yield part, one.read_text(encoding="utf-8")
        elif one.name.endswith(".csv"):
            yield f"table of {one.name.removesuffix('.csv').replace('_', ' ')}", one.read_text(encoding="utf-8")
