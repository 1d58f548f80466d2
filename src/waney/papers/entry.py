"""Entry: one thing to do, as it stands on the height card."""

from __future__ import annotations

from dataclasses import dataclass

from waney.papers.words import Measure, Said


@dataclass(frozen=True)
class Entry:
    """One thing to do. A height is printed large; a heading opens a lie, a turn or an edging and may have a drawing."""

    heading: str = ""
    drawing: str = ""
    before: tuple[Said, ...] = ()
    """what must be so before it is done, in bold"""
    cautions: tuple[str, ...] = ()
    label: str = ""
    height: Measure | None = None
    title: Said = ()
    lines: tuple[Said, ...] = ()
