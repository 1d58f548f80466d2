"""Kilns and loads as a person types them: what is read, what stands in for a blank, what is refused with its line."""

from __future__ import annotations

from pathlib import Path

import pytest

from waney.drying.kiln_sheet import BadKiln, Heat
from waney.drying.kilns_sheet import PLAIN, kiln_named, read_kilns
from waney.drying.load_sheet import read_load_sheet
from waney.drying.lot import in_common, not_read
from waney.drying.meter_sheet import read_meter_sheet
from waney.drying.plate_touch import PlateTouch
from waney.figures.estimate import Basis, Estimate, Ground
from waney.units.pressure import parse_pressure
from waney.units.sheet import SheetProblems
from waney.wood.species import species
from waney.wood.vapour import humidity_of_bulbs

EXAMPLES = Path(__file__).parents[2] / "docs" / "examples"
TOP = 'format = "waney-kilns/1"\nunits = "mm"\n'
KILN = '[[kiln]]\nname = "a"\nlength = 3000\nwidth = 1200\nheight = 1000\nbears = 2000\n'
LOAD = 'format = "waney-load/1"\nunits = "mm"\n[[lot]]\nspecies = "white ash"\nthickness = 30\nlength = 2400\nwidth = 200\n'


def test_the_example_kilns_are_read_in_si() -> None:
    shed, plate = read_kilns((EXAMPLES / "kilns-two.toml").read_text(encoding="utf-8"))
    assert (shed.name, shed.heat, shed.whose) == ("shed kiln", Heat.AIR, "")
    assert shed.length_m == pytest.approx(10 * 0.3048) and shed.load_kg == pytest.approx(6000 * 0.45359237)
    assert shed.hottest_c == pytest.approx(60.0) and shed.within_m == pytest.approx(0.003175)
    assert plate.plates is not None and (plate.plates.pressure_pa, plate.plates.plate_c) == (7000.0, pytest.approx(60.0))
    assert plate.whose and plate.fee and kiln_named((shed, plate), "plate kiln") is plate


def test_a_pressure_is_read_in_the_units_of_gauges() -> None:
    # an atmosphere is 101 325 Pa = 1013.25 mbar = 760 torr = 29.92 inHg (by definition)
    for written in ("1013.25 mbar", "760 torr", "101.325 kPa", "1013.25 hPa"):
        assert parse_pressure(written) == pytest.approx(101_325.0, rel=1e-9)
    assert parse_pressure("29.92 inHg") == pytest.approx(101_325.0, rel=1e-4)


def test_what_is_left_blank_in_a_kiln_has_a_default() -> None:
    (kiln,) = read_kilns(TOP + KILN)
    assert (kiln.sticker_m, kiln.within_m, kiln.bearing_m) == (PLAIN.sticker_m, PLAIN.within_m, PLAIN.bearing_m)
    assert kiln.hottest_c is None and kiln_named((kiln,), "") is kiln


TURNS = 'heat = "cycles"\n[kiln.cycle]\ndry_bulb = "60 C"\nwet_bulb = "55 C"\nwarming_hours = 4\n'


def test_hours_speeds_and_shares_of_a_kiln_may_name_their_units() -> None:
    turns = TURNS.replace("= 4", '= "240 min"')
    (kiln,) = read_kilns(TOP + KILN + turns + 'pressure = "80 mbar"\nvacuum_hours = "1/4 day"\nspeed = "300 ft/min"\n')
    assert kiln.cycle is not None and (kiln.cycle.warm_h, kiln.cycle.vacuum_h) == (4.0, 6.0)
    assert kiln.cycle.warming.speed_m_s == pytest.approx(1.524)  # a foot is 0.3048 m
    (kiln,) = read_kilns(TOP + KILN + 'heat = "plates"\n[kiln.plates]\nat = "60 C"\npressure = "70 mbar"\nair = "5 %"\n')
    assert kiln.plates is not None and kiln.plates.air_share == pytest.approx(0.05)


def test_a_kiln_by_turns_has_its_warming_air() -> None:
    (kiln,) = read_kilns(TOP + KILN + TURNS + 'pressure = "80 mbar"\nvacuum_hours = 6\n')
    assert kiln.cycle is not None and kiln.cycle.warming.humidity == pytest.approx(humidity_of_bulbs(60.0, 55.0))
    assert (kiln.cycle.vacuum_pa, kiln.cycle.warm_h, kiln.cycle.vacuum_h) == (8000.0, 4.0, 6.0)


