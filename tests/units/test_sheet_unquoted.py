"""The commonest slip of whoever types a first sheet: feet and inches, fractions and words without their quotes."""

from __future__ import annotations

import tomllib

import pytest

from waney.units.sheet import SheetProblems, called, open_sheet


@pytest.mark.parametrize(
    ("line", "value"),
    [
        ("length = 9' 2\"", "9' 2\""),
        ("length = 14 ft   # taped", "14 ft"),
        ("kerf = 3/32", "3/32"),
        ("diameter = 17 1/2", "17 1/2"),
        ("species = white oak", "white oak"),
    ],
)
def test_what_to_write_is_said_and_can_be_read(line: str, value: str) -> None:
    with pytest.raises(SheetProblems) as found:
        open_sheet(f'format = "waney-log/1"\n{line}\n', "waney-log/1")
    said = str(found.value)
    assert said.startswith("line 2: ") and "\n" not in said
    better = said.rpartition("; write ")[2].removesuffix(".")
    assert list(tomllib.loads(better).values()) == [value]


def test_other_slips_are_not_answered_with_quotes() -> None:
    for line in ("felled = 2024-13-45", 'name = "open', "length == 4"):
        with pytest.raises(SheetProblems) as found:
            open_sheet(f'format = "waney-log/1"\n{line}\n', "waney-log/1")
        assert "stand in quotes" not in str(found.value)


def test_every_line_names_the_sheet_it_is_about() -> None:
    with pytest.raises(SheetProblems, match=r"^mill sheet, line 1: "), called("mill sheet"):
        open_sheet("kerf = 3/32", "waney-mill/1")
