"""Grades by cutting units: the search against trying everything, the published worked examples, boards with known answers."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from functools import cache, partial
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from waney.pieces.face_map import BadMark, Face, FaceMap, Mark, MarkKind
from waney.pieces.grading.cuttings import SIXTEENTH_M, Blank, Cutting, best_cuttings, full_width_cuttings, holding
from waney.pieces.grading.grade import Board, grade
from waney.pieces.grading.rules import grade_rules
from waney.pieces.measures import FOOT_M, INCH_M


def every_clear(blank: Blank) -> list[Cutting]:
    """Every rectangle of the blank, to the unit, that holds no mark and has a least size."""
    return [
        Cutting(x0, x1, y0, y1)
        for x0 in range(blank.length)
        for x1 in range(x0 + 1, blank.length + 1)
        for y0 in range(blank.width)
        for y1 in range(y0 + 1, blank.width + 1)
        if any(y1 - y0 >= w and x1 - x0 >= ln for w, ln in blank.sizes)
        and not any(x0 < b and a < x1 and y0 < d and c < y1 for a, b, c, d in blank.blocked)
    ]


def apart(one: Cutting, other: Cutting) -> bool:
    return one.x1 <= other.x0 or other.x1 <= one.x0 or one.y1 <= other.y0 or other.y1 <= one.y0


def area(cutting: Cutting) -> int:
    return (cutting.x1 - cutting.x0) * (cutting.y1 - cutting.y0)


def most_by_trying(blank: Blank, most: int) -> int:
    """The most wood in sets of `most` or fewer rectangles that do not overlap, by trying all of them."""
    clear = sorted(every_clear(blank), key=area, reverse=True)
    best = 0

    def further(chosen: tuple[Cutting, ...], sum_: int, start: int) -> None:
        nonlocal best
        best = max(best, sum_)
        left = most - len(chosen)
        for at in range(start, len(clear)):
            if not left or sum_ + left * area(clear[at]) <= best:
                return
            if all(apart(clear[at], other) for other in chosen):
                further((*chosen, clear[at]), sum_ + area(clear[at]), at + 1)

    further((), 0, 0)
    return best


@st.composite
def small_blanks(draw: st.DrawFn) -> Blank:
    length, width = draw(st.integers(5, 11)), draw(st.integers(3, 7))
    boxes = []
    for _ in range(draw(st.integers(0, 4))):
        x, y = draw(st.integers(0, length - 1)), draw(st.integers(0, width - 1))
        boxes.append((x, min(length, x + draw(st.integers(1, 3))), y, min(width, y + draw(st.integers(1, 2)))))
    areas = [holding([(2, 0)], 6, width), holding([(1, 0)], 9, width)]
    sizes = draw(st.sampled_from([((1, 2),), ((2, 3),), ((1, 4), (2, 3)), ((2, 4), (3, 2)), *areas]))
    return Blank(length, width, sizes, tuple(boxes))


@settings(max_examples=60)
@given(small_blanks(), st.integers(1, 4))
def test_no_set_of_clear_rectangles_holds_more_than_the_one_found(blank: Blank, most: int) -> None:
    found = best_cuttings(blank, most)
    assert found.exact
    assert sum(map(area, found.cuttings)) == most_by_trying(blank, most)
    assert len(found.cuttings) <= most and all(apart(a, b) for a, b in combinations(found.cuttings, 2))
    assert set(found.cuttings) <= set(every_clear(blank))


def most_by_sawing(blank: Blank) -> int:
    """The most wood that crosscutting and ripping give, in any number of cuttings, by trying every cut at every unit."""
    clear = {(c.x0, c.x1, c.y0, c.y1): area(c) for c in every_clear(blank)}

    @cache
    def best(x0: int, x1: int, y0: int, y1: int) -> int:
        crosscut = (best(x0, x, y0, y1) + best(x, x1, y0, y1) for x in range(x0 + 1, x1))
        ripped = (best(x0, x1, y0, y) + best(x0, x1, y, y1) for y in range(y0 + 1, y1))
        return max(clear.get((x0, x1, y0, y1), 0), *crosscut, *ripped, 0)

    return best(0, blank.length, 0, blank.width)


@settings(max_examples=60)
@given(small_blanks())
def test_no_crosscutting_and_ripping_gives_more_than_any_number_of_cuttings_found(blank: Blank) -> None:
    found = best_cuttings(blank, None)
    assert found.exact
    assert sum(map(area, found.cuttings)) == most_by_sawing(blank)
    assert all(apart(a, b) for a, b in combinations(found.cuttings, 2)) and set(found.cuttings) <= set(every_clear(blank))


@given(st.integers(1, 40), st.integers(0, 40), st.integers(1, 300), st.integers(40, 60))
def test_a_least_area_stands_as_the_least_sizes_that_hold_it(width: int, length: int, square: int, widest: int) -> None:
    sizes = holding([(width, length)], square, widest)
    for w in range(1, widest + 1):
        for ln in (1, 2, 5, 17, 100, 300):
            holds = w >= width and ln >= length and w * ln >= square
            assert any(w >= a and ln >= b for a, b in sizes) == holds


@settings(max_examples=25)
@given(small_blanks())
def test_with_any_number_of_cuttings_nothing_more_is_found_by_allowing_many(blank: Blank) -> None:
    assert (
        best_cuttings(blank, None).units == pytest.approx(best_cuttings(blank, 8).units)
        or len(best_cuttings(blank, None).cuttings) > 8
    )
    assert best_cuttings(blank, None).units >= best_cuttings(blank, 4).units


def test_a_cutting_squeezed_to_its_least_length_is_found() -> None:
    """Two marks leave an L: 10 of 24 in full height; the rest pays most when the tall cutting has exactly its least length."""
    blank = Blank(12, 4, ((2, 5),), ((5, 12, 2, 4),))
    assert sum(map(area, best_cuttings(blank, 2).cuttings)) == most_by_trying(blank, 2)


@pytest.mark.parametrize(
    ("short", "units", "cuttings"),
    [("FAS", 120, 3), ("1C", 96, 4), ("2A", 72, 6)],
)
def test_a_board_of_twelve_square_feet_needs_what_the_chart_says(short: str, units: float, cuttings: int) -> None:
    # worked examples D11 and D12: NHLA rule chart (seen)
    way = grade_rules()[short].ways(12)[0]
    assert (way.units, way.cuttings) == (units, cuttings)


@pytest.mark.parametrize(("short", "share"), [("FAS", 10 / 12), ("1C", 2 / 3), ("2A", 1 / 2), ("3A", 1 / 3), ("3B", 1 / 4)])
def test_multipliers_are_the_published_shares_of_the_face(short: str, share: float) -> None:
    # 83-1/3, 66-2/3, 50, 33-1/3, 25 % (chart, seen)
    assert grade_rules()[short].ways(8)[0].units / (8 * 12) == pytest.approx(share)


def test_cuttings_never_exceed_the_charts_most() -> None:
    # chart: FAS 4, 1 Common 5, 2 Common 7 whatever the size; an extra one only between the listed measures
    for short, most in (("FAS", 4), ("1C", 5), ("2A", 7)):
        assert [grade_rules()[short].ways(sm)[0].cuttings for sm in (24, 40)] == [most, most]
    assert [len(grade_rules()["1C"].ways(sm)) for sm in (10, 11)] == [2, 1]


def mark(
    kind: MarkKind, x_in: float, y_in: float, across_in: float = 1.0, face: Face | None = None, along_in: float = 0.0
) -> Mark:
    half, long = across_in / 2 * INCH_M, (along_in or across_in) / 2 * INCH_M
    x, y = x_in * INCH_M, y_in * INCH_M
    return Mark(kind, face, x - long, x + long, y - half, y + half)


def board(*marks: Mark, width_in: float = 8.0, length_ft: float = 12.0, kiln_dried: bool = False) -> Board:
    return Board(length_ft * FOOT_M, width_in * INCH_M, FaceMap(marks), kiln_dried)


def short_of(given: Board) -> str | None:
    found = grade(given).grade
    return found.short if found else None


def test_a_clear_board_is_fas_and_only_its_size_can_lower_it() -> None:
    assert short_of(board()) == "FAS"
    assert short_of(board(width_in=5.0)) == "Selects" and short_of(board(length_ft=7.0)) == "Selects"
    assert short_of(board(width_in=3.5)) == "1C"
    assert short_of(board(length_ft=3.5)) is None
    # kiln-dried: half an inch of shrinkage in the least width (chart, seen)
    assert short_of(board(width_in=5.6)) == "Selects" and short_of(board(width_in=5.6, kiln_dried=True)) == "FAS"


def test_one_face_decides_between_fas_and_fas_one_face() -> None:
    places = ((40.0, 2.5), (75.0, 5.5), (110.0, 2.5))
    assert short_of(board(*(mark(MarkKind.KNOT, x, y, 1.0, Face.B) for x, y in places))) == "F1F"
    assert short_of(board(*(mark(MarkKind.KNOT, x, y, 1.0) for x, y in places))) == "1C"


def test_knots_in_one_row_leave_two_long_cuttings() -> None:
    """8 in by 12 ft, three knots of 1 in in the middle: two cuttings of 3-1/2 in by 12 ft are 84 of 80 units needed."""
    found = grade(board(*(mark(MarkKind.KNOT, x, 4.0, 1.0) for x in (40.0, 75.0, 110.0))))
    assert found.grade is not None and found.grade.short == "FAS"
    assert [cut.found.units for cut in found.cuts] == [84.0, 84.0]


def test_a_hole_on_the_back_spoils_a_clear_face_cutting_and_a_sound_knot_does_not() -> None:
    """The reverse side of a clear-face cutting is sound (rule, seen: reverse side of the cuttings shall be sound)."""
    hole = FaceMap((mark(MarkKind.HOLE, 72.0, 4.0, face=Face.B),))
    knot = FaceMap((mark(MarkKind.KNOT, 72.0, 4.0, face=Face.B),))
    assert len(hole.not_clear(Face.A)) == 1 and len(knot.not_clear(Face.A)) == 0 and len(knot.not_clear(Face.B)) == 1


def test_sound_knots_make_2b_where_clear_cuttings_fail() -> None:
    knots = [mark(MarkKind.KNOT, x, y, 1.5) for x in range(10, 140, 14) for y in (2.0, 6.0)]
    assert short_of(board(*knots)) == "2B"


def test_a_3b_cutting_is_an_inch_and_a_half_wide_and_holds_36_square_inches() -> None:
    """52 by 6 in with three holes from edge to edge: the 6 by 12 in between them are 6 units each, of 6 that are needed
    (chart, seen: sound cuttings not less than 1-1/2 in wide containing 36 sq in)."""
    holes = [mark(MarkKind.HOLE, x, 3.0, 6.0, along_in=2.0) for x in (13.0, 26.0, 39.0)]
    found = grade(board(*holes, width_in=6.0, length_ft=52 / 12))
    assert found.grade is not None and found.grade.short == "3B" and found.exact
    # 52 in less three holes of 2 in, all of it in pieces of 36 sq in and more
    assert [cut.found.units for cut in found.cuts] == [pytest.approx((52 - 6) * 6 / 12)] * 2

    def strips(long_in: float, wide_in: float) -> float:
        """Units of a board of 4 ft by 5 in with one strip of such a size left sound."""
        spoiled = np.array([(0.0, 48.0, wide_in, 5.0), (long_in, 48.0, 0.0, wide_in)]) * INCH_M
        marks = [Mark(MarkKind.PUNKY, None, x0, x1, y0, y1) for x0, x1, y0, y1 in spoiled.tolist()]
        return min(cut.found.units for cut in grade(board(*marks, width_in=5.0, length_ft=4.0)).cuts)

    assert strips(24.0, 1.5) == pytest.approx(3.0) and strips(23.9, 1.5) == 0.0
    assert strips(18.0, 2.0) == pytest.approx(3.0) and strips(17.9, 2.0) == 0.0
    assert strips(36.0, 1.4) == 0.0


def test_limits_of_fas_hold_whatever_the_cuttings_give() -> None:
    # SM 8: a knot may be 8/3 in across, pith 8 in long, wane half of an edge (chart, seen)
    assert short_of(board(mark(MarkKind.KNOT, 15.0, 1.2, 2.4))) == "FAS"
    assert "across" in " ".join(grade(board(mark(MarkKind.KNOT, 15.0, 1.5, 3.0))).lacks)
    assert "pith" in " ".join(grade(board(mark(MarkKind.PITH, 20.0, 0.25, 0.5, along_in=9.0))).lacks)
    wane = mark(MarkKind.WANE, 40.0, 0.25, 0.5, along_in=74.0)
    assert "wane" in " ".join(grade(board(wane)).lacks)


def wane(face: Face, long_in: float, wide_in: float, *, at: float = 13.0, width_in: float = 5.0, far_edge: bool = False) -> Mark:
    y = width_in - wide_in / 2 if far_edge else wide_in / 2
    return mark(MarkKind.WANE, at + long_in / 2, y, wide_in, face, along_in=long_in)


def test_boards_four_and_five_inches_wide_are_selects_only_within_the_limits_on_both_faces() -> None:
    """5 in by 12 ft, wane on face B alone (chart, seen: Selects 4-5 in wide, the same limits on both faces)."""
    assert short_of(board(wane(Face.B, 70.0, 0.3), width_in=5.0)) == "Selects"
    long = grade(board(wane(Face.B, 90.0, 0.3), width_in=5.0))
    assert long.grade is not None and long.grade.short == "1C"
    assert "Selects: face B: wane on one edge over half of the length." in long.lacks
    # SM 5: pith 5 in long, knots 5/3 in across
    assert short_of(board(mark(MarkKind.PITH, 20.0, 0.25, 0.3, Face.B, along_in=6.0), width_in=5.0)) == "1C"
    # the same pith on one face of a board 6 in wide (SM 6, 7 in of pith) is no bar to FAS one face
    assert short_of(board(mark(MarkKind.PITH, 20.0, 0.25, 0.3, Face.B, along_in=7.0), width_in=6.0)) == "F1F"
    # kiln-dried 5-1/2 in counts as 6
    assert short_of(board(mark(MarkKind.PITH, 20.0, 0.25, 0.3, Face.B, along_in=7.0), width_in=5.6, kiln_dried=True)) == "F1F"


def test_the_poorer_face_of_fas_one_face_holds_no_wane_over_a_third_of_the_width_or_half_of_the_length() -> None:
    # chart, seen: 1/3 width or 1/2 length on the No. 1 Common face; both are asked, the careful reading of "or"
    knots = [mark(MarkKind.KNOT, x, y, 1.0, Face.B) for x, y in ((40.0, 2.5), (75.0, 5.5), (110.0, 2.5))]

    def poor(*found: Mark) -> str | None:
        return short_of(board(*knots, *found))

    assert [poor(wane(Face.B, 8.0, wide)) for wide in (2.6, 2.8)] == ["F1F", "1C"]
    assert [poor(wane(Face.B, long, 0.3)) for long in (70.0, 74.0)] == ["F1F", "1C"]
    # on both edges at one place the widths count together
    one, at_other_edge = wane(Face.B, 4.0, 1.4), partial(wane, Face.B, 4.0, 1.4, width_in=8.0, far_edge=True)
    assert [poor(one, at_other_edge(at=place)) for place in (13.0, 18.0)] == ["1C", "F1F"]


def test_a_split_that_strays_over_an_inch_in_twelve_is_not_fas() -> None:
    """Chart, seen. A straight crack spoils 1/4 in across (ours), so a box of 10 in may be 1/4 + 10/12 in wide."""
    assert short_of(board(mark(MarkKind.CRACK, 40.0, 1.0, 1.05, along_in=10.0))) == "FAS"
    straying = grade(board(mark(MarkKind.CRACK, 40.0, 1.0, 1.15, along_in=10.0)))
    assert straying.grade is not None and straying.grade.short == "1C"
    assert "a crack that strays 0.9 in over 10.0 in, not over 1 in 12." in straying.lacks[0]
    assert short_of(board(mark(MarkKind.CRACK, 40.0, 1.0, 0.25, along_in=1.0))) == "FAS"


def test_an_end_foot_that_is_a_quarter_spoiled_is_not_fas() -> None:
    assert "foot" in " ".join(grade(board(mark(MarkKind.PUNKY, 6.0, 1.2, 2.4, along_in=12.0))).lacks)


def test_what_is_wrong_never_raises_a_grade() -> None:
    ranks = [*grade_rules(), None]
    rng = np.random.default_rng(5)
    marks: list[Mark] = []
    before = 0
    for _ in range(4):
        marks.append(mark(MarkKind.KNOT, float(rng.uniform(8, 136)), float(rng.uniform(1, 7)), float(rng.uniform(0.5, 2.0))))
        rank = ranks.index(short_of(board(*marks)))
        assert rank >= before
        before = rank


def test_full_width_lengths_are_those_between_marks() -> None:
    blank = Blank.of(3.0, 0.2, ((0.1, 0.5),), [(1.0, 1.1, 0.0, 0.05), (1.4, 1.5, 0.1, 0.12)])
    found = full_width_cuttings(blank, 2)
    lengths = [(c.x1 - c.x0) * SIXTEENTH_M for c in found.cuttings]
    assert lengths == pytest.approx([1.5, 1.0], abs=2 * SIXTEENTH_M)


def test_a_mark_without_size_is_refused() -> None:
    with pytest.raises(BadMark):
        Mark(MarkKind.CRACK, None, 0.1, 0.5, 0.2, 0.2)


def knots_of(shared: Path) -> Iterator[tuple[str, list[tuple[float, float, float, float]]]]:
    """Boxes round the knots of each Douglas-fir board, inches, over all surfaces, as seen from the wide face."""
    with (shared / "datasets" / "boards" / "douglas_fir_2x6_knots.csv").open() as file:
        rows = list(csv.DictReader(file))
    for name in sorted({row["board"] for row in rows}, key=int):
        boxes = []
        for row in (row for row in rows if row["board"] == name):
            angle, a, b = np.radians(float(row["angle_deg"])), float(row["semi_major_in"]), float(row["semi_minor_in"])
            half_x = float(np.hypot(a * np.cos(angle), b * np.sin(angle)))
            half_y = float(np.hypot(a * np.sin(angle), b * np.cos(angle))) if row["surface"] in ("0", "2") else 0.05
            x, y = float(row["x_in"]), float(row["y_in"])
            boxes.append((x - half_x, x + half_x, y - half_y, y + half_y))
        yield name, boxes


@pytest.mark.outside
def test_full_width_clear_lengths_are_those_of_76_measured_boards(shared: Path) -> None:
    """datasets/README.md (Fan, Wong & Zidek): the longest full-width clear length is 23 to 144 in, median 44 in."""
    longest = []
    for _, boxes in knots_of(shared):
        blank = Blank.of(144 * INCH_M, 5.5 * INCH_M, ((5.5 * INCH_M, 1 * INCH_M),), np.array(boxes) * INCH_M)
        best = best_cuttings(blank, 1).cuttings[0]
        longest.append((best.x1 - best.x0) / 16.0)
        assert best.units == full_width_cuttings(blank, 1).cuttings[0].units
    boards = len((shared / "datasets" / "boards" / "douglas_fir_2x6_boards.csv").read_text().splitlines()) - 1
    longest += [144.0] * (boards - len(longest))  # boards without a knot
    assert np.median(longest) == pytest.approx(44.0, abs=1.5)  # read to the inch there
    assert min(longest) == pytest.approx(23.0, abs=1.0) and max(longest) == 144.0
