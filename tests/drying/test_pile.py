"""Piles: every one that is laid passes a checker that shares no code with it; weight is kept; weight on top is asked about."""

from __future__ import annotations

import itertools
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from waney.drying.bearing import HEAVY_KG_M2, Bears, NotAsked, pile_weight
from waney.drying.pile import most_volume, pile
from waney.drying.pile_check import faults
from waney.drying.pile_layers import laid_by_layers, refused_by
from waney.drying.pile_parts import Base, Laid, Layer, NoPile, Pile, PilePiece, bearers
from waney.drying.pile_rows import pile_of_rows
from waney.drying.pull_out import Side, pull_outs
from waney.figures.estimate import Basis, Estimate, Ground

GUESS = Basis(Ground.DEFAULT, "")
BASE = Base(3.1, 1.2, 1.0, bearers(3.1, 0.41))


def piece(name: str, length: float, width: float = 0.2, thickness: float = 0.0286, kg: float = 10.0) -> PilePiece:
    return PilePiece(name, length, width, thickness, Estimate(kg, 0.9 * kg, 1.2 * kg, GUESS))


drawn = st.lists(
    st.tuples(st.floats(0.4, 3.3), st.floats(0.05, 1.3), st.sampled_from([0.0286, 0.03, 0.054, 0.08]), st.floats(1.0, 90.0)),
    min_size=1,
    max_size=30,
).map(lambda rows: [piece(f"p{i}", *row) for i, row in enumerate(rows)])
bases = st.tuples(st.floats(0.2, 0.9), st.floats(0.05, 0.5), st.floats(0.3, 1.4), st.floats(0.0, 0.03)).map(
    lambda t: Base(3.1, 1.2, t[2], bearers(3.1, t[0]), overhang_m=t[1], gap_m=t[3])
)


@settings(max_examples=60, deadline=None)
@given(drawn, bases)
def test_every_pile_can_be_built_as_it_is_told_and_keeps_to_its_bound(pieces: list[PilePiece], base: Base) -> None:
    laid = pile(pieces, base)
    assert faults(laid, pieces) == ()
    assert laid.volume_m3 <= most_volume(pieces, base) + 1e-9
    assert pile(pieces, base) == laid


@settings(max_examples=25, deadline=None)
@given(drawn, bases)
def test_rows_chosen_at_once_can_be_built_too(pieces: list[PilePiece], base: Base) -> None:
    refused = {id(one) for one, _ in refused_by(pieces, base)}
    fitting = [one for one in pieces if id(one) not in refused]
    if fitting:
        assert faults(pile_of_rows(fitting, base), fitting) == ()


def test_rows_chosen_at_once_fill_what_layers_leave_open() -> None:
    # by hand: the widest first makes layers of 0.5 + 0.5 and 0.4 + 0.4 + 0.3 m; 0.5 + 0.4 + 0.3 fills 1.2 m twice
    low = replace(BASE, height_m=0.102)  # two layers of 28.6 mm, each on a sticker of 22 mm
    pieces = [piece(f"p{i}", 3.0, width) for i, width in enumerate((0.5, 0.5, 0.4, 0.4, 0.3, 0.3))]
    assert len(laid_by_layers(pieces, low).pieces) == 5
    assert len(pile(pieces, low).pieces) == 6 and faults(pile(pieces, low), pieces) == ()


def test_short_pieces_are_matched_end_to_end() -> None:
    # by hand: 1.9 + 1.1 and 1.6 + 1.4 m both fit in 3.1 m; alike in width each pair saves a row, four rows become two
    pieces = [piece(name, length, 0.6) for name, length in (("a", 1.9), ("b", 1.6), ("c", 1.4), ("d", 1.1))]
    assert len(pile_of_rows(pieces, replace(BASE, height_m=0.051)).pieces) == 4


