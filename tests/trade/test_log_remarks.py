"""What whoever brought a log is told of it as it was measured."""

from __future__ import annotations

import pytest

from waney.logs.sheet import log_sheet
from waney.trade.log_remarks import NO_TOP, OVER_BARK, log_remarks

HEAD = 'format = "waney-log/1"\nunits = "in"\nspecies = "white oak"\nlength = "10 ft"\n'
BUTT, TOP = '[butt]\ndiameter = 21\nover = "{}"\n', '[top]\ndiameter = 18\nover = "{}"\n'


@pytest.mark.parametrize(
    ("sheet", "told"),
    [
        (BUTT.format("wood") + TOP.format("wood"), ()),
        (BUTT.format("wood"), (NO_TOP,)),
        (TOP.format("wood"), ()),
        (BUTT.format("bark") + TOP.format("wood"), (OVER_BARK,)),
        ("[bark]\nthickness = 1\n" + BUTT.format("bark") + TOP.format("bark"), ()),
    ],
)
def test_what_nobody_measured_is_said(sheet: str, told: tuple[str, ...]) -> None:
    assert log_remarks(log_sheet(HEAD + sheet)) == told


def test_what_is_known_in_a_log_is_said_once_and_that_the_rules_take_nothing_off_for_it() -> None:
    metal, rot = "[[metal]]\ndistance = {}\nclock = 3\n", "[[rot]]\ndistance = 20\nsure = false\n"
    sheet = HEAD + TOP.format("wood") + metal.format(10) + metal.format(40) + rot
    assert log_remarks(log_sheet(sheet)) == ("known in it: metal, rot (suspected); the rules count it as if it were sound",)


def test_ends_swapped_are_said_too() -> None:
    odd = HEAD + BUTT.format("wood") + TOP.format("wood").replace("18", "24")
    assert [remark.startswith("The log reads thicker") for remark in log_remarks(log_sheet(odd))] == [True]
