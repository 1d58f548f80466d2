"""Pages of methods that are written by a run of the model say what the model says today."""

from __future__ import annotations

import pytest
from tests.scripts import TOOLS, load

from waney.drying.sides import fitted

METHODS = TOOLS.parent / "docs" / "methods"


@pytest.mark.parametrize(
    "name", ["vacuum_page", "heat_page", "stress_page", pytest.param("answers_page", marks=pytest.mark.long)]
)
def test_the_page_is_what_the_model_says(name: str) -> None:
    writer = load(TOOLS / f"{name}.py")
    assert writer.PAGE.read_text("utf-8") == writer.page(), f"run: python tools/{name}.py"


def test_the_errors_of_edges_and_ends_are_told_of_the_numbers_that_stand() -> None:
    # tools/fit_sides.py prints them and takes minutes: whoever fits anew writes them, with the numbers, into the page
    told = (METHODS / "drying.md").read_text("utf-8")
    edge, film, deeper, reach = (fitted()[name] for name in ("edge", "film", "deeper", "reach"))
    for said in (
        f"edge {edge:g}, film {film:g} m, deeper {deeper:g}, reach {reach:g}",
        f"(1 - {edge:g} t/w)",
        f"1 + {deeper:g} exp(-w / {reach:g} t)",
    ):
        assert said in told, f"fitted anew: write what tools/fit_sides.py prints into docs/methods/drying.md, and {said}"


def test_the_thickest_that_is_done_is_done_and_one_step_more_is_not() -> None:
    writer = load(TOOLS / "vacuum_page.py")
    plates, kappa = writer.Plates(70.0, 7000.0), writer.PERMEABLE.likely
    found = writer.thickest(70.0, 7000.0, kappa, writer.WET, writer.TO_WET)
    assert writer.THINNEST_M < found < writer.THICKEST_M
    at, more = (writer.days(thick, writer.WET, writer.TO_WET, plates, kappa, 9.0) for thick in (found, found + writer.STEP_M))
    assert at <= writer.IN_DAYS < more


def test_a_rest_between_two_passes_in_vacuum_evens_the_wood_out_and_hardly_changes_its_mean() -> None:
    writer = load(TOOLS / "vacuum_page.py")
    plates = writer.Plates(60.0, 7000.0, 0.0, writer.SHORT_W)
    first, rest, second = writer.passes(0.075, plates, writer.PERMEABLE.likely, 10.0, 7.0, 5.0)
    apart = [course.end.moistures[-1] - course.end.mean for course in (first, rest)]
    assert apart[1] < 0.9 * apart[0] and abs(rest.end.mean - first.end.mean) < 0.01
    assert rest.end.temperature_c == pytest.approx(20.0, abs=1.0)
    assert second.end.mean < rest.end.mean - 0.05 and second.days[-1] == pytest.approx(5.0)
