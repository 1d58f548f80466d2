"""A lie taken apart: every cut, part and state of what is left has a group of its own, and the nail goes with its part."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest

from waney.logs.frames import clock_to_xy
from waney.logs.measured import Hidden
from waney.logs.shape import Zone
from waney.papers.apart import apart_drawings
from waney.papers.ink import SCREEN
from waney.papers.subject import Subject
from waney.papers.words import INCHES

from .conftest import Case, through_case

SVG = "{http://www.w3.org/2000/svg}"


def sheets(case: Case) -> list[ElementTree.Element]:
    subject = Subject(case.plan, case.shape, case.mill, INCHES)
    return [ElementTree.fromstring(svg) for svg in apart_drawings(subject, SCREEN, 110.0)]


def numbers(sheet: ElementTree.Element, name: str) -> list[int]:
    return [int(one.get(f"data-{name}", "")) for one in sheet.iter(f"{SVG}g") if one.get(f"data-{name}")]


def test_every_cut_has_its_part_and_what_it_leaves(through: Case, half_turn: Case) -> None:
    for case in (through, half_turn):
        lies = [numbers(sheet, "ahead") for sheet in sheets(case)]
        assert [number for lie in lies for number in lie] == list(range(1, sum(map(len, lies)) + 1))
        for i, sheet in enumerate(sheets(case)):
            last = i == len(lies) - 1
            assert numbers(sheet, "part") == [*lies[i], *([lies[i][-1] + 1] if last else [])]
            assert numbers(sheet, "left") == [lies[i][0] - 1, *lies[i]]


@pytest.mark.parametrize(("hour", "right"), [(3, True), (9, False)])
def test_a_nail_goes_with_the_part_that_holds_it(hour: float, right: bool) -> None:
    x, y = clock_to_xy(hour, 0.2)
    (sheet,) = sheets(through_case(roll_deg=0.0, zones=(Zone(Hidden.METAL, 0.5, 0.6, x, y, 0.005),)))
    holders = [g for g in sheet.iter(f"{SVG}g") if g.get("data-part") and any(t.text == "metal" for t in g.iter(f"{SVG}text"))]
    assert len(holders) == 1
    (word,) = [t for t in sheet.iter(f"{SVG}text") if t.text == "metal"]
    assert (float(word.get("x", "")) > 55.0) == right  # mm; the middle of the sheet
