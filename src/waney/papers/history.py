"""Piece history: where a piece grew, what it measures, and everything that was done to it, with who and when."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from waney.papers.paper import Column, Heading, Paper, Part, Picture, Sentence, Table, cell, paper, warn
from waney.papers.words import Measure, Shop, day, said

NOT_KNOWN = "not known"


@dataclass(frozen=True)
class Known:
    """One thing that is known of a piece: "thickness, green" 2 1/8 in; None: it is said that it is not known."""

    what: str
    figure: str | Measure | None


@dataclass(frozen=True)
class Happened:
    """One event, in the words of the yard. when None: nobody wrote down the day."""

    when: date | None
    what: str
    who: str = ""


def piece_history(
    name: str,
    wood: str,
    known: Sequence[Known],
    happened: Sequence[Happened],
    shop: Shop,
    printed: date,
    *,
    place: Picture | None = None,
) -> Paper:
    """What is known of a piece and what happened to it, oldest first. `place`: its place in the log, drawn."""
    parts: list[Part] = [known_table("what is known", known)]
    if place is not None:
        parts += [Heading("Its place in the log"), place]
    parts.append(Heading("What happened"))
    if happened:
        columns = (Column("day", 1.1), Column("what", 3), Column("who", 0.8))
        parts.append(Table(columns, tuple(_event(one) for one in happened)))
    else:
        parts.append(Sentence(said("Nothing is written down.")))
    parts.append(warn("sale"))
    return paper("Piece history", name, wood, parts, shop, printed)


def known_table(heading: str, known: Sequence[Known]) -> Table:
    """What is known, a line for each."""
    return Table((Column(heading, 1.2), Column("", 1.4)), tuple(_fact(one) for one in known), strong=1)


def _fact(one: Known) -> tuple[tuple[str | Measure, ...], ...]:
    return cell(one.what), cell(NOT_KNOWN if one.figure is None else one.figure)


def _event(one: Happened) -> tuple[tuple[str | Measure, ...], ...]:
    return cell(day(one.when) if one.when else NOT_KNOWN), cell(one.what), cell(one.who)
