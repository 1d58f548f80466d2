"""Standing trees against felled ones whose volume was measured."""

from __future__ import annotations

import csv
from collections import defaultdict
from collections.abc import Iterable
from pathlib import Path

import numpy as np
import pytest

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.scenarios import Scenarios
from waney.figures.tables import table
from waney.logs.standing import (
    ANY_FORM,
    BadTree,
    MeasuredTree,
    StandingTree,
    form_of_species,
    form_of_trees,
    tree_read,
    tree_volume,
)
from waney.wood.species import species

INCH_M, FOOT_M = 0.0254, 0.3048
READ = Basis(Ground.READING, "test")
CHERRIES = tuple(
    MeasuredTree(float(row["dbh_in"]) * INCH_M, float(row["height_ft"]) * FOOT_M, float(row["volume_ft3"]) * FOOT_M**3)
    for row in table("black_cherry")
)


def exactly(tree: MeasuredTree) -> StandingTree:
    return StandingTree(Estimate.known(tree.diameter_m, READ), Estimate.known(tree.height_m, READ), "cherry_black")


def test_the_cherries_are_the_published_ones() -> None:
    # Ryan, Joiner and Ryan 1976: 31 trees; mean form factor 0.385, deviation 0.030; 935.3 cubic feet together
    forms = [tree.form for tree in CHERRIES]
    assert (len(forms), round(float(np.mean(forms)), 3), round(float(np.std(forms, ddof=1)), 3)) == (31, 0.385, 0.030)
    assert sum(tree.volume_m3 for tree in CHERRIES) / FOOT_M**3 == pytest.approx(935.3, abs=0.05)


def test_each_cherry_is_foretold_by_the_other_thirty() -> None:
    inside, total = 0, 0.0
    for tree in CHERRIES:
        form = form_of_trees([other for other in CHERRIES if other is not tree], READ)
        volume = tree_volume(exactly(tree), form, Scenarios(1))
        inside += volume.low <= tree.volume_m3 <= volume.high
        total += volume.likely
    # a 90 % range of 31 trees holds 27.9 on average, 26 to 30 in 9 of 10 such draws
    assert 26 <= inside <= 30
    assert total / FOOT_M**3 == pytest.approx(935.3, rel=0.05)


def test_reading_errors_widen_the_range() -> None:
    form = form_of_species("cherry_black")
    exact = tree_volume(exactly(CHERRIES[10]), form, Scenarios(1))
    read = tree_volume(tree_read(CHERRIES[10].diameter_m, CHERRIES[10].height_m, "cherry_black"), form, Scenarios(1))
    assert read.likely == pytest.approx(exact.likely)
    assert read.width > exact.width


def test_another_species_has_a_wider_range_and_says_that_it_has_no_source() -> None:
    cherry, other = form_of_species(species("black cherry").id), form_of_species(species("white oak").id)
    assert cherry.basis.key == "black-cherry-1976"
    assert other.basis.ground is Ground.DEFAULT
    assert other.low < cherry.low < cherry.high < other.high


def forms_of(rows: Iterable[dict[str, str]], name: str, diameter: float, length: float, stump: str = "") -> list[float]:
    """Form factors from sections inside bark, ends joined by Smalian, the tip a point."""
    trees: dict[str, list[dict[str, str]]] = defaultdict(list)
    for row in rows:
        trees[row["tree"]].append(row)
    found = []
    for tree in trees.values():
        z = np.array([float(r[name]) + (float(r[stump]) if stump else 0.0) for r in tree]) * length
        over, inside, height = ("dbh_ob_in", "dib_in", "total_ht_ft") if stump else ("dbh_ob_cm", "dib_cm", "total_height_m")
        d = np.append([float(r[inside]) * diameter for r in tree], 0.0)
        top = float(tree[0][height]) * length
        volume = np.trapezoid(np.pi / 4 * d**2, np.append(z, max(top, z[-1])))
        found.append(float(volume / (np.pi / 4 * (float(tree[0][over]) * diameter) ** 2 * top)))
    return found


def test_the_form_of_any_species_holds_nine_of_ten_measured_trees() -> None:
    rows = [dict(row) for row in table("eucalyptus_cloeziana_sections")]
    forms = [*(tree.form for tree in CHERRIES), *forms_of(rows, "height_m", 0.01, 1.0)]
    assert len(forms) == 41
    assert np.mean([ANY_FORM[1] <= form <= ANY_FORM[2] for form in forms]) >= 0.9


@pytest.mark.outside
def test_the_form_of_any_species_holds_the_sweetgums(shared: Path) -> None:
    with (shared / "datasets/trees/sweetgum_tx_sections.csv").open(encoding="utf-8") as file:
        forms = forms_of(csv.DictReader(file), "height_above_stump_ft", INCH_M, FOOT_M, "stump_ht_ft")
    assert len(forms) == 20
    assert np.mean([ANY_FORM[1] <= form <= ANY_FORM[2] for form in forms]) >= 0.9


def test_a_bush_is_refused() -> None:
    with pytest.raises(BadTree, match=r"1\.37 m"):
        tree_read(0.05, 1.2)
