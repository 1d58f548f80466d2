"""What each piece of a log has cost."""

from __future__ import annotations

from fractions import Fraction
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from waney.trade.costing import BadCosting, Cost, Costed, Sharing, What, Wood, costed

CENTS = st.integers(-5_000, 200_000)
COSTS = st.lists(st.builds(Cost, st.sampled_from(What), CENTS), max_size=3).map(tuple)


@st.composite
def twelve(draw: st.DrawFn) -> tuple[list[Cost], list[Wood]]:
    """A log with twelve pieces: some sawn from others, some lost, each with a volume and a price."""
    pieces: list[Wood] = []
    for n in range(12):
        parent = draw(st.sampled_from(["", "", *(piece.name for piece in pieces)]))
        volume, price = draw(st.floats(0.001, 0.5)), draw(st.integers(1, 90_000))
        pieces.append(Wood(f"P-{n + 1}", draw(COSTS), parent, volume, price, draw(st.integers(0, 5)) == 0))
    return [Cost(What.LOG, draw(CENTS)), *draw(COSTS)], pieces


def spent_on(log: list[Cost], pieces: list[Wood]) -> int:
    return sum(cost.cents for cost in log) + sum(cost.cents for wood in pieces for cost in wood.costs)


@pytest.mark.parametrize("sharing", Sharing)
@settings(max_examples=40, deadline=None)
@given(drawn=twelve())
def test_costs_of_a_log_with_twelve_pieces_sum_to_the_cent(sharing: Sharing, drawn: tuple[list[Cost], list[Wood]]) -> None:
    log, pieces = drawn
    found = costed(log, pieces, sharing)
    assert sum(piece.floor_cents for piece in found.pieces) + found.sunk_cents == spent_on(log, pieces) == found.total_cents
    assert found.sunk_cents == (0 if found.pieces else found.total_cents)


@pytest.mark.parametrize("sharing", Sharing)
@settings(max_examples=30, deadline=None)
@given(drawn=twelve())
def test_every_share_is_within_one_cent_of_exact(sharing: Sharing, drawn: tuple[list[Cost], list[Wood]]) -> None:
    log, pieces = drawn
    for piece in costed(log, pieces, sharing).pieces:
        assert abs(piece.floor_cents - exact(log, pieces, sharing)[piece.name]) < 1


def exact(log: list[Cost], pieces: list[Wood], sharing: Sharing) -> dict[str, Fraction]:
    """The same in another way: every amount alone is carried down from where it was spent, without any rounding."""
    below = {wood.name: [other for other in pieces if other.parent == wood.name] for wood in pieces}
    below[""] = [wood for wood in pieces if not wood.parent]
    weight = {
        wood.name: {Sharing.VALUE: Fraction(wood.price_cents or 0), Sharing.VOLUME: Fraction(wood.volume_m3 or 0)}.get(
            sharing, Fraction(1)
        )
        for wood in pieces
    }
    parents = {wood.name: wood.parent for wood in pieces}

    def leaves(at: str) -> set[str]:
        return {
            name
            for wood in below[at]
            for name in (leaves(wood.name) if below[wood.name] else set() if wood.lost else {wood.name})
        }

    borne = {name: Fraction(0) for name in leaves("")}
    amounts = [("", cost.cents) for cost in log] + [(wood.name, cost.cents) for wood in pieces for cost in wood.costs]
    for start, cents in amounts:
        at = start
        while at and at not in borne and not leaves(at):
            at = parents[at]
        some = {at} if at in borne else leaves(at)
        for name in some:
            borne[name] += cents * weight[name] / sum(weight[each] for each in some)
    return borne


@settings(max_examples=30, deadline=None)
@given(drawn=twelve(), order=st.randoms(use_true_random=False))
def test_the_order_of_pieces_does_not_matter(drawn: tuple[list[Cost], list[Wood]], order: Random) -> None:
    log, pieces = drawn
    mixed = pieces.copy()
    order.shuffle(mixed)

    def floors(found: Costed) -> dict[str, int]:
        return {piece.name: piece.floor_cents for piece in found.pieces}

    assert floors(costed(log, mixed, Sharing.VALUE)) == floors(costed(log, pieces, Sharing.VALUE))


def test_a_log_by_hand() -> None:
    """100 for the log and 20 of hours; A is sawn into A1 and A2 (hours 6), B was flattened (9), C burnt after 3 in the kiln."""
    log = [Cost(What.LOG, 100_00), Cost(What.HOURS, 20_00)]
    pieces = [
        Wood("A", (Cost(What.HOURS, 6_00),)),
        Wood("A1", parent="A", volume_m3=0.1, price_cents=100_00),
        Wood("A2", parent="A", volume_m3=0.1, price_cents=200_00),
        Wood("B", (Cost(What.FLATTENING, 9_00),), volume_m3=0.2, price_cents=300_00),
        Wood("C", (Cost(What.KILN, 3_00),), lost=True),
    ]
    by_volume = costed(log, pieces, Sharing.VOLUME)
    # 123 joint at the log over 0.1, 0.1, 0.2; 6 over the two of A
    assert [piece.floor_cents for piece in by_volume.pieces] == [30_75 + 3_00, 30_75 + 3_00, 61_50 + 9_00]
    by_value = costed(log, pieces, Sharing.VALUE)
    assert [piece.floor_cents for piece in by_value.pieces] == [20_50 + 2_00, 41_00 + 4_00, 61_50 + 9_00]
    by_piece = costed(log, pieces, Sharing.PIECE)
    assert [piece.floor_cents for piece in by_piece.pieces] == [41_00 + 3_00, 41_00 + 3_00, 41_00 + 9_00]
    assert (by_value.lost_cents, by_value.sunk_cents) == (3_00, 0)
    assert by_value.floor_cents(["A1", "B"]) == 22_50 + 70_50
    assert by_value.spent == {What.LOG: 100_00, What.HOURS: 26_00, What.KILN: 3_00, What.FLATTENING: 9_00}


def test_a_tree_that_all_burnt_is_sunk() -> None:
    found = costed([Cost(What.LOG, 50_00)], [Wood("A", (Cost(What.KILN, 5_00),), lost=True)], Sharing.VALUE)
    assert (found.pieces, found.sunk_cents, found.lost_cents) == ((), 55_00, 5_00)


def test_being_paid_for_a_tree_lowers_every_floor() -> None:
    found = costed([Cost(What.LOG, -60_00), Cost(What.HAUL, 20_00)], [Wood("A"), Wood("B"), Wood("C")], Sharing.PIECE)
    assert [piece.floor_cents for piece in found.pieces] == [-13_33, -13_33, -13_34]


def test_what_cannot_be_shared_is_a_sentence() -> None:
    with pytest.raises(BadCosting, match="a price above zero of each piece; B has none"):
        costed([], [Wood("A", price_cents=1), Wood("B")], Sharing.VALUE)
    with pytest.raises(BadCosting, match="sawn from X"):
        costed([], [Wood("A", parent="X")], Sharing.PIECE)
    with pytest.raises(BadCosting, match="sawn from"):
        costed([], [Wood("A", parent="B"), Wood("B", parent="A")], Sharing.PIECE)
    with pytest.raises(BadCosting, match="name of its own"):
        costed([], [Wood("A"), Wood("A")], Sharing.PIECE)
    with pytest.raises(BadCosting, match="A: lost"):
        costed([], [Wood("A", lost=True), Wood("B")], Sharing.PIECE).floor_cents(["A"])
