"""The edges of a piece as its plan has them: a forecast that somebody holds against the wood, beside `waney measure`."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from waney.cli.app import WrittenWrong

if TYPE_CHECKING:
    from waney.cli.answers_piece import EdgesPlanned, FacePlanned
    from waney.papers.words import Shop
    from waney.sawing.facts import planned_outline as outlined


def say_planned(path: Path, name: str, shop: Shop, json: Path | None) -> None:
    """The piece of this name in a plan file. Raises WrittenWrong for a name that is not in it, Problem for what is no plan."""
    from waney.cli.doubts import SCENARIOS
    from waney.cli.files import read_text
    from waney.cli.progress import working
    from waney.cli.saying import say
    from waney.papers.planned_words import planned_edges, planned_rows
    from waney.sawing.facts.planned_outline import planned_outline
    from waney.sawing.plan_file import read_plan
    from waney.sawing.sheets.from_sheets import ready

    with working("Cutting it out of the log"):
        plan, sheets = read_plan(read_text(path))
        planned = next((one for one in plan.pieces if one.piece.name == name), None)
        if planned is None:
            raise WrittenWrong(
                f"No piece of this plan is called {name}; it has {', '.join(one.piece.name for one in plan.pieces)}."
            )
        at_hand = ready(sheets)
        found = planned_outline(plan, planned, at_hand.bench, at_hand.measured.shapes(SCENARIOS))

    def lines() -> Iterator[str]:
        yield f"{name} as its plan has it: a forecast, not measured"
        yield from (f"  {what}: {says}" for what, says in planned_rows(found, planned.piece, at_hand.bench.log.shrinking, shop))
        yield ""
        yield "To begin its piece sheet with; put right by a tape what differs:"
        edges = list(planned_edges(found, shop))
        for table, left, right in (("edges", 1, 2), ("under", 3, 4)):
            yield from _table(table, [(row[0], row[left], row[right]) for row in edges if row[left]])

    say(_answer(found), json, lines)


def _table(name: str, rows: list[tuple[str, str, str]]) -> Iterator[str]:
    if not rows:
        return
    yield f"[{name}]"
    for key, column in zip(("at", "left", "right"), zip(*rows, strict=True), strict=True):
        yield f"{key} = [{', '.join(_quoted(text) for text in column)}]"


def _quoted(text: str) -> str:
    """As a sheet has it: inches are written out, a quote would end the text."""
    return "'" + text + "'"


def _answer(found: outlined.OutlinePlanned) -> EdgesPlanned:
    from waney.cli.answers_piece import EdgesPlanned
    from waney.papers.planned_words import every_m

    places = found.places(every_m(found))
    upper, under = (_face(face, places) for face in (found.upper, found.under))
    return EdgesPlanned(found.name, found.thickness_m, upper, under)


def _face(face: outlined.FacePlanned | None, places: tuple[float, ...]) -> FacePlanned | None:
    from waney.cli.answers import ranged
    from waney.cli.answers_piece import FacePlanned

    if face is None:
        return None
    at = tuple(place for place in places if face.has(place))
    left, right = zip(*map(face.edges_at, at), strict=True)
    return FacePlanned(ranged(face.area_m2), at, left, right, tuple(ranged(face.width_at(place)) for place in at))
