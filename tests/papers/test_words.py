"""Figures come out as the units print them, taken apart and put together again."""

from __future__ import annotations

from datetime import date
from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from waney.papers.words import INCHES, METRIC, BadScale, Measure, clock, day, measure, plain, said, scale_grain, worth_words
from waney.prices.rules import PriceRules, Ranking
from waney.units.direction import Direction
from waney.units.length import Grain, parse_length, print_length

LENGTHS = st.floats(0.0, 12.0) | st.integers(0, 200).map(lambda k: k * 0.0254 / 64)
GRAINS = st.sampled_from(list(Grain))


@given(LENGTHS, GRAINS, st.sampled_from(list(Direction)))
def test_a_figure_taken_apart_reads_as_it_was_printed(metres: float, grain: Grain, direction: Direction) -> None:
    assert str(measure(metres, grain, direction)) == print_length(metres, grain, direction, feet_from_m=inf)


@given(LENGTHS)
def test_places_along_the_bed_come_back_to_the_nearest_eighth(metres: float) -> None:
    assert parse_length(str(INCHES.along(metres)), None) == pytest.approx(metres, abs=0.0254 / 16 + 1e-9)


def test_a_mixed_number_has_its_three_parts() -> None:
    assert measure(0.0254 * 13.4375, Grain.SIXTEENTH_INCH, Direction.READ) == Measure("13", "7", "16", "in")
    assert measure(0.0254 * 0.4375, Grain.SIXTEENTH_INCH, Direction.READ) == Measure("", "7", "16", "in")
    assert measure(0.054, Grain.MM, Direction.READ) == Measure("54", "", "", "mm")


@given(GRAINS, st.integers(1, 64))
def test_heights_on_a_scale_that_counts_in_a_grain_are_exact(grain: Grain, many: int) -> None:
    step = grain.metres * many
    printed = measure(step * 37, scale_grain(step), Direction.READ)
    assert parse_length(str(printed), None) == pytest.approx(step * 37, abs=1e-9)


def test_a_scale_that_no_grain_shows_is_refused_with_what_to_write() -> None:
    with pytest.raises(BadScale, match="1/16"):
        scale_grain(0.00127)


@given(st.floats(0.1, 9000.0))
def test_a_weight_to_lift_is_never_said_too_low_nor_a_hundredth_too_high(mass: float) -> None:
    number = float(METRIC.heavy(mass).split()[0])
    # three figures: at most one part in a hundred, and never less than one whole unit
    assert mass - 1e-6 <= number <= mass + max(1.0, mass / 100)


def test_clock_minutes_run_as_the_hour_hand_does() -> None:
    assert [clock(h) for h in (12.0, 3.0, 9.6666667, 0.3333, 11.9999)] == ["12:00", "3:00", "9:40", "12:20", "12:00"]


def test_a_sentence_holds_words_and_figures() -> None:
    assert plain(said("Drop ", measure(0.0254 * 2.375, Grain.EIGHTH_INCH, Direction.READ), ".")) == "Drop 2 3/8 in."


def test_days_are_written_out() -> None:
    assert day(date(2026, 5, 4)) == "4 May 2026"


@pytest.mark.parametrize(
    ("ranking", "words"), [(Ranking.MONEY, "$12.50"), (Ranking.LIKING, "12.50 points"), (Ranking.VOLUME, "12.50 litres")]
)
def test_worth_is_named_for_what_it_is(ranking: Ranking, words: str) -> None:
    assert worth_words(1250, PriceRules(ranking, "USD")) == words
