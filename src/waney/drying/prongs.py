"""Prongs: what the prongs of a slotted section do, and what stress that tells of."""

from __future__ import annotations

from dataclasses import dataclass

from waney.figures.estimate import Basis
from waney.figures.problem import Problem
from waney.figures.sources import cited
from waney.figures.tables import table

SETTLED_H = 24.0
"""Hours after which prongs have settled: until then a wetter middle bends them too. Source: fpl-ah-188
(memory); that a wetter middle misleads was read (wengert-prongs)."""


class NoSuchSign(Problem):
    """Something that prongs do not do."""


@dataclass(frozen=True)
class Stress:
    """word: what it is called; means: what pulls; to_do: what helps; settled: whether the section stood long enough to tell."""

    word: str
    means: str
    to_do: str
    settled: bool
    basis: Basis

    @property
    def said(self) -> str:
        """In a sentence."""
        sure = "" if self.settled else f"; look again {SETTLED_H:.0f} hours after the saw: a wetter middle bends prongs too"
        return f"{self.word}: {self.means}{sure}"


def stress_of(seen: str, hours: float | None) -> Stress:
    """The stress behind what was seen; hours: since the section was cut, None is not told. Raises NoSuchSign."""
    row = next((row for row in table("prong_signs") if row["seen"] == seen), None)
    if row is None:
        known = ", ".join(row["seen"] for row in table("prong_signs"))
        raise NoSuchSign(f'"{seen}" is nothing that prongs do; they {known}.')
    settled = hours is not None and hours >= SETTLED_H
    return Stress(row["stress"], row["means"], row["to_do"], settled, cited(row["source"], "prong test"))
