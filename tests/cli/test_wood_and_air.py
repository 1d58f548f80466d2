"""waney wood and waney emc: what is known, and what has no value."""

from __future__ import annotations

from pathlib import Path

import pytest

from waney.cli.answers import Figures
from waney.cli.wood_answer import FIGURE_OF
from waney.wood.traits import Trait

from .calling import asked, run


def test_every_trait_of_a_wood_has_its_field() -> None:
    assert list(FIGURE_OF) == list(Trait)
    assert set(FIGURE_OF.values()) == set(Figures.__annotations__)


@pytest.mark.parametrize("name", ["black walnut", "Walnut, black", "Juglans nigra", "walnut_black", "American black walnut"])
def test_a_wood_is_found_by_all_its_names(name: str) -> None:
    assert asked("wood", name)["id"] == "walnut_black"


def test_a_wood_says_what_has_no_value_and_both_views_agree() -> None:
    inches, metric = run("wood", "pear")[1], run("wood", "pear", "--units", "mm")[1]
    assert inches.count("no value") == metric.count("no value") == 7
    # Wood Handbook FPL-GTR-282 Table 5-3b: black walnut 7,500 N and 11.6 GPa at 12 %; printed as 1,010 lbf and 1.68 million psi
    walnut, metric = run("wood", "black walnut")[1], run("wood", "black walnut", "--units", "mm")[1]
    for said, figures in ((walnut, ("1010 lbf", "1.68 million psi")), (metric, ("4493 N", "11.58 GPa"))):
        assert all(figure in said for figure in figures), said


def test_emc_is_the_handbook_s() -> None:
    # Wood Handbook Table 4-2: 12.0 % at 70 °F and 65 % relative humidity, and 7.9 % at 42 % between 7.7 (40 %) and 8.5 (45 %)
    assert run("emc", "70 F", "65")[1].startswith("12 % in still air of 70 °F and 65 % humidity")
    assert run("emc", "70 F", "65 %", "--units", "mm")[1].startswith("12 % in still air of 21 °C")
    assert "beyond the printed table" in run("emc", "-5 C", "80")[1]


def test_emc_answers_the_other_way_round_and_from_a_wet_bulb() -> None:
    (dry,) = asked("emc", "70 F", "--mc", "8 %")["airs"]  # type: ignore[misc]
    assert dry["emc"] == pytest.approx(0.08, abs=1e-12)
    (bulbs,) = asked("emc", "70 F", "--wet-bulb", "62 F")["airs"]  # type: ignore[misc]
    # psychrometric tables give 64 % for 70 and 62 °F at sea level (from memory)
    assert bulbs["humidity"] == pytest.approx(0.64, abs=0.01)


def test_a_place_has_twelve_months_and_says_how_they_were_averaged() -> None:
    code, said, _ = run("emc", "--state", "co", "--place", "denver")
    assert code == 0 and "from the month's mean temperature and humidity" in said and "Mean of the year" in said
    year = asked("emc", "--state", "CO", "--place", "Denver", "--indoors", "68 F, 70 F, 76 F, 70 F")["airs"]
    (october,) = asked("emc", "--state", "CO", "--place", "Denver", "--month", "oct")["airs"]  # type: ignore[misc]
    assert isinstance(year, list) and [air["month"] for air in year] == list(range(1, 13))
    assert october == year[9] | {"indoors": None}
    assert year[0]["indoors"]["temperature_c"] == pytest.approx(20.0)
    assert year[6]["indoors"]["temperature_c"] == pytest.approx((76 - 32) / 1.8)


def test_a_dehumidifier_that_is_typed_in_takes_its_doubt_away() -> None:
    words = ("emc", "--state", "FL", "--place", "Miami", "--indoors", "76 F")
    free, held = asked(*words)["airs"], asked(*words, "--highest-humidity", "45")["airs"]
    assert isinstance(free, list) and isinstance(held, list)
    for loose, dry in zip(free, held, strict=True):
        assert dry["indoors"]["humidity"]["high"] == 0.45 <= loose["indoors"]["humidity"]["high"]


def test_own_rows_stand_in_for_a_place_and_hours_are_averaged_by_the_hour(tmp_path: Path) -> None:
    rows = tmp_path / "hollow.csv"
    rows.write_text("month,temperature_f,humidity_pct\n" + "".join(f"{m},70,65\n" for m in range(1, 13)), encoding="utf-8")
    year = asked("emc", "--rows", str(rows))
    assert year["place"] == "your own weather (hollow.csv)" and [round(air["emc"], 3) for air in year["airs"]] == [0.120] * 12  # type: ignore[attr-defined]
    hours = "".join(f"{m},70,{50 + 30 * (h % 2)}\n" for m in range(1, 13) for h in range(700))
    rows.write_text("month,temperature_f,humidity_pct\n" + hours, encoding="utf-8")
    assert asked("emc", "--rows", str(rows))["averaging"] == "mean of the hours"
