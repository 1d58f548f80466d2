"""Drawings: what must be on them, where it must be, and that nothing says more by colour than by shape."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import numpy as np
import pytest

from waney.logs.frames import clock_to_xy
from waney.logs.measured import Hidden
from waney.logs.shape import Zone
from waney.papers.bed import bed_drawing
from waney.papers.butt import butt_drawing, up_clock
from waney.papers.drawing import plan_drawing
from waney.papers.ink import LARGE, PAPER, SCREEN, SMALL, Ink
from waney.papers.onto import Onto
from waney.papers.side import pith_ends, side_drawing
from waney.papers.subject import Subject
from waney.papers.svg import spread
from waney.papers.turn import clockwise_here, turn_drawing, turns
from waney.papers.words import INCHES, METRIC
from waney.sawing.facts.blocks import Block
from waney.sawing.mill import End
from waney.sawing.moves import Turn

from .conftest import Case, through_case

SVG = "{http://www.w3.org/2000/svg}"
Spots = list[tuple[str, float, float]]


def subject_of(case: Case) -> Subject:
    return Subject(case.plan, case.shape, case.mill, INCHES)


def every_drawing(case: Case, ink: Ink) -> list[str]:
    subject = subject_of(case)
    block = Block(End.TOP, 0.05, 2.0, 3)
    drawn = [
        butt_drawing(subject, ink, 160.0).text(),
        butt_drawing(subject, ink, 80.0, names=False).text(),
        side_drawing(subject, ink, 160.0, (block,)).text(),
    ]
    for lie in range(len(case.plan.lies)):
        drawn.append(bed_drawing(subject, ink, lie, 160.0).text())
        drawn += [turn_drawing(subject, ink, lie, 100.0).text()] if lie else []
    return drawn


def words_on(svg: str) -> Spots:
    found = ElementTree.fromstring(svg).iter(f"{SVG}text")
    return [(text.text or "", float(text.get("x", "")), float(text.get("y", ""))) for text in found]


def spot_of(svg: str, words: str) -> np.ndarray:
    return np.array(next((x, y) for said, x, y in words_on(svg) if said == words))


def test_the_same_drawing_comes_out_byte_for_byte(through: Case, half_turn: Case) -> None:
    for case in (through, half_turn):
        assert every_drawing(case, PAPER) == every_drawing(case, PAPER)


@pytest.mark.parametrize("ink", [PAPER, SCREEN])
def test_only_ground_ink_and_accent_are_used(through: Case, half_turn: Case, ink: Ink) -> None:
    for svg in every_drawing(through, ink) + every_drawing(half_turn, ink):
        assert set(re.findall(r"#[0-9A-Fa-f]{6}", svg)) <= {ink.ground, ink.ink, ink.accent}
        assert not re.search(r"(?:fill|stroke)=\"(?!#|none)", svg)


def luminance(colour: str) -> float:
    """Relative luminance as WCAG 2.1 defines it (from memory)."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.03928 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


@pytest.mark.parametrize("ink", [PAPER, SCREEN])
def test_ink_and_accent_stand_out_seven_to_one(ink: Ink) -> None:
    for colour in (ink.ink, ink.accent):
        assert (luminance(ink.ground) + 0.05) / (luminance(colour) + 0.05) >= 7.0


def test_screen_and_paper_differ_in_ink_only(through: Case, half_turn: Case) -> None:
    def plain(svg: str, ink: Ink) -> str:
        for colour in (ink.ground, ink.ink, ink.accent, ink.letters):
            svg = svg.replace(colour, "x")
        return svg

    for case in (through, half_turn):
        for paper, screen in zip(every_drawing(case, PAPER), every_drawing(case, SCREEN), strict=True):
            assert plain(paper, PAPER) == plain(screen, SCREEN)


def test_no_letters_are_smaller_than_a_wet_page_bears(through: Case, half_turn: Case) -> None:
    for svg in every_drawing(through, PAPER) + every_drawing(half_turn, PAPER):
        sizes = [float(size) for size in re.findall(r'font-size="([\d.]+)"', svg)]
        # figures of a fraction are 0.72 of the smallest name, which is 0.8 of SMALL in a thin piece
        assert min(sizes) >= 0.72 * 0.8 * SMALL - 0.01


def test_every_piece_is_named_and_outside_slabs_are_left_open(through: Case, half_turn: Case) -> None:
    for case in (through, half_turn):
        said = {words for words, _, _ in words_on(butt_drawing(subject_of(case), PAPER, 160.0).text())}
        assert {p.piece.name.removeprefix("W12-") for p in case.plan.pieces} <= said
        assert not [words for words in said if "outside" in words]


def test_thicknesses_stand_in_the_pieces(through: Case) -> None:
    svg = bed_drawing(subject_of(through), PAPER, 0, 160.0).text()
    x, y = spot_of(svg, "3")
    near = [words for words, a, b in words_on(svg) if abs(b - y) < 3.0 and 0 < a - x < 16.0]
    assert near[:4] == ["2", "1", "4", "in"]  # 2 1/4 in


