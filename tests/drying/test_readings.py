"""Readings: weights, sample boards, meters, shell and core, each with its error."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from waney.drying.meter import Correction, Meter, read_meter
from waney.drying.sample_board import BadSampleBoard, SampleBoard, Section, wettest_and_driest
from waney.drying.shell_core import ShellCore
from waney.drying.weighing import BadWeighing, WeighingScale, Weight, coarse, weighed
from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.problem import OutOfRange
from waney.wood.density import BadWeights

FINE = WeighingScale(0.001)
READ = Basis(Ground.READING, "pin meter")
EXACT = Weight(4.0, 0.0)


def board(first_kg: float = 4.0) -> SampleBoard:
    return SampleBoard(weighed([first_kg], FINE), (Section(0.180, 0.100), Section(0.168, 0.100)))


def test_a_sample_board_follows_the_handbooks_steps() -> None:
    # worked example A9 (seen formula): OD = 100 W / (100 + M0), M = 100 (W / OD - 1); sections 80 and 68 % by hand
    sample = board()
    assert sample.mc == pytest.approx(0.74)
    assert sample.dry_kg == pytest.approx(100 * 4.0 / (100 + 74))
    assert sample.moisture(weighed([3.0], FINE)).likely == pytest.approx(3.0 / sample.dry_kg - 1)


@given(st.floats(0.2, 50.0), st.floats(0.05, 0.4))
def test_the_weight_on_the_tag_is_that_at_which_the_board_has_its_target(first_kg: float, target: float) -> None:
    sample = board(first_kg)
    tag = sample.target_kg(target)
    assert sample.moisture(Weight(tag.likely, 0.0)).likely == pytest.approx(target)
    assert tag.low < tag.likely < tag.high


def test_sections_that_differ_widen_the_answer() -> None:
    alike = SampleBoard(EXACT, (Section(0.17, 0.1), Section(0.17, 0.1)))
    apart = SampleBoard(EXACT, (Section(0.19, 0.1), Section(0.15, 0.1)))
    assert alike.mc == pytest.approx(apart.mc) and apart.moisture(EXACT).width > 2 * alike.moisture(EXACT).width


def test_one_section_is_not_enough_and_a_section_cannot_gain_in_the_oven() -> None:
    with pytest.raises(BadSampleBoard, match="two moisture sections"):
        SampleBoard(EXACT, (Section(0.18, 0.1),))
    with pytest.raises(BadWeights):
        SampleBoard(EXACT, (Section(0.10, 0.18), Section(0.18, 0.1)))


def test_wettest_and_driest_are_named() -> None:
    moistures = [Estimate.known(mc, READ) for mc in (0.3, 0.5, 0.2)]
    assert wettest_and_driest(moistures) == (1, 2)


@given(st.floats(0.05, 0.95), st.floats(20.0, 400.0))
def test_one_end_at_a_time_gives_the_whole_weight_wherever_its_centre_lies(share: float, kg: float) -> None:
    # moments about the end that rests: the lifted end bears the share of the centre's distance
    found = weighed([kg * share + 1.5, kg * (1 - share) + 1.5], FINE, tare_kg=3.0)
    assert found.kg == pytest.approx(kg)
    assert found.error_kg > weighed([kg], FINE).error_kg


@pytest.mark.parametrize(("readings", "tare"), [([], 0.0), ([1.0, 2.0, 3.0], 0.0), ([0.0], 0.0), ([2.0], 2.0), ([2.0], -1.0)])
def test_weighings_that_leave_no_wood_are_refused(readings: list[float], tare: float) -> None:
    with pytest.raises(BadWeighing):
        weighed(readings, FINE, tare_kg=tare)


def test_a_coarse_weighing_scale_is_told_before_it_is_trusted() -> None:
    # half a kilogram on twenty kilograms of dry wood: 2.5 % by hand
    assert "2.5 %" in coarse(WeighingScale(0.5), 20.0)
    assert coarse(WeighingScale(0.1), 20.0) == ""


def test_cold_wood_reads_too_dry_by_half_a_per_cent_for_ten_fahrenheit() -> None:
    # Wood Handbook FPL-GTR-190, chapter 13 (seen)
    cold, even = (read_meter(Meter.PINS, 0.12, t, 0.5) for t in (20.0 - 10 / 1.8, 20.0))
    warm = read_meter(Meter.PINS, 0.12, 20.0 + 10 / 1.8, 0.5)
    assert cold.mc.likely - even.mc.likely == pytest.approx(0.005)
    assert even.mc.likely - warm.mc.likely == pytest.approx(0.005)
    assert cold.mc.width > even.mc.width


@pytest.mark.parametrize(("wood_c", "reading", "corrected"), [(-20.0, 0.07, 0.100), (-20.0, 0.10, 0.138), (-20.0, 0.12, 0.163)])
def test_the_range_reaches_the_formula_of_one_maker(wood_c: float, reading: float, corrected: float) -> None:
    # Pfaff and Garrahan 1986 (memory): the even rule of the handbook is rougher, and its range says so
    found = read_meter(Meter.PINS, reading, wood_c, 0.5).mc
    assert found.low <= corrected <= found.high


def test_a_plate_meter_takes_no_temperature_correction() -> None:
    assert read_meter(Meter.PLATE, 0.12, 0.0, 0.5).mc == read_meter(Meter.PLATE, 0.12, 30.0, 0.5).mc


def test_above_saturation_a_meter_is_bracketed_with_the_direction_of_its_error() -> None:
    found = read_meter(Meter.PINS, 0.45, 20.0, 0.5)
    assert found.bracketed and found.wetter and "wetter" in found.said and "too low" in found.said
    # all cavities full: (1.54 - 0.5) / (1.54 x 0.5) = 135 %
    assert found.mc.low <= 0.30 and found.mc.high == pytest.approx(1.04 / 0.77)


def test_below_four_per_cent_it_is_bracketed_too_and_hot_wood_is_refused() -> None:
    found = read_meter(Meter.PINS, 0.02, 20.0, 0.5)
    assert found.bracketed and not found.wetter
    with pytest.raises(OutOfRange, match="60"):
        read_meter(Meter.PINS, 0.10, 80.0, 0.5)


def test_a_species_table_is_typed_in_narrows_and_is_not_continued() -> None:
    table = Correction(((0.06, 0.07), (0.20, 0.23)))
    told, plain = read_meter(Meter.PINS, 0.13, 20.0, 0.5, table), read_meter(Meter.PINS, 0.13, 20.0, 0.5)
    assert told.mc.likely == pytest.approx(0.15) and told.mc.width < plain.mc.width and "species" in plain.said
    with pytest.raises(OutOfRange, match="typed in"):
        read_meter(Meter.PINS, 0.25, 20.0, 0.5, table)


def test_a_dry_shell_does_not_make_a_dry_piece() -> None:
    # shell 4 %, core 10 %: the mean of a parabola is 8 %, and the core is what moves later
    shell, core = (Estimate(mc, mc - 0.005, mc + 0.005, READ) for mc in (0.04, 0.10))
    probe = ShellCore(shell, core)
    assert probe.mean.likely == pytest.approx(0.08) and probe.mean.high > 0.083
    assert ShellCore(shell, shell).mean.likely == pytest.approx(0.04)
