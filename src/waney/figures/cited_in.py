"""Cited in: where each source of the registry is used, read off the packaged tables and the program's own text."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from types import MappingProxyType

from waney.figures.sources import sources
from waney.figures.tables import table

NOT_USES = ("sources",)
"""the registry itself"""


@cache
def uses() -> Mapping[str, tuple[str, ...]]:
    """By key of the registry: the tables that name it ("table of species") and the parts of the program that do ("drying").

    Empty: read for the methods pages and for checks only.
    """
    found: dict[str, set[str]] = {key: set() for key in sources()}
    named = re.compile(rf"(?<![\w-])({'|'.join(sorted(found, key=len, reverse=True))})(?![\w-])")
    for key, place in (*_in_tables(), *_in_program(named, files("waney"), "")):
        if key in found:
            found[key].add(place)
    return MappingProxyType({key: tuple(sorted(places)) for key, places in found.items()})


def _in_tables() -> Iterator[tuple[str, str]]:
    data = files("waney") / "data"
    for name in sorted(one.name.removesuffix(".csv") for one in data.iterdir() if one.name.endswith(".csv")):
        if name in NOT_USES:
            continue
        words = f"table of {name.replace('_', ' ')}"
        for row in table(name):
            for column, cell in row.items():
                if column.endswith("source") and cell:
                    yield from ((key.strip(), words) for key in re.split(r"[;,\s]+", cell))


def _in_program(named: re.Pattern[str], folder: Traversable, part: str) -> Iterator[tuple[str, str]]:
    for one in folder.iterdir():
        if one.is_dir():
            yield from _in_program(named, one, part or one.name)
        elif one.name.endswith(".py"):
            yield from ((key, part) for key in named.findall(one.read_text(encoding="utf-8")))
