"""Movement of a wood with its range, the handbook's coefficient beside it."""

from __future__ import annotations

from math import pi

import pytest

from waney.figures.scenarios import Scenarios
from waney.figures.tables import table
from waney.wood.movement import movement
from waney.wood.species import NoFigure, Species, species

FLATSAWN, QUARTERSAWN = pi / 2, 0.0


def test_the_white_fir_board_of_the_handbook_moves_1_7_mm() -> None:
    """C1, FPL-GTR-190 ch. 13, read: 232 mm flatsawn from 8 to 11 %."""
    change = movement(species("white fir"), 0.232, FLATSAWN, 0.08, 0.11, Scenarios(1)).change_m
    assert change.likely == pytest.approx(0.0017, abs=0.00005)
    assert change.low < change.likely < change.high


def test_the_coefficient_stands_beside_within_2_pct() -> None:
    """Table 13-5, read, for woods whose shrinkage was read too and whose coefficient is not that of a group.

    2 % of the law itself (design section 4), and half of a last printed digit, 0.05 % shrinkage in as little as 2.2 %.
    """
    grouped = {"ash_green", "birch_sweet", "elm_cedar", "oak_northern_red", "oak_white"}
    rows = [r for r in table("species") if r["change_seen"] and r["shrink_seen"] == "seen" and r["species_id"] not in grouped]
    for row in rows:
        found = movement(species(row["species_id"]), 0.3, FLATSAWN, 0.06, 0.10, Scenarios(1, 16))
        assert found.by_coefficient_m == pytest.approx(found.change_m.likely, rel=0.025)
    assert len(rows) > 30


def test_no_coefficient_is_shown_where_none_holds() -> None:
    assert movement(species("white oak"), 0.3, FLATSAWN, 0.05, 0.10, Scenarios(1, 16)).by_coefficient_m is None
    assert movement(species("pear"), 0.3, FLATSAWN, 0.07, 0.10, Scenarios(1, 16)).by_coefficient_m is None


def test_a_quartersawn_width_moves_less_than_a_flatsawn_one() -> None:
    for name in ("white oak", "black walnut", "American beech"):
        quarter, flat = (movement(species(name), 0.3, a, 0.06, 0.10, Scenarios(1, 64)) for a in (QUARTERSAWN, FLATSAWN))
        assert quarter.change_m.likely < flat.change_m.likely


def test_a_half_known_wood_gets_a_wider_answer_not_an_error() -> None:
    """Red mulberry: no shrinkage in any table, so the spread of other hardwoods at its weight."""
    known, guessed = (movement(species(n), 0.3, FLATSAWN, 0.06, 0.10, Scenarios(1)) for n in ("black walnut", "red mulberry"))
    assert guessed.change_m.width / guessed.change_m.likely > 1.5 * known.change_m.width / known.change_m.likely
    assert "other woods" in str(guessed.change_m.basis)


def test_a_wood_of_which_nothing_is_known_is_asked_for() -> None:
    bare = Species("x", "x wood", "Xus xus", (), species("white oak").group, {})
    with pytest.raises(NoFigure, match="measure it"):
        movement(bare, 0.3, FLATSAWN, 0.06, 0.10, Scenarios(1))