def test_equal_boards_fill_a_pile_by_counting() -> None:
    # 1.2 m take six boards of 200 mm; layers are 28.6 + 22 mm, the first on a sticker: floor(1.0 / 0.0506) = 19
    laid = pile([piece(f"b{i:03}", 3.0) for i in range(130)], BASE)
    assert [len(layer.laid) for layer in laid.layers] == [6] * 19 and len(laid.left) == 130 - 114
    assert laid.height_m == pytest.approx(19 * 0.0506)


def test_short_pieces_lie_end_to_end_and_no_end_hangs_in_the_air() -> None:
    laid = pile([piece("a", 1.5), piece("b", 1.4)], BASE)
    (layer,) = laid.layers
    assert {one.y_m for one in layer.laid} == {0.0} and all(len(one.on) >= 2 for one in layer.laid)


def test_an_odd_length_is_given_a_bearer_or_left_out_with_what_to_do() -> None:
    wide_apart = Base(3.1, 1.2, 1.0, bearers(3.1, 1.5), overhang_m=0.1)
    laid = pile([piece("odd", 2.3)], wide_apart)
    ((left, why),) = laid.left
    assert left.name == "odd" and "add a bearer" in why
    more = replace(wide_apart, bearers_m=tuple(sorted({*wide_apart.bearers_m, 2.25})))
    assert pile([piece("odd", 2.3)], more).left == ()


def test_what_found_no_place_is_laid_first_the_next_time() -> None:
    # longest first would put the narrow board on the wide one, and nothing then bears the second one
    pieces = [piece("long", 3.0, 1.1), piece("narrow", 1.8, 0.2), piece("short", 1.2, 1.1)]
    laid = pile(pieces, BASE)
    assert [one.name for one in laid.pieces] == ["long", "short", "narrow"] and faults(laid, pieces) == ()


@pytest.mark.parametrize("sizes", [(3.2, 0.2, 0.03), (1.0, 1.3, 0.03), (1.0, 0.2, 1.2)])
def test_what_is_too_large_stays_out_and_says_why(sizes: tuple[float, float, float]) -> None:
    ((left, why),) = pile([piece("big", *sizes)], BASE).left
    assert left.name == "big" and why


def test_thicknesses_in_a_layer_differ_by_no_more_than_stated() -> None:
    pieces = [piece("a", 3.0, thickness=0.030), piece("b", 3.0, thickness=0.0275), piece("c", 3.0, thickness=0.026)]
    assert [len(layer.laid) for layer in pile(pieces, BASE).layers] == [2, 1]
    assert [len(layer.laid) for layer in pile(pieces, replace(BASE, within_m=0.005)).layers] == [3]


def test_bearers_are_even_and_no_farther_apart_than_asked() -> None:
    at = bearers(3.1, 0.41)
    assert at[0] == pytest.approx(0.05) and at[-1] == pytest.approx(3.05) and len(at) == 9
    assert max(b - a for a, b in itertools.pairwise(at)) <= 0.41
    with pytest.raises(NoPile):
        bearers(0.05, 0.4)


def broken(laid: Pile, **changes: object) -> Pile:
    """The pile with its first piece of the top layer changed."""
    *below, top = laid.layers
    return replace(laid, layers=(*below, Layer((replace(top.laid[0], **changes), *top.laid[1:]), top.z_m)))  # type: ignore[arg-type]


def test_the_checker_finds_what_is_broken() -> None:
    pieces = [piece(f"b{i}", 3.0) for i in range(8)]
    laid = pile(pieces, BASE)
    assert "hangs over" in faults(broken(laid, on=laid.layers[-1].laid[0].on[3:5]), pieces)[0]
    assert "out of the room" in faults(broken(laid, x_m=0.5), pieces)[0]
    assert "over no bearer" in faults(broken(laid, on=(0, 8, 40)), pieces)[0]
    assert "lie in each other" in " ".join(faults(broken(laid, y_m=0.15), pieces))
    assert "not those" in faults(laid, pieces[1:])[0]
    high = replace(laid, layers=(*laid.layers[:-1], replace(laid.layers[-1], z_m=2.0)))
    assert {"Layer 2 does not lie on its stickers."} < set(faults(high, pieces))
    mixed = Laid(piece("thick", 3.0, thickness=0.06), laid.layers[0].laid[0].x_m, 0.0, laid.layers[0].laid[0].on)
    assert any(
        "differ" in fault for fault in faults(replace(laid, layers=(Layer((mixed, laid.layers[0].laid[1]), 0.022),)), pieces)
    )


