"""The costs sheet: what was typed is taken as it was meant, what was not typed is not known, and nothing stands in for it."""

from __future__ import annotations

import pytest

from waney.trade.costing import Sharing
from waney.trade.costs_sheet import ASKS, ShopCosts, read_costs_sheet, with_mill
from waney.trade.fetch import SURE
from waney.units.sheet import SheetProblems

HEAD = 'format = "waney-costs/1"\nunits = "{}"\ncurrency = "USD"\n'
MILL = (
    'format = "waney-mill/1"\nunits = "in"\ncurrency = "{}"\nkerf = 0.09\nwidest_cut = 28\nhighest = 30\nlowest = 1\n'
    'bed_length = "20 ft"\nhourly = 45\nblade = 28\n'
)


def test_a_sheet_without_a_figure_knows_nothing_and_no_figure_stands_in() -> None:
    for shop in (read_costs_sheet(""), read_costs_sheet(HEAD.format("in"))):
        told = shop.costs
        assert shop.not_known == tuple(ASKS.values()) and shop.sure == SURE
        assert (told.km_cents, told.hour_cents, told.loading_cents, told.blade_cents, told.bears_kg) == (None,) * 5
        assert (told.per_board_foot_cents, told.sawing_cents, told.drying_cents, told.loss, shop.sealing_cents) == (None,) * 5


def test_a_mile_in_a_sheet_in_inches_is_a_mile_and_a_kilometre_in_a_metric_one() -> None:
    miles = read_costs_sheet(HEAD.format("in") + "driving = 0.70\n").costs.km_cents
    kilometres = read_costs_sheet(HEAD.format("mm") + "driving = 0.70\n").costs.km_cents
    assert (miles, kilometres) == (pytest.approx(70 / 1.609344), pytest.approx(70.0))  # statute mile, exact since 1959


def test_money_for_one_of_something_may_name_another_unit_than_the_sheets() -> None:
    told = read_costs_sheet(HEAD.format("in") + 'driving = "0.70 a km"\nhourly = "0.50 per min"\nshed = "30 a m2"\n')
    assert told.costs.km_cents == pytest.approx(70.0) and told.costs.hour_cents == pytest.approx(30_00.0)
    assert told.shed_cents == pytest.approx(30_00.0)
    assert read_costs_sheet(HEAD.format("mm") + 'driving = "$0.70 / mile"\n').costs.km_cents == pytest.approx(70 / 1.609344)
    with pytest.raises(SheetProblems, match="not a unit of a way"):
        read_costs_sheet(HEAD.format("in") + 'driving = "0.70 an hour"\n')


def test_a_range_is_kept_with_its_middle_and_its_unit_may_stand_once() -> None:
    shop = read_costs_sheet(HEAD.format("in") + 'board_foot = "2 to 4"\nloss = "5 to 15 %"\n')
    earned, lost = shop.costs.per_board_foot_cents, shop.costs.loss
    assert earned is not None and (earned.low, earned.likely, earned.high) == (200.0, 300.0, 400.0)
    assert lost is not None and (lost.low, lost.likely, lost.high) == pytest.approx((0.05, 0.10, 0.15))


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ('board_foot = "4 to 2"', "lower figure first"),
        ("hourly = -3", "below zero"),
        ('driving = "2 EUR"', "USD"),
        ("wages = 3", "nothing is known by this name"),
        ('bears = "heavy"', "weight"),
    ],
)
def test_what_cannot_be_is_told_with_its_line(line: str, told: str) -> None:
    with pytest.raises(SheetProblems, match=told) as slip:
        read_costs_sheet(HEAD.format("in") + line + "\n")
    assert slip.value.problems[0].line == 4


def test_money_without_a_currency_is_asked_about() -> None:
    with pytest.raises(SheetProblems, match="currency"):
        read_costs_sheet('format = "waney-costs/1"\nunits = "in"\nhourly = 20\n')


def test_an_hour_and_a_blade_are_taken_from_the_mill_sheet_where_the_costs_do_not_name_them() -> None:
    empty = with_mill(ShopCosts(), MILL.format("USD"))
    assert (empty.costs.hour_cents, empty.costs.blade_cents, empty.costs.currency) == (4500.0, 2800.0, "USD")
    assert empty.from_mill == (ASKS["hourly"], ASKS["blade"]) and ASKS["hourly"] not in empty.not_known
    own = with_mill(read_costs_sheet(HEAD.format("in") + "hourly = 20\n"), MILL.format("USD"))
    assert (own.costs.hour_cents, own.costs.blade_cents, own.from_mill) == (2000.0, 2800.0, (ASKS["blade"],))


def test_a_mill_sheet_in_other_money_adds_nothing() -> None:
    shop = read_costs_sheet(HEAD.format("in"))
    assert with_mill(shop, MILL.format("EUR")) is shop


def test_the_way_and_the_hours_are_those_of_the_tree() -> None:
    shop = read_costs_sheet(HEAD.format("in") + "driving = 1\nhourly = 20\n")
    there = shop.on_the_way(60_000.0, 2.0)
    assert there.way_km == 60.0 and there.hours is not None and (there.hours.low, there.hours.high) == (1.5, 2.5)
    nobody = shop.on_the_way(None, None)
    assert {"the way", "the hours"} <= set(nobody.missing(priced_by_plan=True)) and "what driving costs" not in nobody.missing(
        priced_by_plan=True
    )


def test_shed_is_counted_by_the_area_of_the_sheet_and_sharing_is_said() -> None:
    feet = read_costs_sheet(HEAD.format("in") + 'shed = 3\nsharing = "sales value"\n')
    assert feet.shed_cents == pytest.approx(300 / 0.09290304) and feet.sharing is Sharing.VALUE  # a square foot [m2], exact
    assert read_costs_sheet(HEAD.format("mm") + "shed = 30\n").shed_cents == 30_00
    assert (ShopCosts().shed_cents, ShopCosts().sharing) == (None, Sharing.VOLUME)
