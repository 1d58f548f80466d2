"""A mill's costs and the prices of the wants must be in one money, or not be taken from one another."""

from __future__ import annotations

import pytest

from waney.sawing.sheets.agreement import OtherMoney, agreed_mill
from waney.sawing.sheets.mill_sheet import MillSheet, read_mill_sheet
from waney.sawing.sheets.wants_sheet import WantsSheet, read_wants_sheet


def mill(extra: str = "") -> MillSheet:
    asked = 'units = "in"\nkerf = 0.08\nwidest_cut = 28\nhighest = 30\nlowest = 1\nbed_length = 240\n'
    return read_mill_sheet(f'format = "waney-mill/1"\n{asked}{extra}')


def wants(extra: str = "") -> WantsSheet:
    product = f'thickness = "8/4"\n{extra}'
    currency = 'currency = "EUR"\n' if extra else ""
    text = f'format = "waney-wants/1"\nunits = "in"\nleast_width = 4\n{currency}rest = "nothing"\n[first]\n{product}'
    return read_wants_sheet(text, 3.0)


PRICE = 'price = 900\nper = "m3"\n'


def test_one_money_is_kept() -> None:
    assert agreed_mill(mill('currency = "EUR"\nhourly = 40\n'), wants(PRICE)).hourly_cents == 4000


def test_two_moneys_are_refused_with_both_names() -> None:
    with pytest.raises(OtherMoney, match="USD and the prices in EUR"):
        agreed_mill(mill('currency = "USD"\nblade = 40\n'), wants(PRICE))


def test_a_mill_without_costs_goes_with_any_money() -> None:
    assert agreed_mill(mill(), wants(PRICE)) == mill().mill
    assert agreed_mill(mill('currency = "USD"\n'), wants(PRICE)).hourly_cents is None


def test_costs_are_not_taken_from_litres() -> None:
    left = agreed_mill(mill('currency = "USD"\nhourly = 40\nblade = 20\nblade_life = 300\n'), wants())
    assert (left.hourly_cents, left.blade_cents, left.blade_life_m2) == (None, None, None)