def test_a_short_layer_below_bears_nothing_beyond_its_ends() -> None:
    short, long = piece("short", 1.2, 1.2, 0.08), piece("long", 3.0, 1.2)
    laid = pile([short, long], BASE)
    assert [one.piece.name for layer in laid.layers for one in layer.laid] == ["long", "short"]
    upside_down = Pile(BASE, (replace(laid.layers[1], z_m=0.022), replace(laid.layers[0], z_m=0.124)), ())
    assert any("no wood below" in fault for fault in faults(upside_down, [short, long]))


@settings(max_examples=60, deadline=None)
@given(drawn, st.floats(0.0, 140.0))
def test_bearers_take_all_the_weight(pieces: list[PilePiece], top: float) -> None:
    laid = pile(pieces, BASE)
    if not laid.layers:
        return
    weight = pile_weight(laid, top)
    for end in ("low", "likely", "high"):
        wood = sum(getattr(one.mass_kg, end) for one in laid.pieces)
        assert sum(getattr(one, end) for one in weight.by_bearer_kg) == pytest.approx(wood + weight.top_kg)
    assert weight.total_kg.high <= weight.under_bearer_kg_m2.high * BASE.bearer_m * 1.2 * len(BASE.bearers_m) + 1e-6


def test_a_board_over_three_bearers_hangs_by_its_nearest_lengths() -> None:
    laid = pile([piece("b", 2.0, kg=20.0)], Base(2.0, 0.3, 1.0, (0.0, 1.0, 2.0)))
    assert [one.likely for one in pile_weight(laid).by_bearer_kg] == pytest.approx([5.0, 10.0, 5.0])


def test_heavy_weight_on_top_is_asked_about_first() -> None:
    laid = pile([piece(f"b{i}", 3.0) for i in range(12)], BASE)
    assert pytest.approx(146.5, abs=0.05) == HEAVY_KG_M2  # 30 lb/ft2
    assert pile_weight(laid, 140.0).top_kg == pytest.approx(140.0 * 6 * 3.0 * 0.2)
    with pytest.raises(NotAsked, match="bearers and the ground"):
        pile_weight(laid, HEAVY_KG_M2)
    told = pile_weight(laid, HEAVY_KG_M2, Bears(1000.0, 20_000.0))
    assert 50.0 < max(one.high for one in told.by_bearer_kg) < 1000.0 and 400.0 < told.under_bearer_kg_m2.high < 20_000.0


def test_pull_outs_lie_free_at_a_side_and_not_in_the_outer_layers() -> None:
    laid = pile([piece(f"b{i:02}", 3.0) for i in range(60)], BASE)
    found = pull_outs(laid, 4)
    assert len({one.name for one in found}) == 4 and {one.side for one in found} == {Side.FRONT, Side.BACK}
    for out in found:
        layer = laid.layers[out.layer - 1]
        one = next(one for one in layer.laid if one.piece.name == out.name)
        beside = [other.y_m for other in layer.laid]
        assert 1 < out.layer < len(laid.layers) and one.y_m == (min(beside) if out.side is Side.FRONT else max(beside))
        assert out.cut_out == laid.layers[out.layer].stickers
    assert len({out.layer for out in found}) == 4
    assert pull_outs(pile([piece("only", 3.0)], BASE), 3)[0].name == "only"
