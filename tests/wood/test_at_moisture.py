"""A wood at one moisture."""

from __future__ import annotations

import pytest

from waney.figures.scenarios import Scenarios
from waney.units.force import POUND_FORCE
from waney.units.pressure import MILLION_PSI
from waney.wood.at_moisture import at_moisture, sawn_green
from waney.wood.species import species

SCENARIOS = Scenarios(seed=1)


@pytest.mark.parametrize(
    ("name", "gravity"),
    # Wood Handbook FPL-GTR-282 Table 5-3b, specific gravity on the volume at 12 % moisture
    [("black walnut", 0.55), ("white oak", 0.68), ("sugar maple", 0.63), ("black cherry", 0.50), ("northern red oak", 0.63)],
)
def test_density_at_twelve_per_cent_agrees_with_the_printed_gravity(name: str, gravity: float) -> None:
    found = at_moisture(species(name), 0.12, SCENARIOS).density_kg_m3
    # printed to 0.01, and both gravities are rounded means of their own samples: 4 %
    assert found is not None and found.likely == pytest.approx(1120.0 * gravity, rel=0.04)
    assert found.low < found.likely < found.high


def test_what_was_sawn_green_gets_lighter_as_it_dries_and_does_not_shrink_before_thirty_per_cent() -> None:
    oak = species("white oak")
    green, wet, dry = sawn_green(oak, SCENARIOS), at_moisture(oak, 0.30, SCENARIOS), at_moisture(oak, 0.08, SCENARIOS)
    assert green is not None and wet.sawn_m3_kg is not None and dry.sawn_m3_kg is not None
    assert green.likely > wet.sawn_m3_kg.likely > dry.sawn_m3_kg.likely
    assert wet.shrunk_tangential is not None and wet.shrunk_tangential.high == 0.0
    assert dry.shrunk_tangential is not None and dry.shrunk_radial is not None
    assert dry.shrunk_tangential.likely > dry.shrunk_radial.likely > 0.0


def test_what_no_table_gives_stays_open() -> None:
    # the FIA table has no moisture for this wood
    assert sawn_green(species("Acacia melanoxylon"), SCENARIOS) is None


def test_pounds_force_and_psi() -> None:
    # NIST SP 811: 1 lbf = 4.448222 N, 1 psi = 6894.757 Pa, printed to seven figures
    assert float(POUND_FORCE.si) == pytest.approx(4.448222, abs=5e-7)
    assert float(MILLION_PSI.si) == pytest.approx(6894.757e6, rel=1e-7)
