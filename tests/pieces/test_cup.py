"""Cup against a 2-D linear elastic solution by scikit-fem, written out separately; and its limits."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
import skfem
from hypothesis import given
from hypothesis import strategies as st
from skfem.helpers import sym_grad
from tests.pieces.elastic import Stiffness, dried_warp

from waney.pieces.cup import cup_m, cup_of_part_m, pith_distance_m
from waney.pieces.piece import Piece
from waney.pieces.shrinking import Shrinking
from waney.pieces.windows import Window

Maker = Callable[..., Piece]
OAK = Shrinking(0.04, 0.086, 0.08)
WALNUT = Stiffness()


def solved_by_scikit_fem(width: float, thickness: float, pith: tuple[float, float], wood: Shrinking, stiff: Stiffness) -> float:
    """Hollow of the mid-surface towards +z: quadratic triangles, Hooke's law and shrinkage written in ring components."""
    mesh = skfem.MeshTri.init_tensor(
        np.linspace(-width / 2, width / 2, 2 * round(4 * width / thickness) + 1), np.linspace(-thickness / 2, thickness / 2, 9)
    )
    basis = skfem.Basis(mesh, skfem.ElementVector(skfem.ElementTriP2()), intorder=5)
    transverse = stiff.poisson_rt * stiff.tangential  # nu_TR
    common = 1.0 / (1.0 - stiff.poisson_rt * transverse)

    def in_rings(strain: np.ndarray, x: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        y, z = x[0] - pith[0], x[1] - pith[1]
        rho = np.hypot(y, z)
        r, t = np.stack([y, z]) / rho, np.stack([-z, y]) / rho
        return tuple(np.einsum("a...,ab...,b...->...", p, strain, q) for p, q in ((r, r), (t, t), (r, t)))  # type: ignore[return-value]

    def stress(radial: np.ndarray, tangential: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        return common * (radial + transverse * tangential), common * (transverse * radial + stiff.tangential * tangential)

    @skfem.BilinearForm
    def stored(u, v, w):  # type: ignore[no-untyped-def]
        radial, tangential, shear = in_rings(sym_grad(u), w.x)
        over_r, over_t, over_rt = in_rings(sym_grad(v), w.x)
        s_r, s_t = stress(radial, tangential)
        return s_r * over_r + s_t * over_t + 4.0 * stiff.shear * shear * over_rt

    @skfem.LinearForm
    def shrunk(v, w):  # type: ignore[no-untyped-def]
        over_r, over_t, _ = in_rings(sym_grad(v), w.x)
        s_r, s_t = stress(-wood.radial * wood.dryness, -wood.tangential * wood.dryness)
        return s_r * over_r + s_t * over_t

    def at(y: float) -> tuple[int, int]:
        place = np.argmin(np.hypot(basis.doflocs[0] - y, basis.doflocs[1]))
        both = np.flatnonzero(np.hypot(*(basis.doflocs - basis.doflocs[:, [place]])) < 1e-12)
        return int(both[0]), int(both[1])

    level = sorted({round(float(y), 12) for y, z in basis.doflocs.T if abs(z) < 1e-12})
    middle, neighbour = at(0.0), at(min(y for y in level if y > 1e-9))
    held = np.array([*middle, neighbour[1]])
    moved = skfem.solve(*skfem.condense(skfem.asm(stored, basis), skfem.asm(shrunk, basis), D=held))
    lift = np.array([moved[at(y)[1]] for y in level])
    across = np.array([y + moved[at(y)[0]] for y in level])
    below = np.interp(across, across[[0, -1]], lift[[0, -1]]) - lift
    return float(below[np.argmax(np.abs(below))])


BOARDS = [
    (0.25, 0.052, 0.06),  # 8/4 live-edge slab, 10 in wide, near the pith
    (0.30, 0.028, 0.15),  # 4/4 board, 12 in wide, from mid-radius
    (0.15, 0.030, 0.035),  # 6 in board next to the pith
]


@pytest.mark.parametrize(("width", "thickness", "distance"), BOARDS)
def test_closed_form_is_the_elastic_solution_on_three_boards(width: float, thickness: float, distance: float) -> None:
    """The issue asks for 10 %. The closed form is exact for round rings, so only the mesh's own error is allowed here: 0.1 %."""
    elastic = solved_by_scikit_fem(width, thickness, (0.0, -distance), OAK, WALNUT)
    assert cup_m(OAK, width / 2, distance) == pytest.approx(elastic, rel=1e-3)
    assert dried_warp(width, thickness, (0.0, -distance), OAK).hollow_mid_m == pytest.approx(elastic, rel=1e-3)


@pytest.mark.parametrize("pith", [(0.01, -0.01), (-0.04, 0.006), (0.003, -0.02)])
def test_own_section_agrees_with_scikit_fem_when_the_pith_is_inside(pith: tuple[float, float]) -> None:
    """At the pith the strain has no limit, so both converge slowly there: 1 % between two meshes."""
    elastic = solved_by_scikit_fem(0.3, 0.05, pith, OAK, WALNUT)
    assert dried_warp(0.3, 0.05, pith, OAK).hollow_mid_m == pytest.approx(elastic, rel=1e-2)


def test_a_pith_in_the_very_middle_does_not_cup_but_thins_the_edges() -> None:
    """Both faces bulge alike: the edges shrink tangentially in thickness, the middle radially."""
    warp = dried_warp(0.3, 0.05, (0.0, 0.0), OAK)
    assert warp.hollow_mid_m == pytest.approx(0.0, abs=1e-9)
    assert warp.hollow_b_m == pytest.approx(-warp.hollow_a_m)
    assert warp.hollow_a_m < 0


def test_stiffness_hardly_moves_the_answer() -> None:
    """From equal stiffness in all directions to half as stiff along the rings: within 5 % for a pith inside the board."""
    cups = [dried_warp(0.3, 0.05, (0.01, -0.01), OAK, s).hollow_mid_m for s in (WALNUT, Stiffness(1.0, 0.385, 0.3))]
    assert cups[0] == pytest.approx(cups[1], rel=0.05)


@given(st.floats(0.01, 0.3), st.floats(0.01, 0.5), st.floats(0.0, 0.12))
def test_no_cup_without_a_difference_of_shrinkage(half_width: float, distance: float, shrinkage: float) -> None:
    assert cup_m(Shrinking(shrinkage, shrinkage, 0.0), half_width, distance) == 0.0


@given(st.floats(0.01, 0.3), st.floats(0.01, 0.5))
def test_cup_falls_with_distance_from_the_pith_and_rises_with_width(half_width: float, distance: float) -> None:
    assert 0 < cup_m(OAK, half_width, distance * 1.1) < cup_m(OAK, half_width, distance) < cup_m(OAK, half_width * 1.1, distance)
    # far away it tends to (S_T - S_R)·f·x²/d, so to nothing
    assert cup_m(OAK, half_width, 1000.0) == pytest.approx(0.046 * OAK.dryness * half_width**2 / 1000.0, rel=1e-3)


def test_the_quick_rule_errs_on_the_safe_side_with_the_pith_inside(round_log_slice: Maker) -> None:
    """`worth` takes the distance as half the thickness at least; the elastic section then never cups more (2 % for its mesh)."""
    for z in (0.0, 0.01, 0.02, 0.024):
        piece = round_log_slice(z, 0.05)
        distance = pith_distance_m(piece, Window(0, 32))
        assert distance == pytest.approx(0.025)
        assert abs(dried_warp(0.3, 0.05, (0.0, -z), OAK).hollow_mid_m) <= cup_m(OAK, 0.15, distance) * 1.02


def test_no_cup_is_claimed_for_a_piece_without_a_known_pith() -> None:
    half = np.full((3, 3), 0.1)
    bought = Piece("bought", "", 0.03, np.array([-1.0, 0.0, 1.0]), -half, half, np.zeros((0, 3, 2)))
    assert pith_distance_m(bought, Window(0, 2)) is None and cup_of_part_m(bought, Window(0, 2), 0.1, OAK) == 0.0