def test_bed_heights_stand_beside_the_cuts_from_the_top_down(through: Case, half_turn: Case) -> None:
    for case, lie in ((through, 0), (half_turn, 0), (half_turn, 1)):
        subject = subject_of(case)
        texts = ElementTree.fromstring(bed_drawing(subject, PAPER, lie, 160.0).text()).iter(f"{SVG}text")
        large = [t for t in texts if t.get("font-size") == f"{LARGE:g}" and (t.text or "").isdigit()]
        column = [t.text for t in sorted(large, key=lambda t: float(t.get("y", "")))]
        assert column == [subject.height(one.height_steps).whole for one in subject.passes(lie)]


def test_the_crayon_line_points_up_when_the_log_is_rolled() -> None:
    for roll in (0.0, 70.0, 200.0, 350.0):
        subject = subject_of(through_case(roll_deg=roll))
        # rolled clockwise by an hour (30 degrees), 11 o'clock comes up
        assert up_clock(subject.plan) == pytest.approx((12 - roll / 30) % 12 or 12.0, abs=0.02)


def nail_case(end: End, roll_deg: float = 0.0) -> Case:
    x, y = clock_to_xy(3, 0.2)
    return through_case(end, roll_deg, zones=(Zone(Hidden.METAL, 0.5, 0.6, x, y, 0.01),))


def nail_is_right(svg: str) -> bool:
    """Whether the nail's name lies right of the middle of the first outline drawn."""
    outline = ElementTree.fromstring(svg).find(f"{SVG}path")
    assert outline is not None
    across = [float(pair.split()[0]) for pair in re.findall(r"-?[\d.]+ -?[\d.]+", outline.get("d", ""))]
    return bool(spot_of(svg, "metal")[0] > (min(across) + max(across)) / 2)


@pytest.mark.parametrize("end", list(End))
def test_a_nail_at_three_o_clock_is_on_the_right_of_the_butt_and_on_the_left_of_the_top(end: End) -> None:
    subject = subject_of(nail_case(end))
    assert nail_is_right(butt_drawing(subject, PAPER, 160.0).text())
    assert nail_is_right(bed_drawing(subject, PAPER, 0, 160.0).text()) == (end is End.BUTT)


def test_a_nail_rolls_with_the_log() -> None:
    svg = bed_drawing(subject_of(nail_case(End.BUTT, 90.0)), PAPER, 0, 160.0).text()
    nail, up = spot_of(svg, "metal"), spot_of(svg, "up")
    # from 3 o'clock a quarter turn clockwise leads to 6: below the middle, right under the crayon line
    assert abs(nail[0] - up[0]) < 20
    assert nail[1] - up[1] > 60


def test_the_pith_is_drawn_where_the_plan_puts_it(through: Case) -> None:
    heights = pith_ends(subject_of(through))[:, 1]
    assert heights[0] == pytest.approx(heights[1], abs=1e-9)  # this plan is tipped parallel to the pith


def test_a_turn_looks_the_other_way_from_the_other_end(half_turn: Case) -> None:
    quarter = Turn(1, onto_flat=False)
    butt = subject_of(half_turn)
    top = subject_of(through_case(End.TOP))
    assert clockwise_here(butt, quarter)
    assert not clockwise_here(top, quarter)
    assert clockwise_here(top, Turn(3, onto_flat=False))
    assert len(turns(butt)) == 1


def test_a_block_is_drawn_with_its_height(through: Case) -> None:
    svg = side_drawing(subject_of(through), PAPER, 160.0, (Block(End.TOP, 0.0254 * 2.125, 2.7, 4),)).text()
    said = [words for words, _, _ in words_on(svg)]
    assert said[said.index("block") + 1 :][:3] == ["2", "1", "8"]


def test_metric_drawings_show_millimetres(through: Case) -> None:
    subject = Subject(through.plan, through.shape, through.mill, METRIC)
    assert "mm" in {words for words, _, _ in words_on(butt_drawing(subject, PAPER, 160.0).text())}


def test_a_whole_plan_holds_every_part_of_itself(half_turn: Case) -> None:
    svg = plan_drawing(subject_of(half_turn), SCREEN)
    said = [words for words, _, _ in words_on(svg)]
    assert said.count("Seen from the butt end") == 2
    assert {"Butt end", "From the side; heights drawn 2 times as tall", "before", "after"} <= set(said)
    sheet = ElementTree.fromstring(svg)
    shifts = [float(re.findall(r"[\d.]+", g.get("transform", ""))[1]) for g in sheet.findall(f"{SVG}g[{SVG}title]")]
    assert shifts == sorted(shifts)
    assert shifts[-1] < float(sheet.get("viewBox", "").split()[3])


def test_crowded_figures_are_spread_and_stay_in_order() -> None:
    placed = spread([0.0, 1.0, 1.5, 30.0], 5.0, 0.0, 40.0)
    assert placed == [0.0, 5.0, 10.0, 30.0]
    assert np.diff(spread([38.0, 39.0, 40.0], 5.0, 0.0, 40.0)).min() >= 5.0
    assert spread([38.0, 39.0, 40.0], 5.0, 0.0, 40.0)[-1] == 40.0


def test_words_never_stand_on_their_head() -> None:
    onto = Onto(None, End.BUTT, 100.0)
    for degrees in range(0, 360, 15):
        along = (np.cos(np.radians(degrees)), np.sin(np.radians(degrees)))
        assert -90.0 <= onto.angle(along) <= 90.0