def test_a_kiln_by_radio_frequency_may_tell_its_figures_or_not() -> None:
    told = 'heat = "radio"\n[kiln.radio]\nat = "60 C"\npressure = "70 mbar"\n'
    (kiln,), (bare,) = (read_kilns(TOP + KILN + one) for one in (told, told.splitlines()[0] + "\n"))
    assert kiln.radio is not None and (kiln.radio.wood_c, kiln.pressure_pa) == (pytest.approx(60.0), 7000.0)
    assert bare.radio is None and bare.pressure_pa == 0.0
    for wrong in (told.replace("70 mbar", "2 mbar"), told.replace('"radio"', '"air"')):
        with pytest.raises(SheetProblems):
            read_kilns(TOP + KILN + wrong)


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (TOP, "one [[kiln]] or more"),
        (TOP + KILN + KILN, "has this name"),
        (TOP + KILN + 'heat = "plates"\n', "needs its own figures"),
        (TOP + KILN + 'heat = "plates"\n[kiln.plates]\nat = "60 C"\npressure = 70\n', "has no unit; write for instance 70 mbar"),
        (TOP + KILN + 'heat = "plates"\n[kiln.plates]\nat = "60 C"\npressure = "2 mbar"\n', "Chamber pressure"),
        (TOP + KILN + 'heat = "plates"\n[kiln.plates]\nat = 60\npressure = "70 mbar"\n', "does not say which degrees"),
        (TOP + KILN + TURNS + 'pressure = "80 mbar"\nvacuum_hours = 6\nspeed = 300\n', "has no unit; write for instance 1.5 m/s"),
        (TOP + KILN + TURNS + 'pressure = "80 mbar"\nvacuum_hours = "60 weeks"\n', "it must be 0.1 to 240 hours"),
        (TOP + KILN.replace("2000", "0"), "bears"),
        (TOP + KILN + 'heats = "air"\n', "did you mean heat"),
    ],
)
def test_slips_in_a_kilns_sheet_are_told(content: str, told: str) -> None:
    with pytest.raises(SheetProblems, match=rf"(?s){told.replace('[', chr(92) + '[')}"):
        read_kilns(content)


def test_a_kiln_that_the_sheet_does_not_name_is_refused_with_those_it_has() -> None:
    kilns = read_kilns(TOP + KILN + KILN.replace('"a"', '"b"'))
    for name in ("", "c"):
        with pytest.raises(BadKiln, match="a, b"):
            kiln_named(kilns, name)


def test_the_example_load_is_read_piece_by_piece() -> None:
    oak, ash, cherry = read_load_sheet((EXAMPLES / "load-mixed.toml").read_text(encoding="utf-8"))
    assert [len(lot.pieces) for lot in (oak, ash, cherry)] == [2, 24, 8]
    assert (oak.start.low, oak.start.likely, oak.start.high) == pytest.approx((0.22, 0.25, 0.28))
    assert (oak.target, ash.target, oak.owner, ash.owner) == (0.07, 0.08, "Ann", "")
    assert oak.pieces[1].mass_kg.likely == pytest.approx(92 * 0.45359237)
    # 8/4 red oak: basic gravity 0.56 (Wood Handbook Table 5-3b), 25 % moisture, 2 1/8 x 16 x 96 in
    assert oak.pieces[0].mass_kg.likely == pytest.approx(560 * 1.25 * (2.125 * 16 * 96) * 0.0254**3, rel=0.01)
    assert ash.pieces[0].name == "ash boards 1" and ash.thickness_m == pytest.approx(1.125 * 0.0254)
    assert cherry.start.width == pytest.approx(0.04)  # one figure, not said how: a tenth either way


def test_a_meter_above_saturation_only_says_that_it_is_wetter() -> None:
    (lot,) = read_load_sheet(LOAD + 'moisture = 45\nmeter = "pins"\n')
    assert lot.start.low < 0.30 and lot.start.high > 0.8  # wood of gravity 0.55 holds up to about 115 % (memory)


TWO = 'format = "waney-load/1"\nunits = "mm"\n[[lot]]\nname = "maple"\nspecies = "red maple"\nthickness = 30\nmoisture = 12\n'
SIZES = '[[lot.piece]]\nname = "A"\nlength = 2400\nwidth = 200\n{}'
SIZES += '[[lot.piece]]\nname = "B"\nlength = 2000\nwidth = 200\ncount = 2\n{}'


