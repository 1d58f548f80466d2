"""Default: what stands in for a field of a sheet that was left blank. Every one of them can be printed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeVar

from waney.figures.estimate import Basis, Ground
from waney.units.sheet import Reader, Table

T = TypeVar("T")

COMMON_PRACTICE = Basis(Ground.DEFAULT, "")


@dataclass(frozen=True)
class Default:
    """The field as its sheet names it, what stands in for it in words, and on what that rests.

    basis is None where nothing stands in: the thing is simply not counted.
    """

    field: str
    value: str
    basis: Basis | None

    def __str__(self) -> str:
        return f"{self.field}: {self.value} ({self.basis})" if self.basis else f"{self.field}: {self.value}"


@dataclass(frozen=True)
class Fields:
    """A table of a sheet, read field by field; what was left blank is filled in and kept in `filled`, in that order."""

    table: Table
    filled: list[Default]

    def fill(self, key: str, read: Reader[T], default: T, says: str, basis: Basis = COMMON_PRACTICE) -> T:
        """What was typed, else the default, which is then noted: `says` is how it reads in print."""
        typed = self.table.take(key, read)
        if typed is not None:
            return typed
        self.note(key, says, basis)
        return default

    def blank(self, key: str, read: Reader[T], says: str) -> T | None:
        """What was typed, else None: `says` is what that means."""
        typed = self.table.take(key, read)
        if typed is None:
            self.note(key, says, None)
        return typed

    def note(self, key: str, says: str, basis: Basis | None = COMMON_PRACTICE) -> None:
        """Note what holds in place of a blank field."""
        self.filled.append(Default(self.table.dotted(key), says, basis))
