"""The bill of a kiln load: by volume, thickness and days, to the cent, whatever order the pieces come in."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from waney.trade.kiln_bill import BadKilnBill, PieceInKiln, Split, kiln_bill

SIZES, THICK, DAYS = st.floats(1e-4, 2.0), st.floats(0.01, 0.16), st.floats(0.0, 120.0)
ONE = st.tuples(st.sampled_from(["", "Ann", "Bo"]), SIZES, THICK, DAYS)
SPLITS = st.builds(Split, st.booleans(), st.sampled_from([0.0, 0.1, 0.25]))


@st.composite
def loads(draw: st.DrawFn) -> list[PieceInKiln]:
    told = draw(st.lists(ONE, min_size=1, max_size=9))
    first = PieceInKiln("p", "Ann", 0.05, 0.05, 10.0)  # at least one that counts
    return [first, *(PieceInKiln(f"p{i}", *each) for i, each in enumerate(told))]


@settings(max_examples=80, deadline=None)
@given(pieces=loads(), total=st.integers(0, 10**9), split=SPLITS, order=st.randoms(use_true_random=False))
def test_a_bill_sums_to_the_cent_and_the_order_of_the_pieces_does_not_matter(
    pieces: list[PieceInKiln], total: int, split: Split, order: Random
) -> None:
    bill = kiln_bill(pieces, total, split)
    assert sum(owner.cents for owner in bill.owners) == total
    assert all(sum(one.cents for one in owner.pieces) == owner.cents for owner in bill.owners)
    assert sum(len(owner.pieces) for owner in bill.owners) == len(pieces)
    shuffled = list(pieces)
    order.shuffle(shuffled)
    assert kiln_bill(shuffled, total, split) == bill


@settings(max_examples=40, deadline=None)
@given(pieces=loads(), total=st.integers(0, 10**9), split=SPLITS)
def test_every_owner_pays_within_a_cent_of_the_exact_part(pieces: list[PieceInKiln], total: int, split: Split) -> None:
    exact: dict[str, Fraction] = {}
    for piece in pieces:  # counted anew, by hand and in fractions
        quarters = int(piece.thickness_m / 0.00635 + 1e-6)
        more = 1 + Fraction(split.thicker) * max(quarters - 4, 0)
        days = Fraction(piece.days) if split.days else 1
        exact[piece.owner] = exact.get(piece.owner, Fraction(0)) + Fraction(piece.volume_m3) * more * days
    whole = sum(exact.values(), Fraction(0))
    for owner in kiln_bill(pieces, total, split).owners:
        assert abs(owner.cents - total * exact[owner.owner] / whole) < 1 + Fraction(total, 10**12)  # round-off of the weights


def test_a_load_of_three_owners_by_hand() -> None:
    # 100.00: Ann 0.2 m3 4/4 for 10 days, Bo 0.1 m3 8/4 for 20 days, our own 0.1 m3 4/4 for 20 days
    pieces = [
        PieceInKiln("A1", "Ann", 0.2, 0.0286, 10.0),
        PieceInKiln("B1", "Bo", 0.1, 0.054, 20.0),
        PieceInKiln("C1", "", 0.1, 0.0286, 20.0),
    ]
    by_owner = {owner.owner: owner.cents for owner in kiln_bill(pieces, 10_000).owners}
    assert by_owner == {"": 3334, "Ann": 3333, "Bo": 3333}  # three times 2 m3 days; the cent left over goes by name
    # 10 % more a quarter inch (a price rule told in a forum, 2009): Bo's 8/4 counts 1.4 times, so 2, 2.8 and 2 of 6.8
    thick = {owner.owner: owner.cents for owner in kiln_bill(pieces, 10_000, Split(thicker=0.10)).owners}
    assert thick == {"": 2941, "Ann": 2941, "Bo": 4118}
    by_volume = {owner.owner: owner.cents for owner in kiln_bill(pieces, 10_000, Split(days=False)).owners}
    assert by_volume == {"": 2500, "Ann": 5000, "Bo": 2500}


@settings(max_examples=25, deadline=None)
@given(pieces=loads(), total=st.integers(100, 10**7), more=st.floats(1.0, 3.0))
def test_whoever_brings_more_wood_never_pays_less(pieces: list[PieceInKiln], total: int, more: float) -> None:
    larger = [replace(pieces[0], volume_m3=more * pieces[0].volume_m3), *pieces[1:]]
    before, after = ({one.owner: one.cents for one in kiln_bill(each, total).owners} for each in (pieces, larger))
    assert after["Ann"] >= before["Ann"] - 1  # a cent left over may go elsewhere


def test_the_method_is_said_as_it_is_counted() -> None:
    assert "days" in Split().method and "quarter" not in Split().method
    assert "10 % more for every whole quarter inch" in Split(days=False, thicker=0.1).method
    assert "days" not in Split(days=False).method


@pytest.mark.parametrize(
    ("pieces", "told"),
    [
        ([], "No piece"),
        ([("a", "", 0.1, 0.03, 0.0)], "No piece"),
        ([("a", "", 0.1, 0.03, 1.0), ("a", "Bo", 0.1, 0.03, 1.0)], "named a"),
        ([("a", "", 0.0, 0.03, 1.0)], "measure"),
        ([("a", "", 0.1, 0.03, -1.0)], "days"),
        ([("a", "", 0.1, float("nan"), 1.0)], "measure"),
    ],
)
def test_what_cannot_be_billed_is_a_sentence(pieces: list[tuple[str, str, float, float, float]], told: str) -> None:
    with pytest.raises(BadKilnBill, match=told):
        kiln_bill([PieceInKiln(*one) for one in pieces], 100)
