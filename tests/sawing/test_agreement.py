"""A mill's costs and the prices of the wants must be in one money, or not be taken from one another."""

from __future__ import annotations

import pytest

from waney.sawing.sheets.agreement import OtherMoney, agreed_mill, agreement_remarks
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


def test_edging_priced_far_below_the_mills_own_minutes_is_asked_about() -> None:
    """5 minutes and two passes of 1.5 at 60 an hour are 8."""
    costly = agreed_mill(mill('currency = "EUR"\nhourly = 60\nminutes_per_edging = 5\nminutes_per_pass = 1.5\n'), wants(PRICE))
    boards = 'edges = "edged"\n' + PRICE

    def remarks(product: str, costs: str = "") -> tuple[str, ...]:
        return agreement_remarks(costly, wants(product + costs).wants)

    (blank,) = remarks(boards)
    assert "€0.00" in blank and "8 minutes and more, €8.00" in blank
    assert len(remarks(boards, "[costs]\nedging = 3.9\n")) == 1
    assert remarks(boards, "[costs]\nedging = 4\n") == ()
    assert remarks('edges = "live"\n' + PRICE) == ()
    assert agreement_remarks(agreed_mill(mill(), wants(boards)), wants(boards).wants) == ()
