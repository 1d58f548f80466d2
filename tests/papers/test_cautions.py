"""The caution table is whole: every step of the design has a short sentence, and says where it comes from."""

from __future__ import annotations

import pytest

from waney.figures.tables import table
from waney.papers.cautions import NO_SOURCE, NoCaution, cautions

STEPS = (
    *("fetching", "chain saw", "unknown wood", "first cut", "metal", "turning", "edging", "pinched blade", "band break"),
    *("heavy piece", "at the blade", "stack", "straps", "oven", "kiln", "vacuum", "flattening", "resin", "sale", "class"),
    *("hand over", "metal in the log"),
)
"""The dangers that design section 8 lists, in the order of the work."""


@pytest.mark.parametrize("step", STEPS)
def test_every_dangerous_step_of_the_design_has_a_caution(step: str) -> None:
    assert cautions(step)


def test_every_sentence_is_short_enough_to_be_read_with_a_log_moving() -> None:
    # two lines of the card's caution type
    assert max(len(row["sentence"]) for row in table("cautions")) <= 110


def test_every_caution_names_a_source_that_is_listed_or_says_it_has_none() -> None:
    listed = {row["key"] for row in table("sources")} | {NO_SOURCE}
    assert {row["source"] for row in table("cautions")} <= listed


def test_no_sentence_shouts() -> None:
    assert not [row for row in table("cautions") if "!" in row["sentence"]]


def test_a_step_without_a_row_is_refused() -> None:
    with pytest.raises(NoCaution):
        cautions("juggling")
