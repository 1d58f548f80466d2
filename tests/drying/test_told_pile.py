"""Piles as they were told: layers in their order, boxed over the bearers; pieces that can be drawn out."""

from __future__ import annotations

import pytest

from waney.drying.bearing import pile_weight
from waney.drying.pile_parts import NoPile, PilePiece
from waney.drying.pull_out import Side, places_of
from waney.drying.told_pile import NOT_TOLD, across, base_under, told_pile
from waney.figures.estimate import Basis, Estimate, Ground

MASS = Estimate(20.0, 15.0, 25.0, Basis(Ground.DEFAULT, ""))


def piece(name: str, length_m: float = 3.0, width_m: float = 0.2) -> PilePiece:
    return PilePiece(name, length_m, width_m, 0.03, MASS)


LAYERS = ([piece("a"), piece("b", 2.0), piece("c")], [piece("d", 2.0), piece("e")], [piece("f"), piece("g", 0.1)])


def test_a_stack_is_as_wide_as_its_widest_layer_where_all_layers_and_widths_are_told() -> None:
    assert across([(1, 0.2), (1, 0.3), (2, 0.25), (2, 0.35)]) == pytest.approx(0.60)
    assert across([(1, 0.2), (1, 0.3), (2, 0.9), (2, None)]) is None  # the second is wider, nobody knows how much
    assert across([(1, 0.2), *[(None, 0.2)] * 30]) is None and across([]) is None  # one board that was told is no stack of 8 in


def test_layers_lie_in_their_order_each_as_told() -> None:
    base = base_under(LAYERS, [piece("h")], 0.02, 0.4)
    pile = told_pile(LAYERS, [piece("h")], base)
    assert [[one.piece.name for one in layer.laid] for layer in pile.layers] == [["a", "b", "c"], ["d", "e"], ["f", "g"]]
    assert [(left.name, why) for left, why in pile.left] == [("h", NOT_TOLD)]
    assert [layer.z_m for layer in pile.layers] == pytest.approx([0.02, 0.07, 0.12])


def test_shorter_pieces_are_boxed_so_that_both_ends_of_a_layer_are_borne() -> None:
    layer = told_pile(LAYERS, [], base_under(LAYERS, [], 0.02, 0.4)).layers[0]
    assert [(one.x_m, one.end_m) for one in layer.laid] == [(0.0, 3.0), (1.0, 3.0), (0.0, 3.0)]
    assert layer.stickers == tuple(range(9))  # 2.9 m between the outer bearers in steps of 0.4 m at most


def test_bearers_carry_all_of_it_even_a_piece_that_reaches_one_alone() -> None:
    pile = told_pile(LAYERS, [], base_under(LAYERS, [], 0.02, 0.4))
    weight = pile_weight(pile)
    assert weight.total_kg.likely == pytest.approx(7 * 20.0)
    assert sum(one.likely for one in weight.by_bearer_kg) == pytest.approx(7 * 20.0)


def test_what_lies_behind_others_cannot_be_drawn_out() -> None:
    pile = told_pile(LAYERS, [], base_under(LAYERS, [], 0.02, 0.4))
    assert [(one.name, one.layer, one.side) for one in places_of(pile, ["b", "c", "d", "f"])] == [
        ("c", 1, Side.BACK), ("d", 2, Side.FRONT), ("f", 3, Side.FRONT),
    ]  # fmt: skip
    assert places_of(pile, ["f"])[0].cut_out == ()


def test_where_no_layer_was_told_it_is_laid_as_it_may_be() -> None:
    loose = [piece(name) for name in "abcdefgh"]
    pile = told_pile([], loose, base_under([], loose, 0.02, None))
    assert len(pile.layers) > 1 and sorted(one.name for one in pile.pieces) == list("abcdefgh")
    with pytest.raises(NoPile):
        base_under([], [], 0.02, None)
