"""Sheet text: something is added, and everything else stays as it was written."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from waney.logs.measured import Hidden
from waney.logs.sheet import log_sheet
from waney.logs.sheet_text import CannotAdd, with_entries, with_entry, with_fields, with_table, without_table

EXAMPLES = Path(__file__).parents[2] / "docs" / "examples"
LOGS = sorted(EXAMPLES.glob("log-*.toml"))
NAIL = ('distance = "300 mm"', "clock = 3", 'depth = "20 mm"')
OUTLINE = (
    "up = 12",
    "points = [[0, 0], [40, 0], [80, 0], [80, 40], [80, 80], [40, 80], [0, 80], [0, 40]]",
    'scale = { from = [0, 0], to = [80, 0], length = "400 mm" }',
)


@pytest.mark.parametrize("file", LOGS, ids=lambda file: file.stem)
def test_a_nail_is_added_to_every_example_and_nothing_else_changes(file: Path) -> None:
    before = file.read_text("utf-8")
    after = with_entry(before, "metal", NAIL)
    assert after.startswith(before.rstrip("\n"))
    was, now = log_sheet(before).log, log_sheet(after).log
    (nail,) = [one for one in now.hidden if one not in was.hidden]
    assert (nail.kind, nail.clock_h, nail.depth_m) == (Hidden.METAL, 3.0, pytest.approx(0.02))
    assert nail.middle_m == pytest.approx(0.3)
    assert (now.rounds, now.piths, now.flats, now.bends) == (was.rounds, was.piths, was.flats, was.bends)


def test_a_traced_end_takes_the_place_of_the_former_one() -> None:
    before = (EXAMPLES / "log-traced.toml").read_text("utf-8")
    after = with_table(before, ("butt", "outline"), OUTLINE)
    assert after.count("[butt.outline]") == 1
    assert "# The butt end traced on a photograph" in after
    was, now = tomllib.loads(before), tomllib.loads(after)
    assert now.pop("butt") == {"outline": tomllib.loads("\n".join(OUTLINE))}
    was.pop("butt")
    assert now == was
    (butt,) = [one for one in log_sheet(after).log.rounds if one.at_m == 0.0]
    # a square of 0.4 m
    assert max(x for x, _ in butt.trace_m) - min(x for x, _ in butt.trace_m) == pytest.approx(0.4)


def test_a_traced_end_stands_beside_what_was_read_with_a_rule() -> None:
    before = (EXAMPLES / "log-taped.toml").read_text("utf-8")
    told = tomllib.loads(with_table(before, ("top", "outline"), OUTLINE))
    assert told["top"].pop("outline")
    assert told == tomllib.loads(before)


@pytest.mark.parametrize("metal", ["metal = [{ distance = 3, clock = 3 }]", "[metal]\ndistance = 3", "metal = 3"])
def test_a_sheet_that_says_it_on_one_line_is_left_to_the_hand(metal: str) -> None:
    with pytest.raises(CannotAdd, match="by hand"):
        with_entry(f'format = "waney-log/1"\n{metal}\n', "metal", NAIL)


def test_what_only_looks_like_a_table_is_not_cut_out() -> None:
    before = 'notes = """\n[butt.outline]\nnot a table"""\n'
    with pytest.raises(CannotAdd):
        with_table(before, ("butt", "outline"), OUTLINE)


@given(st.text(max_size=80))
def test_any_text_is_added_to_or_refused_never_changed(text: str) -> None:
    try:
        after = with_entry(text, "metal", NAIL)
    except CannotAdd:
        return
    told = tomllib.loads(after)
    assert told.pop("metal")[-1]["clock"] == 3
    assert told == {key: value for key, value in tomllib.loads(text).items() if key != "metal"}


PIECE = """# remarks of the sheet
units = "in"
width = "8"  # of the middle

# over the first mark
[[mark]]
kind = "knot"
# inside
at = 3
[[mark]]
kind = "hole"

# over the heights
[heights]
at = [1, 2]
"""


def test_all_entries_of_a_list_are_exchanged_and_remarks_over_other_tables_stay() -> None:
    after = with_entries(PIECE, "mark", [['kind = "crack"']])
    assert tomllib.loads(after) == {**tomllib.loads(PIECE), "mark": [{"kind": "crack"}]}
    assert "# over the heights\n[heights]" in after and "# inside" not in after
    assert "mark" not in tomllib.loads(with_entries(PIECE, "mark", []))


def test_a_table_of_the_sheet_itself_is_exchanged_or_taken_out() -> None:
    assert tomllib.loads(with_table(PIECE, ("heights",), ["at = [5]"]))["heights"] == {"at": [5]}
    assert tomllib.loads(without_table(PIECE, "heights")).keys() == {"units", "width", "mark"}


def test_fields_are_written_above_the_tables_in_the_place_of_former_ones() -> None:
    after = with_fields(PIECE, {"width": '"9"', "length": '"8 ft"', "mc": ""})
    assert tomllib.loads(after) == {**tomllib.loads(PIECE), "width": "9", "length": "8 ft"}
    assert after.index("length =") < after.index("# over the first mark")
    assert with_fields(after, {"length": ""}).count("length") == 0


def test_fields_that_stand_on_one_line_with_others_are_left_to_the_hand() -> None:
    with pytest.raises(CannotAdd, match="by hand"):
        with_fields('width = """\n8"""\n', {"width": '"9"'})