def test_cup_and_bark_of_a_piece_are_its_own_or_those_of_its_lot() -> None:
    (lot,) = read_load_sheet(TWO + 'cup = 3\nbark = "on"\n' + SIZES.format("", 'cup = 5\nbark = "off"\n'))
    assert lot.touch == (PlateTouch("A", 0.003, bark_on=True), PlateTouch("B 1", 0.005), PlateTouch("B 2", 0.005))
    (flat,) = read_load_sheet(TWO + "cup = 3\n" + SIZES.format("cup = 0\n", ""))
    assert [one.piece for one in flat.touch] == ["B 1", "B 2"]
    (untold,) = read_load_sheet(TWO + SIZES.format("", ""))
    assert untold.touch == ()


def test_bark_on_one_piece_closes_the_edges_of_its_lot_unless_the_edges_are_told() -> None:
    for top, piece, edges_open, barky in (
        ("", "", True, []),
        ("", 'bark = "on"\n', False, ["A"]),
        ('edges = "open"\n', 'bark = "on"\n', True, ["A"]),  # on a face alone
        ('edges = "bark"\n', "", False, ["A", "B 1", "B 2"]),
        ('edges = "bark"\n', 'bark = "off"\n', False, ["B 1", "B 2"]),
    ):
        (lot,) = read_load_sheet(TWO + top + SIZES.format(piece, ""))
        assert (lot.edges_open, [one.piece for one in lot.touch if one.bark_on]) == (edges_open, barky)


def test_a_reading_of_a_lot_is_put_right_by_the_makers_table_and_beyond_it_is_read_as_it_stands() -> None:
    table = "[[wood]]\nspecies = 'white ash'\nreads = [7, 12, 20]\nis = [8, 13.5, 22]\n"
    meter = read_meter_sheet(f'format = "waney-meter/1"\nunits = "mm"\nmade_for = "20 C"\n{table}')
    for reading, means, how_wide in ((12, 0.135, "by it"), (16, 0.1775, "by it"), (24, 0.24, "as it stands")):
        (by_table,), (plain,) = (
            read_load_sheet(f'{LOAD}moisture = {reading}\nmeter = "pins"\nwood_at = "20 C"\n', *more) for more in ((meter,), ())
        )
        # by hand: 12 is a row; 16 is half way from 12 to 20, so 13.5 + 8.5 / 2; 24 lies beyond the last row
        assert by_table.start.likely == pytest.approx(means) and plain.start.likely == pytest.approx(reading / 100)
        assert (by_table.start.width < plain.start.width) is (how_wide == "by it")
        assert bool(by_table.said) is (how_wide == "as it stands") and "No species table" in plain.said[0]
    (range_typed,) = read_load_sheet(LOAD + 'moisture = "16 to 20"\nmeter = "pins"\n', meter)
    assert range_typed.start.likely == pytest.approx(0.18), "a range is what somebody settled, not a reading"


@pytest.mark.parametrize(
    ("rest", "told"),
    [
        ("", "moisture"),
        ("moisture = 6\n", "dry already"),
        ('moisture = "30 to 20"\n', "falls"),
        ('moisture = 20\nschedule = "T99-Z9"\n', "T99"),
        ("moisture = 20\n[[lot.piece]]\nlength = 2000\nwidth = 200\n", "not in both"),
        ("moisture = 20\ncount = 0\n", "1 to 2000"),
        ("moisture = 20\ncup = 2000\n", "0 mm to 100 mm"),
        ('moisture = 20\nbark = "some"\n', "bark"),
        ('moisture = 20\nedges = "bark"\nbark = "off"\n', "leave one of them out"),
    ],
)
def test_slips_in_a_load_sheet_are_told(rest: str, told: str) -> None:
    with pytest.raises(SheetProblems, match=told):
        read_load_sheet(LOAD + rest)


def test_a_lot_is_as_wide_as_what_was_read_of_it_and_widest_when_nobody_read_it() -> None:
    read = [Estimate(mc, mc - 0.02, mc + 0.02, Basis(Ground.READING, "pin meter")) for mc in (0.16, 0.20)]
    found, unread = in_common(read), not_read(species("white ash"), 0.08)
    assert (found.low, found.likely, found.high) == pytest.approx((0.14, 0.18, 0.22))
    assert unread.width > found.width and unread.low > 0.08
    assert unread.high == species("white ash").green_mc.likely  # type: ignore[union-attr]
    assert not_read(species("white ash"), 0.30).low > 0.30
