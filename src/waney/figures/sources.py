"""Source: a publication that figures come from. The registry is `data/sources.csv`."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from types import MappingProxyType

from waney.figures.estimate import Basis, Ground
from waney.figures.tables import Row, table


class Status(StrEnum):
    """How the values of a source came to us."""

    SEEN = "seen"
    """read in the document, or in an open copy of it"""
    MIXED = "mixed"
    """some read, some remembered; the table's own rows say which"""
    MEMORY = "memory"
    """remembered, not yet checked against the document"""
    COMPUTED = "computed"
    """computed by us from an equation that was read"""


@dataclass(frozen=True)
class Source:
    """One row of the registry."""

    key: str
    title: str
    table: str
    """where in the publication"""
    year: str
    """of publication, as printed: 2021, c. 1825, undated"""
    status: Status

    def __str__(self) -> str:
        parts = (self.title, self.year, self.table)
        mark = {Status.MEMORY: " (from memory, not yet checked)", Status.MIXED: " (partly from memory)"}
        return ", ".join(part for part in parts if part) + mark.get(self.status, "")


class UnknownSource(LookupError):
    """A key that is not in the registry: a fault of ours, not of the person."""


@cache
def sources() -> Mapping[str, Source]:
    """Every source by its key, in the order of the file."""
    return MappingProxyType({row["key"]: _source(row) for row in table("sources")})


def _source(row: Row) -> Source:
    return Source(row["key"], row["title"], row["table"], row["year"] or "undated", Status(row["status"]))


def source(key: str) -> Source:
    """One source; raises UnknownSource.

    >>> source("fpl-gtr-282").year
    '2021'
    """
    try:
        return sources()[key]
    except KeyError:
        raise UnknownSource(f"{key} is not a key of data/sources.csv") from None


def cited(key: str, note: str = "") -> Basis:
    """A basis that names a source of the registry; raises UnknownSource. A remembered source says so in the note."""
    remembered = source(key).status is Status.MEMORY
    marked = "; ".join(part for part in (note, "from memory" if remembered else "") if part)
    return Basis(Ground.SOURCE, key, marked)
