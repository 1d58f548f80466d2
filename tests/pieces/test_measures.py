"""Board feet and surface measure against published examples. Sources are named beside each row."""

from __future__ import annotations

import pytest

from waney.pieces.measures import board_feet, surface_measure_ft2, tally_board_feet

IN, FT = 0.0254, 0.3048


@pytest.mark.parametrize(
    ("thick_in", "width_in", "length_in", "printed", "half_digit"),
    [
        (1, 9, 96, 6, 1e-9),  # woodworkers' tip sheet "etip04": 1 x 9 x 96 in is 6 board feet
        (1.5, 9, 96, 9, 1e-9),  # the same page
        (0.75, 9, 96, 6, 1e-9),  # the same page: a 3/4 in board is considered a full inch
        (2, 16, 96, 21.3, 0.05),  # consumer guide on measuring hardwood: 16 x 8 ft x 2 = 21.3
        (3, 8, 120, 20, 1e-9),  # sawmill page: 3 in x 8 in x 10 ft
        (1, 8, 96, 5.33, 0.005),  # guide on measuring timber: 4/4, 8 in, 8 ft
        (1, 4, 12, 0.333, 0.0005),  # per foot of 1 x 4, log-scale page (as the three below)
        (2, 4, 12, 0.667, 0.0005),
        (1, 6, 12, 0.5, 1e-9),
        (2, 6, 12, 1.0, 1e-9),
    ],
)
def test_board_feet_as_printed(thick_in: float, width_in: float, length_in: float, printed: float, half_digit: float) -> None:
    counted = board_feet(width_in * IN, length_in * IN, thick_in * IN, thin_counts_as_inch=True)
    assert counted == pytest.approx(printed, abs=half_digit)


def test_thin_boards_count_what_they_are_where_the_rule_does_not_apply() -> None:
    assert board_feet(9 * IN, 8 * FT, 0.75 * IN, thin_counts_as_inch=False) == pytest.approx(4.5)


def test_board_feet_in_a_cubic_metre_as_the_export_glossary_prints() -> None:
    """American hardwood export glossary: 424 board feet a cubic metre (423.8 before rounding)."""
    assert board_feet(1.0, 1.0, 1.0, thin_counts_as_inch=True) == pytest.approx(424, abs=0.5)


def test_surface_measure_drops_part_feet_and_rounds_to_the_nearest() -> None:
    """By the rule (common practice of hardwood graders, from memory): 6 1/4 in x 8 ft 10 in counts 6.25 x 8 / 12 = 4.17 -> 4."""
    assert surface_measure_ft2(6.25 * IN, 8 * FT + 10 * IN) == 4
    assert surface_measure_ft2(9 * IN, 6 * FT) == 5  # 4.5: up
    assert surface_measure_ft2(8 * IN, 8 * FT) == 5  # 5.33
    assert surface_measure_ft2(12 * IN, 12 * FT - 1e-6) == 11  # not yet twelve feet


@pytest.mark.parametrize("feet", range(1, 17))
def test_whole_feet_in_metres_stay_whole_feet(feet: int) -> None:
    assert surface_measure_ft2(12 * IN, feet * 0.3048) == feet


def test_the_tally_is_surface_measure_times_nominal_inches() -> None:
    assert tally_board_feet(8 * IN, 8 * FT, 2 * IN) == pytest.approx(10)
    assert tally_board_feet(8 * IN, 8 * FT, 0.75 * IN) == pytest.approx(5)
